import { readFileSync, writeFileSync } from "node:fs";
import { join } from "node:path";
import { pathToFileURL } from "node:url";
import { benchCard, cardHtml, resetHtml, resetSheet } from "@railfault/sim";
import { handoutHtml, proposeTalk, talkHtml } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import type { Browser } from "playwright-core";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { shipped, workshop } from "../cli/launch.ts";
import { startBrowser, watchedPage, withoutBrowser } from "../support/browser.ts";
import { violations } from "./support/accessible.ts";
import { answered, everyShipped, onOneSideEach, sheets } from "./support/printed.ts";

const { document } = new JSDOM("").window;
const { folder, close } = workshop();

describe.skipIf(withoutBrowser())("talk and sheets in a browser", () => {
  let browser: Browser;
  beforeAll(async () => {
    browser = await startBrowser();
  });
  afterAll(async () => {
    await browser?.close();
    close();
  });

  /** Of the others see test/deep. */
  test(
    "card, reset sheet and handout of every twelfth shipped scenario, and of the one with most warnings, print on one side each",
    () =>
      onOneSideEach(
        browser,
        everyShipped().filter((_, k) => k % 12 === 1 || k === 15),
      ),
    60_000,
  );

  test("a card has room for a pen beside every figure, and the fullest still prints on one side", async () => {
    // All that lengthens a card at once: many sources and loads, a switch that recloses, a value that cannot pass.
    const fullest = `title: Every word that a card can say, on a line with long names
fault at: 1 s
run for: 2 s
sources:
  - name: old station supply
    part: linear supply 20 A
    lead: {length: 1 m, area: 6 mm2}
  - name: big hut battery
    part: AGM battery 100 Ah
    lead: {length: 1 m, area: 6 mm2, fuse: blade fuse 20 A}
  - name: panel on the roof
    part: solar panel 100 W, cold
    lead: {length: 1 m, area: 6 mm2}
main fuse: blade fuse 20 A
series switch: {part: series transistor 30 A, off voltage: 15.4 V, reclose: {on voltage: 13.6 V, retry time: 2 s}}
loads:
  - name: repeater of the valley
    part: repeater 50 W
    lead: {length: 1 m, area: 6 mm2}
  - name: link radio to the hill
    part: 25 W mobile radio
    limits: {minimum: 12.42 V, maximum: 15.18 V}
    lead: {length: 1 m, area: 6 mm2}
`;
    const page = await browser.newPage({ viewport: { width: 703, height: 1000 } });
    await page.emulateMedia({ media: "print" });
    for (const text of [
      fullest,
      ...["10-clamp-only.yaml", "14-crowbar-with-disconnect.yaml"].map((name) => readFileSync(shipped(name), "utf8")),
    ]) {
      const card = benchCard(text, "x.yaml");
      if (card.kind === "refused") throw new Error(card.issues[0].message);
      await page.setContent(cardHtml(card.card));
      const pens = await page
        .locator("td.pen")
        .evaluateAll((cells) =>
          cells.map((cell) => cell.getBoundingClientRect()).map(({ width, height }) => ({ width, height })),
        );
      expect(pens).toHaveLength(12 + card.card.checks.length);
      // 30 mm and 6 mm at 96 points an inch.
      for (const { width, height } of pens) {
        expect(width).toBeGreaterThanOrEqual((30 / 25.4) * 96);
        expect(height).toBeGreaterThanOrEqual((6 / 25.4) * 96);
      }
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(703);
      expect(await sheets(page), card.card.title).toBe(1);
    }
    await page.close();
  }, 60_000);

  test("sheets can be read by everybody, light, dark and on a telephone", async () => {
    const card = benchCard(readFileSync(shipped("14-crowbar-with-disconnect.yaml"), "utf8"), "x.yaml");
    const result = answered("02-hiccup-supply.yaml");
    const pages = [
      card.kind === "card" ? cardHtml(card.card) : "",
      resetHtml(resetSheet(result)),
      handoutHtml(result, { document }),
    ];
    for (const colorScheme of ["light", "dark"] as const) {
      const context = await browser.newContext({ colorScheme, viewport: { width: 390, height: 800 }, bypassCSP: true });
      const page = await context.newPage();
      for (const html of pages) {
        await page.setContent(html);
        expect(await violations(page)).toEqual([]);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(391);
      }
      await context.close();
    }
  }, 60_000);

  test("talk and handout have letters for a telephone, and it shows no more than its width", async () => {
    const result = answered("16-fuse-on-wrong-side.yaml");
    const parts = [{ file: "hut", answered: result }];
    const pages = [talkHtml(parts, proposeTalk(parts), { document }), handoutHtml(result, { document })];
    const context = await browser.newContext({ viewport: { width: 390, height: 844 } });
    const { page, complaints } = await watchedPage(context, "file:");
    for (const [i, html] of pages.entries()) {
      const file = join(folder, `phone-${i}.html`);
      writeFileSync(file, html);
      await page.goto(pathToFileURL(file).href);
      for (let slide = await page.locator(".slide").count(); slide >= 0; slide--) {
        const sizes = await page.evaluate(() =>
          [...document.querySelectorAll<SVGTextElement>("svg text")]
            .filter((text) => text.checkVisibility())
            .map((text) => Number(text.getAttribute("font-size")) * (text.getScreenCTM()?.a ?? 0)),
        );
        expect(Math.min(20, ...sizes)).toBeGreaterThan(11);
        expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(390);
        await page.keyboard.press("ArrowRight");
      }
    }
    expect(complaints).toEqual([]);
    await context.close();
  }, 60_000);

  test("a telephone that is held sideways has letters of the talk to read as well", async () => {
    const parts = [{ file: "station", answered: answered("01-shorted-pass-transistor.yaml") }];
    const file = join(folder, "sideways.html");
    writeFileSync(file, talkHtml(parts, proposeTalk(parts), { document }));
    const context = await browser.newContext({ viewport: { width: 844, height: 390 } });
    const { page, complaints } = await watchedPage(context, "file:");
    await page.goto(pathToFileURL(file).href);
    for (let slide = await page.locator(".slide").count(); slide > 0; slide--) {
      const sizes = await page.evaluate(() =>
        [...document.querySelectorAll<SVGTextElement>("svg text")]
          .filter((text) => text.checkVisibility())
          .map((text) => Number(text.getAttribute("font-size")) * (text.getScreenCTM()?.a ?? 0)),
      );
      expect(Math.min(20, ...sizes)).toBeGreaterThan(12);
      expect(await page.evaluate(() => document.documentElement.scrollWidth)).toBeLessThanOrEqual(844);
      expect(await page.getByRole("button", { name: "On" }).isVisible()).toBe(true);
      await page.keyboard.press("ArrowRight");
    }
    expect(complaints).toEqual([]);
    await context.close();
  }, 60_000);

  test("the talk of the shipped station steps through from one file, without a network", async () => {
    const parts = [{ file: "station", answered: answered("01-shorted-pass-transistor.yaml") }];
    const slides = proposeTalk(parts);
    const file = join(folder, "talk.html");
    writeFileSync(file, talkHtml(parts, slides, { document }));
    const context = await browser.newContext({ offline: true, viewport: { width: 1280, height: 760 } });
    const { page, complaints, foreign } = await watchedPage(context, "file:");
    await page.goto(pathToFileURL(file).href);
    const shown = () => page.locator(".slide:visible").getAttribute("aria-label");
    const count = () => page.locator("output").textContent();
    expect(await shown()).toBe("Shorted pass transistor");
    for (const { headline } of slides.slice(1)) {
      await page.keyboard.press("ArrowRight");
      expect(await shown()).toBe(headline);
    }
    await page.keyboard.press("PageDown");
    expect(await shown()).toBe("Cautions");
    expect(await count()).toBe("Cautions");
    await page.keyboard.press("ArrowRight");
    expect(await shown()).toBe("Cautions");
    await page.keyboard.press("Home");
    expect(await shown()).toBe("Shorted pass transistor");
    await page.getByRole("button", { name: "On" }).click();
    await page.keyboard.press("Enter");
    expect(await shown()).toBe(slides[2].headline);
    await page.goto(`${pathToFileURL(file).href}#4`);
    expect(await shown()).toBe(slides[3].headline);
    expect(await page.evaluate(() => document.documentElement.scrollHeight <= innerHeight)).toBe(true);
    expect(await sheets(page)).toBe(slides.length + 1);
    expect([complaints, foreign]).toEqual([[], []]);
    await context.close();
  }, 60_000);
});
