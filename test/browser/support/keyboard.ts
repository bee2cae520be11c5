import type { Page } from "playwright-core";

/** Where the keyboard stands, and how one sees it. */
export interface Stop {
  readonly name: string;
  /** What is wrong with it; empty for a stop that is seen. */
  readonly problems: readonly string[];
}

/**
 * Presses Tab so many times from the page's head and looks at each stop; `backwards` Shift+Tab, from where the keyboard stands.
 */
export async function tabThrough(page: Page, count: number, backwards = false): Promise<readonly Stop[]> {
  if (!backwards)
    await page.evaluate(() => {
      scrollTo(0, 0);
      (document.activeElement as HTMLElement | null)?.blur();
    });
  const stops: Stop[] = [];
  for (let i = 0; i < count; i++) {
    await page.keyboard.press(backwards ? "Shift+Tab" : "Tab");
    const stop = await page.evaluate(() => {
      const element = document.activeElement;
      if (element === null || element === document.body) return null;
      const words = element.getAttribute("aria-label") ?? (element as HTMLElement).innerText ?? "";
      const label = (element as HTMLInputElement).labels?.[0]?.innerText ?? "";
      const name = `${element.tagName.toLowerCase()} “${(words || label).replace(/\s+/g, " ").slice(0, 40)}”`;
      const problems: string[] = [];
      if ((words || label) === "" && element.getAttribute("aria-labelledby") === null) problems.push("has no name");
      // Hidden fields show their focus on what stands for them, a text that scrolls on what it scrolls in.
      const shows = ["label", ".control-file", ".cm-editor"].map((each) => element.closest(each));
      const shown = [element, ...shows].filter((each) => each !== null);
      const outlined = shown.some((each) => {
        const { outlineStyle, outlineWidth } = getComputedStyle(each);
        return outlineStyle !== "none" && Number.parseFloat(outlineWidth) >= 2;
      });
      if (!outlined) problems.push("has no outline");
      const seen = shown.at(-1)!.getBoundingClientRect();
      const [x, y] = [seen.left + seen.width / 2, seen.top + Math.min(seen.height, innerHeight) / 2];
      if (y < 0 || y > innerHeight || x < 0 || x > innerWidth) problems.push("stands outside the window");
      else {
        const top = document.elementFromPoint(x, y);
        const own = top !== null && shown.some((each) => each.contains(top) || top.contains(each));
        if (!own) problems.push(`is covered by ${top?.tagName.toLowerCase()}.${top?.className}`);
      }
      return { name, problems };
    });
    if (stop === null) break;
    stops.push(stop);
  }
  return stops;
}
