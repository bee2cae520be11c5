import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { drop } from "../browser/support/drop.ts";
import { captureFigures, inHand, problemsOf } from "../browser/support/openers.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("a capture that is refused", () => {
  const desk = openDesk();
  const open = async () => {
    const visit = await desk.visit("capture.html");
    const bench = benchOn(visit.page);
    await bench.settled();
    return { ...visit, ...bench };
  };

  test("corrections are of the file that was refused, and nothing of the one in hand is lost", async () => {
    const { page, button, settled, wrong } = await open();
    const before = await captureFigures(page);
    await drop(page, "one.csv", Array.from({ length: 200 }, (_, k) => (13 + (k % 7) / 10).toFixed(1)).join("\n"));
    await page.getByText("“one.csv” was not read: what is corrected here is said of it.").waitFor();
    const told = await problemsOf(page).innerText();
    expect(told).toContain("how far samples are apart");
    expect(told).not.toContain("--");
    expect(await page.locator(".capture-column").count()).toBe(1);
    await button("Leave it: back to “hiccup-supply-synthetic-semicolon.csv”").click();
    expect(await page.locator(".capture-column").count()).toBe(3);
    expect(await problemsOf(page).getByText("one.csv").count()).toBe(0);
    await drop(page, "one.csv", Array.from({ length: 200 }, (_, k) => (13 + (k % 7) / 10).toFixed(1)).join("\n"));
    await page.getByText("“one.csv” was not read: what is corrected here is said of it.").waitFor();
    await settled();
    expect(await captureFigures(page)).toEqual(before);
    await page.getByLabel("Sample interval").fill("2 ms");
    await page.keyboard.press("Enter");
    await button("Read again with these").click();
    await inHand(page, "one.csv");
    await settled();
    expect((await captureFigures(page))[1]).toMatch(/^column 1\s+13\.6/);
    expect(await page.getByText("was not read").count()).toBe(0);
    expect(wrong()).toEqual([]);
  }, 60_000);

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
