import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { readNotebooks } from "../../../packages/notebooks/build/notebook.ts";
import { pagesFolder } from "../../../packages/notebooks/build/paths.ts";
import { withoutBrowser } from "../../support/browser.ts";
import { violations } from "./accessible.ts";
import { contrastOf } from "./contrast.ts";
import { openDesk, type Visit } from "./desk.ts";
import { tabThrough } from "./keyboard.ts";
import { paperProblems } from "./paper.ts";
import { settled } from "./settled.ts";
import { fitOf } from "./text-boxes.ts";

/** The names of every second page: two files look at all of them, side by side. */
export const everySecondPage = (from: 0 | 1): readonly string[] =>
  readNotebooks(pagesFolder)
    .map(({ name }) => `${name}.html`)
    .filter((_, k) => k % 2 === from);

/** Moves of what was painted already, without a person's doing; gathered from the first paint on. */
function watchShifts(): void {
  const shifts = { sum: 0, told: [] as string[] };
  Object.assign(window, { shifts });
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) {
      const { value, hadRecentInput, sources, startTime } = entry as PerformanceEntry & {
        value: number;
        hadRecentInput: boolean;
        sources: { node: Node | null; previousRect: DOMRect; currentRect: DOMRect }[];
      };
      if (hadRecentInput) continue;
      shifts.sum += value;
      const moved = sources.map(({ node, previousRect, currentRect }) => {
        const what = node instanceof Element ? `${node.tagName}.${node.className}` : "text";
        return `${what} from ${previousRect.top} to ${currentRect.top}`;
      });
      shifts.told.push(`${value.toFixed(3)} at ${startTime.toFixed(0)} ms: ${moved.join(", ")}`);
    }
  }).observe({ type: "layout-shift", buffered: true });
}

const movedOf = ({ page }: Visit) =>
  page.evaluate(() => (window as unknown as { shifts: { sum: number; told: string[] } }).shifts);

/**
 * What every page has to stand. Two tabs a page: a desk's and a telephone's. The order is by what the window is set to, so that each page comes to
 * rest as seldom as can be.
 */
export function pageTrials(names: readonly string[]): void {
  describe.skipIf(withoutBrowser()).each(names)("%s", trials);
}

