import { describe, expect, test } from "vitest";
import { openDesk } from "../browser/support/desk.ts";
import { openText } from "../browser/support/openers.ts";
import { textOn } from "../browser/support/text-on.ts";
import { withoutBrowser } from "../support/browser.ts";

const START = "01-shorted-pass-transistor";

describe.skipIf(withoutBrowser())("the file behind it", () => {
  const desk = openDesk();

  test("the cursor stays where one writes, also at the first change of a line that comes with the pages", async () => {
    const { page, behind, lines, settled } = await openText(desk);
    await behind("15.0");
    await page.keyboard.type("2");
    await settled();
    await page.waitForTimeout(600);
    await page.keyboard.type("5");
    await settled();
    expect((await lines()).join("\n")).toContain("trip voltage: 15.025 V");
    await page.keyboard.press("Backspace");
    await settled();
    await page.keyboard.press("Backspace");
    await settled();
    expect((await lines()).join("\n")).toContain("trip voltage: 15.0 V");
  });

  test("opens where its words begin, with the comments above them where there is room", async () => {
    const at = async (height: number, width = 1280) => {
      const { page } = await desk.visit("file.html", { width, height });
      const text = textOn(page);
      await text.field.waitFor();
      await page.waitForTimeout(200);
      return page.locator(".cm-scroller").evaluate((scroller) => {
        const title = [...scroller.querySelectorAll(".cm-line")].find((each) => each.textContent?.startsWith("title:"));
        const [outer, inner] = [scroller.getBoundingClientRect(), title!.getBoundingClientRect()];
        return { scrolled: scroller.scrollTop, seen: inner.top >= outer.top - 1 && inner.bottom < outer.bottom };
      });
    };
    expect(await at(900)).toEqual({ scrolled: 0, seen: true });
    const small = await at(500, 390);
    expect(small.scrolled).toBeGreaterThan(0);
    expect(small.seen).toBe(true);
  });

  test("a first mistake leaves the text and what is said of it at full strength", async () => {
    const { page, behind, problems } = await openText(desk, `#v=1&line=${START}`);
    await behind("15.0 V");
    await page.keyboard.press("Backspace");
    await problems.first().waitFor();
    await page.waitForTimeout(300);
    const strength = (selector: string): Promise<number> =>
      page
        .locator(selector)
        .first()
        .evaluate((element) => {
          let product = 1;
          for (let each: Element | null = element; each !== null; each = each.parentElement)
            product *= Number(getComputedStyle(each).opacity);
          return product;
        });
    for (const part of [".work-bar", ".cm-content", ".file-problems .issues li", ".belongs"])
      expect(await strength(part), part).toBe(1);
    const tone = page.locator(".file-figure > *").first();
    expect(await tone.evaluate((element) => getComputedStyle(element).filter)).toBe("grayscale(1)");
  });
});
