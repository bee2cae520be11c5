import { afterAll, beforeAll, expect } from "vitest";
import { violations } from "./accessible.ts";
import { contrastOf } from "./contrast.ts";
import { openDesk, type Visit } from "./desk.ts";
import { tabThrough } from "./keyboard.ts";
import { settled } from "./settled.ts";
import { fitOf } from "./text-boxes.ts";

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

/** A page that is opened once, for all tests of a group. */
export function openedOnce(name: string, size: { width: number; height?: number }): () => Visit {
  const desk = openDesk({ keep: true });
  const held: { visit: Visit | null } = { visit: null };
  beforeAll(async () => {
    held.visit = await desk.visit(name, { ...size, before: watchShifts, settle: false });
    // A page of many runs comes to rest late where other work goes on beside the checks; how fast it is, is looked at elsewhere.
    await settled(held.visit.page, 80_000);
  }, 100_000);
  // Whatever was done to it meanwhile.
  afterAll(() => {
    expect(held.visit?.wrong()).toEqual([]);
  });
  return () => {
    if (held.visit === null) throw new Error(`${name} did not open.`);
    return held.visit;
  };
}

export async function expectStill({ page }: Visit): Promise<void> {
  const { sum, told } = await page.evaluate(
    () => (window as unknown as { shifts: { sum: number; told: string[] } }).shifts,
  );
  expect(sum, `moved after the first paint: ${told.join("; ")}`).toBeLessThanOrEqual(0.1);
}

export async function expectFit({ page }: Visit): Promise<void> {
  const { sideways, overlaps, clipped, boxes } = await fitOf(page);
  expect(boxes).toBeGreaterThan(10);
  expect({ sideways, overlaps, clipped }).toEqual({ sideways: 0, overlaps: [], clipped: [] });
}

export async function expectReadable({ page }: Visit): Promise<void> {
  const { measured, least, poor } = await contrastOf(page, 4.5);
  expect(measured).toBeGreaterThan(10);
  expect(poor, `contrast below 4.5; the least is ${least.toFixed(2)}`).toEqual([]);
  expect(await violations(page)).toEqual([]);
}

export async function expectStopsSeen({ page }: Visit): Promise<void> {
  const stops = await tabThrough(page, 15);
  expect(stops.length).toBeGreaterThan(5);
  expect(stops.filter(({ problems }) => problems.length > 0)).toEqual([]);
}

/** From the first link at the foot, past everything above it. */
export async function expectStopsSeenBackwards({ page }: Visit): Promise<void> {
  await page.locator(".next a").first().focus();
  const stops = await tabThrough(page, 30, true);
  expect(stops.length).toBeGreaterThan(5);
  expect(stops.filter(({ problems }) => problems.length > 0)).toEqual([]);
}
