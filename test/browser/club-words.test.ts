import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";

/** In the list numbers keep to their units by a no-break space. */
const headlines = async (page: Page): Promise<string[]> =>
  (await page.locator(".club-slides li > .quiet").allInnerTexts()).map((text) => text.replaceAll("\u00a0", " "));
const title = (page: Page): Promise<string | null> =>
  page.getByRole("figure", { name: "Slide" }).locator("svg > title").first().textContent();

describe.skipIf(withoutBrowser())("words of one's own for the club", () => {
  const desk = openDesk();

  test("what a slide cannot say stays with its slide, over other slides, another line and a reload", async () => {
    const visit = await desk.visit("club.html");
    const { page, wrong } = visit;
    const { button, settled } = benchOn(page);
    await settled();
    const before = await headlines(page);
    const field = page.getByRole("textbox", { name: "Headline" });
    const long = "too long ".repeat(20).trim();
    const told = page.getByText(/^This has 179 characters; allowed are 120\./);
    await field.fill(long);
    // A finger leaves the keyboard in the field.
    await button("On →").evaluate((press: HTMLButtonElement) => press.click());
    await settled();
    expect(await field.inputValue()).toBe(before[1]);
    expect(await told.count()).toBe(0);
    expect(await headlines(page)).toEqual(before);
    expect(await page.getByText("Says the proposed words: yours cannot be used.").count()).toBe(1);
    await button(/choose another line$/).click();
    const dialog = page.getByRole("dialog", { name: "Choose a line" });
    await dialog
      .getByRole("button", { name: /^Foldback supply/ })
      .first()
      .click();
    await dialog.waitFor({ state: "detached" });
    await settled();
    await button("← Back").click();
    await settled();
    expect(await field.inputValue()).toBe(long);
    expect(await told.count()).toBe(1);
    expect(await title(page)).toBe(before[0]);
    await page.reload();
    await settled();
    expect(await field.inputValue()).toBe(long);
    await field.fill("Ours");
    await page.keyboard.press("Enter");
    await settled();
    expect(await title(page)).toBe("Ours");
    expect(await told.count()).toBe(0);
    expect(wrong()).toEqual([]);
  }, 90_000);
});
