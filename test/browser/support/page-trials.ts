import { describe, expect, test } from "vitest";
import { readNotebooks } from "../../../packages/notebooks/build/notebook.ts";
import { pagesFolder } from "../../../packages/notebooks/build/paths.ts";
import { withoutBrowser } from "../../support/browser.ts";
import { contrastOf } from "./contrast.ts";
import { expectFit, expectReadable, expectStill, expectStopsSeen, openedOnce } from "./looks.ts";
import { settled } from "./settled.ts";

/** The names of every second page: two files look at all of them, side by side. */
export const everySecondPage = (from: 0 | 1): readonly string[] =>
  readNotebooks(pagesFolder)
    .map(({ name }) => `${name}.html`)
    .filter((_, k) => k % 2 === from);

/** What every page has to stand, on a telephone and, the same page grown wide, at a desk; more of it in test/deep. */
export function pageTrials(names: readonly string[]): void {
  describe.skipIf(withoutBrowser()).each(names)("%s", trials);
}

function trials(name: string): void {
  const visit = openedOnce(name, { width: 390, height: 844 });

  test("opens without a complaint, asks nobody else, and nothing jumps", async () => {
    expect(visit().wrong()).toEqual([]);
    await expectStill(visit());
  });

  test("fits a window of 390 px: nothing sideways, nothing covered, nothing cut off", () => expectFit(visit()));

  test("shows where the keyboard is, at 390 px", () => expectStopsSeen(visit()));

  // From here on: each opening takes longer than all that is looked at.
  test("fits a window of 1024 px: nothing sideways, nothing covered, nothing cut off", async () => {
    const { page } = visit();
    await page.setViewportSize({ width: 1024, height: 900 });
    await page.evaluate(() => {
      (document.activeElement as HTMLElement | null)?.blur();
      scrollTo(0, 0);
    });
    await settled(page);
    await expectFit(visit());
  });

  test("has one heading, its landmarks and its language", async () => {
    const { page } = visit();
    expect(await page.locator("html").getAttribute("lang")).toBe("en");
    expect(await page.getByRole("heading", { level: 1 }).count()).toBe(1);
    for (const role of ["banner", "main", "contentinfo"] as const)
      expect(await page.getByRole(role).count(), role).toBe(1);
    expect(await page.getByRole("navigation", { name: "Pages" }).count()).toBe(1);
    expect(await page.locator("nav [aria-current=page]").count()).toBe(1);
    const levels = await page.evaluate(() =>
      [...document.querySelectorAll("h1, h2, h3, h4")]
        .filter((each) => each.checkVisibility())
        .map((each) => Number(each.tagName[1])),
    );
    const leaps = levels.filter((level, i) => i > 0 && level > levels[i - 1] + 1);
    expect(leaps, `levels of headings: ${levels.join(" ")}`).toEqual([]);
  });

  test("is readable and usable for everybody, light", () => expectReadable(visit()), 60_000);

  test("is readable, dark", async () => {
    await visit().page.emulateMedia({ colorScheme: "dark" });
    await settled(visit().page);
    // Names, roles and order are those of the light page.
    const { measured, least, poor } = await contrastOf(visit().page, 4.5);
    expect(measured).toBeGreaterThan(10);
    expect(poor, `contrast below 4.5; the least is ${least.toFixed(2)}`).toEqual([]);
    await visit().page.emulateMedia({ colorScheme: "light" });
  }, 60_000);
}
