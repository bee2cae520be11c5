import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { drop } from "./support/drop.ts";

const figures = async (page: Page) => {
  const rows = await page.getByRole("region", { name: "Figures of the capture" }).getByRole("row").allInnerTexts();
  return rows.map((row) => row.replaceAll("\u00a0", " "));
};
const inHand = (page: Page, file: string) => page.getByText(`In hand: ${file}`, { exact: true }).waitFor();
const problemsOf = (page: Page) => page.locator(".capture-problems");

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
    expect((await figures(page))[1]).toMatch(/^U\s+13\.85/);
    expect(wrong()).toEqual([]);
  }, 60_000);
});
