import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk } from "./support/desk.ts";
import { tabThrough } from "./support/keyboard.ts";

describe.skipIf(withoutBrowser())("what opens over a page", () => {
  const desk = openDesk();

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

  test("the list of lines takes nothing away that the keyboard may stand on, while it fills or when another tab saves", async () => {
    const { page, wrong } = await desk.visit("regulator-fails.html");
    await page.getByRole("button", { name: "Save", exact: true }).click();
    const saving = page.getByRole("dialog", { name: "Save this line" });
    await saving.getByLabel("Name").fill("Cellar");
    await saving.getByRole("button", { name: "Save" }).click();
    await saving.waitFor({ state: "detached" });

    // Before anything else can happen in the page: what is kept is still being read.
    const atFirst = await page.getByRole("button", { name: /choose another line$/ }).evaluate((element) => {
      (element as HTMLElement).click();
      return [...document.querySelectorAll("dialog button, dialog input, dialog ul")]
        .filter((each) => each.checkVisibility())
        .map((each) => each.textContent);
    });
    expect(atFirst.length).toBeGreaterThan(3);
    const dialog = page.getByRole("dialog", { name: "Choose a line" });
    const rename = dialog.getByRole("button", { name: "Rename: Cellar" });
    await rename.waitFor();
    const then = await dialog.evaluate((element) =>
      [...element.querySelectorAll("button, input, ul")]
        .filter((each) => each.checkVisibility())
        .map((each) => each.textContent),
    );
    expect(atFirst.filter((each) => !then.includes(each))).toEqual([]);
    expect(atFirst).not.toContain("Export all your lines");

    await rename.focus();
    await rename.evaluate((element) => {
      const list = element.closest("ul")!;
      const filled = new Promise<void>((resolve) => {
        new MutationObserver(() => resolve()).observe(list, { childList: true });
      });
      new BroadcastChannel("railfault").postMessage("kept lines changed");
      return filled;
    });
    expect(await rename.evaluate((element) => element === document.activeElement)).toBe(true);
    expect(wrong()).toEqual([]);
  });
});
