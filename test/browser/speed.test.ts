import type { Page } from "playwright-core";
import { describe, expect, test } from "vitest";
import { kilobytes, limits, measure } from "../../packages/notebooks/build/sizes.ts";
import { withoutBrowser } from "../support/browser.ts";
import { benchOn } from "./support/bench.ts";
import { openDesk } from "./support/desk.ts";
import { slowness, slownessByClock } from "./support/slowness.ts";
import { tasksDuring } from "./support/tasks.ts";

const MOVES = 15;

function report(what: string, found: number, limit: number, factor: number): void {
  const scaled =
    factor > 1
      ? `, scaled by ${factor.toFixed(1)} to ${(limit * factor).toFixed(0)} ms: this machine is slow or busy`
      : "";
  process.stderr.write(`MEASURED  ${what}: ${found.toFixed(0)} ms (limit ${limit} ms${scaled})\n`);
}

/** Moves a slider again and again; gives the median time from the move until verdict and pictures in sight are painted, ms. */
function sliderToPictures(page: Page, label: string, busy: string): Promise<{ median: number; all: number[] }> {
  return page.evaluate(
    async ({ label, busy, moves }) => {
      const named = [...document.querySelectorAll("label")].find((each) => each.textContent === label);
      const slider = document.getElementById(named?.getAttribute("for") ?? "") as HTMLInputElement;
      const painted = () => new Promise<void>((done) => requestAnimationFrame(() => setTimeout(done, 0)));
      const rests = () => new Promise<void>((done) => setTimeout(done, 200));
      const inSight = () =>
        [...document.querySelectorAll(".figure-picture")].filter((place) => {
          const { top, bottom } = place.getBoundingClientRect();
          return place.checkVisibility() && bottom > 0 && top < innerHeight;
        });
      const times: number[] = [];
      for (let i = 0; i < moves; i++) {
        const before = new Map(inSight().map((place) => [place, place.querySelector("svg")]));
        const begin = performance.now();
        slider.value = String(Number(slider.value) + (i % 2 === 0 ? 1 : -1) * (1 + (i % 3)));
        slider.dispatchEvent(new Event("input", { bubbles: true }));
        const done = (): boolean =>
          document.querySelector(`${busy}[aria-busy="true"]`) === null &&
          [...before].every(([place, svg]) => place.querySelector("svg") !== svg);
        while (!done()) {
          if (performance.now() - begin > 10_000) {
            const left = [...before].filter(([place, svg]) => place.querySelector("svg") === svg);
            const names = left.map(([place]) => place.closest("figure")?.getAttribute("aria-label"));
            throw new Error(
              `move ${i + 1} to ${slider.value} has no new picture of ${names.join(", ")} after 10 s; before: ${times.map(Math.round).join(" ")} ms`,
            );
          }
          await new Promise<void>((next) => {
            const channel = new MessageChannel();
            channel.port1.onmessage = () => next();
            channel.port2.postMessage(null);
          });
        }
        await painted();
        times.push(performance.now() - begin);
        slider.dispatchEvent(new Event("change", { bubbles: true }));
        await rests();
      }
      const sorted = [...times].sort((a, b) => a - b);
      return { median: sorted[Math.floor(sorted.length / 2)], all: times };
    },
    { label, busy, moves: MOVES },
  );
}

describe.skipIf(withoutBrowser())("how fast and how large", () => {
  const desk = openDesk({ cold: true });

  test.each(["index.html", "regulator-fails.html"])("%s: the first picture within a second", async (name) => {
    const { page, wrong } = await desk.visit(name, { settle: false });
    const first = await page.evaluate(
      () =>
        new Promise<number>((resolve) => {
          const look = (): void => {
            if (document.querySelector(".figure-picture > svg") === null) requestAnimationFrame(look);
            else requestAnimationFrame(() => resolve(performance.now()));
          };
          look();
        }),
    );
    const factor = await slownessByClock(page);
    report(`${name}: navigation to first picture`, first, 1000, factor);
    expect(first).toBeLessThanOrEqual(1000 * factor);
    expect(wrong()).toEqual([]);
  });

  test.each([
    ["regulator-fails.html", "Trip voltage", ".verdict", 60],
    ["hiccup.html", "Trip point", ".bench .run-card .figure", 150],
  ] as const)(
    "%s: slider to verdict and pictures",
    async (name, label, busy, limit) => {
      const { page, wrong } = await desk.visit(name, { width: 1440, height: 900 });
      await benchOn(page).slider(label).scrollIntoViewIfNeeded();
      const before = await slownessByClock(page);
      const { median, all } = await sliderToPictures(page, label, busy);
      const factor = Math.max(before, await slownessByClock(page));
      report(`${name}: slider to verdict and pictures, median of ${all.length} moves`, median, limit, factor);
      expect(all.length).toBeGreaterThanOrEqual(15);
      expect(median, all.map((each) => each.toFixed(0)).join(" ")).toBeLessThanOrEqual(limit * factor);
      expect(wrong()).toEqual([]);
    },
    60_000,
  );

  test("hiccup.html: no long task while ten seconds of it are run", async () => {
    const { page, wrong } = await desk.visit("hiccup.html");
    const { settled, slider } = benchOn(page);
    const before = await slowness(page);
    const { count, wall, processor } = await tasksDuring(page, async () => {
      await page.getByRole("radio", { name: "ten seconds" }).check();
      await settled();
      await slider("Trip point").focus();
      await page.keyboard.press("ArrowRight");
      await settled();
    });
    // What is measured with must see a long task when there is one.
    const busy = await tasksDuring(page, () =>
      page.evaluate(() => {
        const begin = performance.now();
        while (performance.now() - begin < 150);
      }),
    );
    expect(busy.wall).toBeGreaterThan(140);
    expect(busy.processor).toBeGreaterThan(20);
    const factor = Math.max(before, await slowness(page));
    const what = `hiccup.html: longest of ${count} tasks during ten seconds of hiccup (${wall.toFixed(0)} ms by the clock)`;
    report(what, processor, 100, factor);
    expect(count).toBeGreaterThan(20);
    expect(processor).toBeGreaterThan(1);
    expect(processor).toBeLessThanOrEqual(100 * factor);
    expect(wrong()).toEqual([]);
  }, 60_000);

  test("the site and its first page are within their sizes", () => {
    const sizes = measure(desk.folder);
    process.stderr.write(
      `MEASURED  all pages ${kilobytes(sizes.site)} (limit ${kilobytes(limits.site)}), first page compressed ${kilobytes(sizes.firstPage)} (limit ${kilobytes(limits.firstPage)})\n`,
    );
    expect(sizes.site).toBeLessThanOrEqual(limits.site);
    expect(sizes.firstPage).toBeLessThanOrEqual(limits.firstPage);
  });
});
