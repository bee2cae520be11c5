import { readFileSync } from "node:fs";
import { compareSchemes } from "@railfault/sim";
import { compareFigure } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { shipped } from "../../cli/launch.ts";

const { document } = new JSDOM("").window;
const file = "28-schemes-side-by-side.yaml";

describe.each([350, 600, 945])("schemes side by side, %i px", (width) => {
  const compared = compareSchemes(readFileSync(shipped(file), "utf8"), file);
  if (compared.kind === "refused") throw new Error("refused");
  const svg = compareFigure("multiples", compared, { document, width });
  const panels = [...(svg?.querySelectorAll("g.panel:has(> svg)") ?? [])];
  const own = (panel: Element) => [...panel.children].filter(({ tagName }) => tagName === "text");

  test("each has its whole name, and how it ended stands where nothing covers it", () => {
    const words = panels.map((panel) => own(panel).map((each) => each.textContent ?? ""));
    expect(words.map(([name]) => name)).toEqual(compared.rows.map(({ name }) => name));
    for (const [k, panel] of panels.entries()) {
      expect(words[k][1]).toMatch(/^(?:safe|safe, hazard|withstood|ENDANGERED), \d/);
      const order = [...panel.children];
      const drawn = order.findIndex(({ tagName }) => tagName === "svg");
      expect(order.indexOf(own(panel)[1])).toBeGreaterThan(drawn);
    }
  });
});
