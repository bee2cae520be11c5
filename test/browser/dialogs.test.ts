import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk } from "./support/desk.ts";
import { tabThrough } from "./support/keyboard.ts";
import { everythingThatOpens } from "./support/what-opens.ts";

describe.skipIf(withoutBrowser())("what opens over a page", () => {
  const desk = openDesk();

  /** Of a telephone see test/deep. */
  test(
    "is for everybody on a laptop in the dark, one after the other",
    () => everythingThatOpens(desk, 1024, "dark"),
    60_000,
  );

  test("a dialog keeps the keyboard, closes by Escape, and gives the focus back", async () => {
    const { page, wrong } = await desk.visit("regulator-fails.html");
    const name = page.getByRole("button", { name: /choose another line$/ });
    await name.focus();
    await page.keyboard.press("Enter");
    const dialog = page.getByRole("dialog", { name: "Choose a line" });
    await dialog.waitFor();
    const stops = await tabThrough(page, 8);
    expect(stops.filter(({ problems }) => problems.length > 0)).toEqual([]);
    expect(await dialog.evaluate((element) => element.contains(document.activeElement))).toBe(true);
    await page.keyboard.press("Escape");
    await dialog.waitFor({ state: "detached" });
    expect(await name.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(wrong()).toEqual([]);
  });
});
