import type { Page } from "playwright-core";
import { settled } from "./settled.ts";

/** The width that is left on a sheet of A4, CSS pixels. */
const SHEET = 690;

/** What must not stand on paper, and pictures that do not fit on it. Leaves the page as it is printed. */
export async function paperProblems(page: Page): Promise<readonly string[]> {
  await page.setViewportSize({ width: SHEET, height: 1000 });
  await page.emulateMedia({ media: "print" });
  await page.evaluate(() => dispatchEvent(new Event("beforeprint")));
  await settled(page);
  return page.evaluate(() => {
    const controls = "button, input, select, textarea, nav, [role=slider], [contenteditable=true], .figure-over";
    const shown = [...document.querySelectorAll(controls)].filter((each) => each.checkVisibility());
    const wide = [...document.querySelectorAll("main svg")].filter(
      (each) => each.checkVisibility() && each.getBoundingClientRect().right > innerWidth + 1,
    );
    const name = (each: Element): string =>
      `${each.tagName.toLowerCase()}.${each.getAttribute("class") ?? ""} “${(each.getAttribute("aria-label") ?? each.textContent ?? "").slice(0, 40)}”`;
    return [
      ...shown.map((each) => `a control on paper: ${name(each)}`),
      ...wide.map((each) => `wider than the sheet: ${name(each)} to ${Math.round(each.getBoundingClientRect().right)}`),
      ...(document.documentElement.scrollWidth > innerWidth + 1
        ? [`the page is ${document.documentElement.scrollWidth} px wide, the sheet ${innerWidth}`]
        : []),
    ];
  });
}
