import { headroomFigure } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { expect, test } from "vitest";
import { everySeverity } from "./chart-data.ts";
import { textBoxes } from "./text-boxes.ts";

test("a limit that left no room from the beginning stands past all others, not where room is left", () => {
  const { document } = new JSDOM().window;
  const data = everySeverity();
  const air = {
    subject: "lead of the hut",
    quantity: "copper",
    severity: "beyond",
    close: false,
    headroom: null,
    found: "80 °C",
    rating: "70 °C",
  } as const;
  const svg = headroomFigure({ ...data, limits: [...data.limits, air] }, { document });
  const [one, none] = ["1", "◂ none"].map((text) => textBoxes(svg).find((box) => box.text === text));
  expect(none?.right).toBeLessThan(one?.left ?? 0);
  expect(textBoxes(svg).map(({ text }) => text)).not.toContain("nothing found");
  const bold = [...svg.querySelectorAll(".headroom > text[font-weight=bold]")].map((text) => text.textContent);
  expect(bold.indexOf("lead of the hut")).toBeLessThan(bold.indexOf("relay radio"));
});
