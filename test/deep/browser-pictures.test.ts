import { describe, expect, test } from "vitest";
import { benchOn } from "../browser/support/bench.ts";
import { openDesk } from "../browser/support/desk.ts";
import { withoutBrowser } from "../support/browser.ts";

describe.skipIf(withoutBrowser())("when the regulator fails: what is looked at closely", () => {
  const desk = openDesk();
  const open = async (hash = "") => {
    const { page, wrong } = await desk.visit(`regulator-fails.html${hash}`, { height: 1200 });
    return { page, wrong, ...benchOn(page) };
  };

  test("further pictures open with their question and follow the line", async () => {
    const { page, slider, settled, wrong } = await open();
    const folds = page.locator("details.more").filter({ hasText: "What goes first, fuse, SCR or wire?" });
    await folds.getByText("What goes first").click();
    await settled();
    const drawn = () => folds.locator("figure svg").first().innerHTML();
    const before = await drawn();
    await slider("Supply's lead, one way").focus();
    for (let i = 0; i < 5; i++) await page.keyboard.press("ArrowRight");
    await settled();
    expect(await drawn()).not.toBe(before);
    expect(wrong()).toEqual([]);
  });
});
