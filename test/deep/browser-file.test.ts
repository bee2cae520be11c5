import { describe, expect, test } from "vitest";
import { shippedLine } from "../../packages/notebooks/src/line/shipped.ts";
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

  test("long and hostile texts hold nothing up, are told as text, and the way back stays open", async () => {
    const { page, paste, problems, belongs, button, lines, settled, wrong } = await openText(desk);
    const good = shippedLine(START).text;
    for (const [hostile, said] of [
      ['"'.repeat(250_000), /more in this file than any scenario has/],
      ["x".repeat(250_000), /a map of keys and values/],
      ["[".repeat(20_000), /nested too deeply/],
      ["# x\n".repeat(100_000), /too large/],
      [`<img src=x onerror=alert(1)>: 1\n${good}`, /There is no key `<img src=x onerror=alert\(1\)>` here/],
    ] as const) {
      await paste(hostile);
      await expect.poll(() => problems.first().innerText(), { timeout: 10_000 }).toMatch(said);
      // The page answers at once.
      const begin = Date.now();
      await page.evaluate(() => new Promise((resolve) => requestAnimationFrame(resolve)));
      expect(Date.now() - begin).toBeLessThan(2000);
    }
    expect(await belongs.innerText()).toMatch(/belong to an earlier text/);
    for (let i = 0; i < 5; i++) await button(/^Undo/).click();
    await settled();
    expect((await lines()).join("\n").trim()).toBe(good.trim());
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("from a pause in typing to verdict and picture", async () => {
    const { page, field, verdict, settled } = await openText(desk);
    const times: number[] = [];
    for (const fuse of ["15", "10", "25", "15", "10", "25", "15"]) {
      const line = field.locator(".cm-line", { hasText: "main fuse:" });
      await line.click();
      await page.keyboard.press("End");
      for (let i = 0; i < 4; i++) await page.keyboard.press("Backspace");
      const drawn = page.evaluate(
        () =>
          new Promise<number>((resolve) => {
            const figure = document.querySelector(".file-figure .figure-picture")!;
            const begin = performance.now();
            const observer = new MutationObserver(() => {
              observer.disconnect();
              resolve(performance.now() - begin);
            });
            observer.observe(figure, { childList: true });
          }),
      );
      await page.keyboard.type(`${fuse} A`, { delay: 0 });
      times.push(await drawn);
      await settled();
    }
    const median = times.sort((a, b) => a - b)[Math.floor(times.length / 2)];
    process.stdout.write(
      `The file: letter to picture ${median.toFixed(0)} ms (median of ${times.length}, 150 ms of it the pause)\n`,
    );
    expect(await verdict()).toMatch(/^Radio safe /);
    expect(median).toBeLessThan(2000);
  });
});