function trials(name: string): void {
  const desk = openDesk({ keep: true });
  let visit: Visit;
  const opened = async (size: { width: number; height?: number }): Promise<Visit> => {
    const made = await desk.visit(name, { ...size, before: watchShifts, settle: false });
    // A page of many runs comes to rest late where other work goes on beside the checks; how fast it is, is looked at elsewhere.
    await settled(made.page, 80_000);
    return made;
  };
  beforeAll(async () => {
    visit = await opened({ width: 1024 });
  }, 100_000);
  // Whatever was done to it meanwhile.
  afterAll(() => {
    expect(visit?.wrong()).toEqual([]);
  });

  async function expectFit({ page }: Visit): Promise<void> {
    const { sideways, overlaps, clipped, boxes } = await fitOf(page);
    expect(boxes).toBeGreaterThan(10);
    expect({ sideways, overlaps, clipped }).toEqual({ sideways: 0, overlaps: [], clipped: [] });
  }

  async function expectReadable({ page }: Visit, rules: readonly string[] | null = null): Promise<void> {
    const { measured, least, poor } = await contrastOf(page, 4.5);
    expect(measured).toBeGreaterThan(10);
    expect(poor, `contrast below 4.5; the least is ${least.toFixed(2)}`).toEqual([]);
    expect(await violations(page, rules)).toEqual([]);
  }

  async function expectStopsSeen({ page }: Visit): Promise<void> {
    const stops = await tabThrough(page, 15);
    expect(stops.length).toBeGreaterThan(5);
    expect(stops.filter(({ problems }) => problems.length > 0)).toEqual([]);
  }

  /** From the first link at the foot, past everything above it. */
  async function expectStopsSeenBackwards({ page }: Visit): Promise<void> {
    await page.locator(".next a").first().focus();
    const stops = await tabThrough(page, 30, true);
    expect(stops.length).toBeGreaterThan(5);
    expect(stops.filter(({ problems }) => problems.length > 0)).toEqual([]);
  }

  const widen = async (width: number): Promise<void> => {
    await visit.page.setViewportSize({ width, height: 900 });
    await settled(visit.page);
  };

  test("opens without a complaint, asks nobody else, and nothing jumps", async () => {
    expect(visit.wrong()).toEqual([]);
    const { sum, told } = await movedOf(visit);
    expect(sum, `moved after the first paint: ${told.join("; ")}`).toBeLessThanOrEqual(0.1);
  });

  test("has one heading, its landmarks and its language", async () => {
    const { page } = visit;
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

  test("fits a window of 1024 px: nothing sideways, nothing covered, nothing cut off", () => expectFit(visit));

  test("is readable and usable for everybody, light", () => expectReadable(visit), 60_000);

  test("is readable and usable for everybody, dark", async () => {
    await visit.page.emulateMedia({ colorScheme: "dark" });
    await settled(visit.page);
    // Names, roles and order are those of the light page.
    await expectReadable(visit, ["color-contrast"]);
    await visit.page.emulateMedia({ colorScheme: "light" });
  }, 60_000);

  test("stands still where motion is not wanted, and stays readable in forced colours", async () => {
    const { page } = visit;
    await page.emulateMedia({ reducedMotion: "reduce", forcedColors: "active" });
    await settled(page);
    const moving = await page.evaluate(() =>
      [...document.querySelectorAll("*")]
        .filter((each) => {
          const { animationDuration, transitionDuration } = getComputedStyle(each);
          return `${animationDuration},${transitionDuration}`.split(",").some((time) => Number.parseFloat(time) > 0.01);
        })
        .map((each) => `${each.tagName}.${each.className}`),
    );
    expect(moving).toEqual([]);
    const { poor } = await contrastOf(page, 3);
    expect(poor).toEqual([]);
    await page.emulateMedia({ reducedMotion: null, forcedColors: null });
  });

  // Before the keyboard has moved the page: what stays in sight lies over what is scrolled below it.
  test("fits a window of 1600 px: nothing sideways, nothing covered, nothing cut off", async () => {
    await widen(1600);
    await expectFit(visit);
  });

  test("shows where the keyboard is, at 1024 px", async () => {
    await widen(1024);
    await expectStopsSeen(visit);
  });

  test("shows where the keyboard is on the way back up, too, at 1280 px", async () => {
    await widen(1280);
    await expectStopsSeenBackwards(visit);
  });

  test("prints: no controls, no picture beyond the sheet, dark ink on white also from a dark screen", async () => {
    await visit.page.emulateMedia({ colorScheme: "dark" });
    await settled(visit.page);
    expect(await paperProblems(visit.page)).toEqual([]);
    const { poor } = await contrastOf(visit.page, 4.5);
    expect(poor).toEqual([]);
    const ground = await visit.page.evaluate(() => getComputedStyle(document.body).backgroundColor);
    expect(["rgb(255, 255, 255)", "rgba(0, 0, 0, 0)"]).toContain(ground);
  });

  describe("on a telephone", () => {
    let phone: Visit;
    beforeAll(async () => {
      phone = await opened({ width: 390, height: 844 });
    }, 100_000);
    afterAll(() => {
      expect(phone?.wrong()).toEqual([]);
    });

    test("does not jump either", async () => {
      const { sum, told } = await movedOf(phone);
      expect(sum, `moved after the first paint: ${told.join("; ")}`).toBeLessThanOrEqual(0.1);
    });

    test("fits a window of 390 px: nothing sideways, nothing covered, nothing cut off", () => expectFit(phone));

    test("shows where the keyboard is, at 390 px", () => expectStopsSeen(phone));

    test("shows where the keyboard is on the way back up, too, at 390 px", () => expectStopsSeenBackwards(phone));
  });
}
