import { describe, expect, test } from "vitest";
import { Crossings } from "../../packages/sim/src/hybrid/crossings.ts";
import { ASLEEP, Guard } from "../../packages/sim/src/hybrid/parts.ts";
import type { HybridSystem } from "../../packages/sim/src/hybrid/types.ts";
import { type Curve, pieceOf } from "./curves.ts";

interface Watched {
  readonly curve: Curve;
  readonly active?: boolean;
}

/** Follows guards through a step, look by look; where the first root was found, and at which look. */
function watching(guards: readonly Watched[], [from, to]: readonly [number, number] = [0, 1]) {
  const { interval, now, asked } = pieceOf({}, [from, to], true);
  const system = {
    guards: guards.map(({ curve, active = true }) => {
      const guard = new Guard(
        () => curve(now()),
        () => {},
      );
      guard.active = active;
      return guard;
    }),
  } as unknown as HybridSystem;
  const crossings = new Crossings(system, interval);
  const follow = (): { root: number; look: number; asked: number } => {
    interval.look(0);
    crossings.reset();
    for (let look = 1; look < 5; look++) {
      interval.look(look);
      const before = asked.observed;
      const root = crossings.rootUpTo(look);
      if (Number.isFinite(root)) return { root, look, asked: asked.observed - before };
      if (look === 4) return { root, look, asked: asked.observed - before };
    }
    throw new Error("not reached");
  };
  return { follow, asked, system, crossings, interval };
}

const rises = (at: number, slope = 1): Watched => ({ curve: (t) => slope * (t - at) });
/** Touches `top` at a time and falls off on both sides. */
const hump = (at: number, top: number, width = 1): Watched => ({ curve: (t) => top - ((t - at) / width) ** 2 });

/** The right end of a bracket: above zero, and next to the root. */
function expectRoot(found: number, at: number, length = 1): void {
  expect(found - at).toBeGreaterThanOrEqual(-1e-15);
  expect(found - at).toBeLessThan(1.1e-10 * length);
}

describe("a guard that gets above zero", () => {
  test.each([0.05, 0.3, 0.49, 0.6, 0.88, 0.95, 0.999])("is found between two looks: at %f", (at) => {
    const { root } = watching([rises(at)]).follow();
    expectRoot(root, at);
  });

  test("is found to a ten-thousand-millionth of the step, however short that is and wherever it lies", () => {
    for (const [from, length] of [
      [0, 1e-9],
      [5, 1e-3],
      [0, 3600],
    ] as const) {
      const at = from + 0.37 * length;
      const { root } = watching([rises(at, 1 / length)], [from, from + length]).follow();
      expect(Math.abs(root - at)).toBeLessThan(Math.max(1.1e-10 * length, 1e-15 * at));
    }
  });

  test.each([
    ["first", [0.3, 0.4]],
    ["last", [0.4, 0.3]],
    ["in the middle", [0.45, 0.3, 0.4]],
    ["alone of its look", [0.7, 0.3]],
  ])("the earliest of several counts, %s in the list", (_, places) => {
    const { root, look } = watching(places.map((at) => rises(at))).follow();
    expectRoot(root, 0.3);
    expect(look).toBe(2);
  });

  test("at zero it is not met yet", () => {
    const { root } = watching([{ curve: () => 0 }]).follow();
    expect(root).toBe(Number.POSITIVE_INFINITY);
    // It touches zero at a look and no more.
    expect(watching([{ curve: (t) => -Math.abs(t - 0.5) }]).follow().root).toBe(Number.POSITIVE_INFINITY);
  });

  test("is not asked while it sleeps or is not active, and others keep their places", () => {
    const asleep: Watched = { curve: () => ASLEEP };
    expect(watching([{ ...rises(0.2), active: false }]).follow().root).toBe(Number.POSITIVE_INFINITY);
    expect(watching([{ curve: (t) => (t === 0 ? ASLEEP : 1) }]).follow().root).toBe(Number.POSITIVE_INFINITY);
    const { root } = watching([asleep, { ...rises(0.1), active: false }, rises(0.6), rises(0.7)]).follow();
    expectRoot(root, 0.6);
  });
});

describe("a hump that all looks miss", () => {
  test.each([
    ["before the middle look", 0.42, 0.002],
    ["behind it", 0.6, 0.004],
    ["about the first inner one", 0.2, 0.002],
    ["about the last", 0.8, 0.002],
  ])("is found %s", (_, at, top) => {
    expectRoot(watching([hump(at, top)]).follow().root, at - Math.sqrt(top));
  });

  test("that stays below zero is none, nor is one that no look is near to", () => {
    const low = watching([hump(0.42, -0.001)]).follow();
    expect(low.root).toBe(Number.POSITIVE_INFINITY);
    // A parabola through three looks would not get there: nobody looks between them.
    const far = watching([hump(0.5, -0.5)]);
    expect(far.follow()).toMatchObject({ root: Number.POSITIVE_INFINITY, asked: 0 });
    expect(far.asked.observed).toBe(5);
  });

  test.each<[string, Curve]>([
    ["rises", (t) => t - 2],
    ["falls", (t) => -t - 0.01],
    ["is lowest in the middle", (t) => (t - 0.5) ** 2 - 0.3],
    ["is above zero at no look and highest at an end", (t) => -((t - 1) ** 2) - 1e-6],
  ])("is not looked for where a guard only %s", (_, curve) => {
    const seen = watching([{ curve }]);
    expect(seen.follow().root).toBe(Number.POSITIVE_INFINITY);
    expect(seen.asked.observed).toBe(5);
  });

  test("the earlier of two counts, and of a hump and a crossing", () => {
    const early = 0.42 - Math.sqrt(0.002);
    for (const guards of [
      [hump(0.42, 0.002), hump(0.44, 0.002)],
      [hump(0.44, 0.002), hump(0.42, 0.002)],
      [hump(0.42, 0.002), rises(0.7)],
      [rises(0.7), hump(0.42, 0.002)],
    ])
      expectRoot(watching(guards).follow().root, early);
    expectRoot(watching([hump(0.6, 0.002), rises(0.52)]).follow().root, 0.52);
    // Beside one that comes to nothing.
    expectRoot(watching([hump(0.44, -0.001), hump(0.42, 0.002)]).follow().root, early);
  });

  test("is not made of looks of the segment before", () => {
    const curves: Curve[] = [(t) => -1 - t, (t) => -1e-9 - t];
    let step = 0;
    const { follow, asked } = watching([{ curve: (t) => (curves[step] ?? curves[1]!)(t) }]);
    follow();
    step = 1;
    const before = asked.observed;
    expect(follow().root).toBe(Number.POSITIVE_INFINITY);
    expect(asked.observed - before).toBe(5);
  });
});
