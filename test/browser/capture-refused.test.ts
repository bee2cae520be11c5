import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { drop } from "./support/drop.ts";
import { captureFigures, inHand, problemsOf } from "./support/openers.ts";

describe.skipIf(withoutBrowser())("a capture that is refused", () => {
  const desk = openDesk();
  const open = async () => {
    const visit = await desk.visit("capture.html");
    const bench = benchOn(visit.page);
    await bench.settled();
    return { ...visit, ...bench };
  };

  test("a file without a table is given its marks", async () => {
    const { page, button, settled, wrong } = await open();
    const rows = Array.from({ length: 50 }, (_, k) => `"${k}","13,8${10 + k}"`).join("\n");
    await drop(page, "either.csv", `"t","U (mV)"\n${rows}\n`);
    await problemsOf(page)
      .getByText(/"13,810" may be 13810 or 13\.81/)
      .waitFor();
    await page.getByRole("radio", { name: "point" }).check();
    await button("Read again with these").click();
    await inHand(page, "either.csv");
    await settled();
    expect((await captureFigures(page))[1]).toMatch(/^U\s+13\.85/);
    expect(wrong()).toEqual([]);
  }, 60_000);
});
