import { describe, expect, test } from "vitest";
import type { HybridSystem } from "../../packages/sim/src/hybrid/types.ts";
import { ExcursionWatch, PeakWatch } from "../../packages/sim/src/hybrid/watch.ts";
import { type SampleRequest, Watcher } from "../../packages/sim/src/hybrid/watcher.ts";
import { type Curve, type Curves, sightOf } from "./curves.ts";

/** A watcher that sees curves, piece after piece of them. */
function watching(curves: Curves, requests: readonly SampleRequest[] = [], record = true) {
  const sight = sightOf(curves);
  const { system } = sight;
  const watcher = new Watcher(system as HybridSystem, requests, record);
  let time = 0;
  return {
    watcher,
    sight,
    /** Lets it see up to each of these local times in turn; `base` is the time of the segment's start. */
    to(ends: readonly number[], base = 0) {
      for (const end of ends) {
        watcher.absorb(sight.piece(time, end), base);
        time = end;
      }
    },
    look(t: number) {
      system.observe(t, []);
      time = t;
    },
    rows: () => [...watcher.recorder.times()],
  };
}

/** A hump of height 1 about `at`. */
const hump =
  (at: number): Curve =>
  (t) =>
    1 - (t - at) ** 2;

describe("what is recorded", () => {
  test("are the middle and the end of each piece, at the run's time", () => {
    const { to, rows, watcher } = watching({ probes: [(t) => 3 * t] });
    to([2, 3], 100);
    expect(rows()).toEqual([101, 102, 102.5, 103]);
    expect([...watcher.recorder.column(0)]).toEqual([3, 6, 7.5, 9]);
    expect(watcher.base).toBe(100);
  });

  test("are peaks inside a piece, in their order in time, where a watch asks for that", () => {
    const { to, rows, watcher } = watching({ probes: [hump(1.6), hump(0.6), hump(1.3)] });
    watcher.peaks.push(new PeakWatch(0, 1, true), new PeakWatch(1, 1, true), new PeakWatch(2, 1, false));
    to([2, 3], 10);
    const [first, second, third, ...others] = rows();
    expect(first).toBeCloseTo(10.6, 4);
    expect([second, others]).toEqual([11, [12, 12.5, 13]]);
    expect(third).toBeCloseTo(11.6, 4);
    expect(watcher.recorder.column(0)[2]).toBeCloseTo(1, 8);
    expect(watcher.recorder.column(1)[0]).toBeCloseTo(1, 8);
  });

  test("are rows between, where straight lines would miss a curve", () => {
    const { to, rows, watcher } = watching({ probes: [(t) => t * t] });
    // A chord over h misses it by h²/4.
    watcher.followed = [{ probe: 0, within: 0.0101 }];
    to([2]);
    expect(rows()).toEqual([0.2, 0.4, 0.6, 0.8, 1, 1.2, 1.4, 1.6, 1.8, 2].map((t) => expect.closeTo(t, 12)));
    expect([...watcher.recorder.column(0)]).toEqual(rows().map((t) => expect.closeTo(t * t, 12)));
  });

  test("is a look at a change only where a row is asked for", () => {
    const { look, rows, watcher } = watching({ probes: [(t) => 3 * t, (t) => t] });
    look(2);
    expect(watcher.touch(7, false)).toEqual([6, 2]);
    expect(rows()).toEqual([]);
    watcher.touch(8, true);
    expect(rows()).toEqual([8]);
    expect(watcher.recorder.column(0)[0]).toBe(6);
    expect(watcher.base).toBe(8);
  });

  test("is nothing where nobody wants a recording, and peaks are found all the same", () => {
    const { to, look, rows, watcher, sight } = watching({ probes: [hump(0.6)], flows: [() => 1] }, [], false);
    const peak = new PeakWatch(0, 1, true);
    watcher.peaks.push(peak);
    look(0);
    watcher.touch(0, true);
    to([2]);
    watcher.extend(2, 5);
    expect(rows()).toEqual([]);
    expect(peak.value).toBeCloseTo(1, 8);
    // Nothing was observed for rows that nobody wants.
    const { observed } = sight.asked;
    to([2.5]);
    expect(sight.asked.observed - observed).toBe(5);
  });
});

describe("a look at a change", () => {
  test("counts for peaks and excursions; for a peak whose time is over it does not", () => {
    const { look, watcher } = watching({ probes: [(t) => 10 + t] });
    const [peak, over] = [new PeakWatch(0), new PeakWatch(0)];
    over.remaining = 0;
    watcher.peaks.push(peak, over);
    const excursion = new ExcursionWatch(0, 11, 1);
    let left = 0;
    excursion.onLeave = () => left++;
    watcher.excursions.push(excursion);
    look(0);
    watcher.touch(3, false);
    expect([peak.value, peak.time, left]).toEqual([10, 3, 0]);
    look(2);
    watcher.touch(4, false);
    expect([peak.value, peak.time, left]).toEqual([12, 4, 1]);
    expect(over.value).toBe(Number.NEGATIVE_INFINITY);
  });
});

describe("every piece", () => {
  test("adds to the integral of each flow, and is shown once it has", () => {
    const { to, watcher } = watching({ flows: [(t) => t, () => 3] });
    const seen: (readonly [number, number, number])[] = [];
    watcher.onPiece = ({ from, to: end }) => seen.push([from, end, watcher.totals[1]]);
    to([1, 4]);
    expect([...watcher.totals]).toEqual([expect.closeTo(8, 12), expect.closeTo(12, 12)]);
    expect(seen).toEqual([
      [0, 1, expect.closeTo(3, 12)],
      [1, 4, expect.closeTo(12, 12)],
    ]);
  });
});

describe("samples", () => {
  const taken = (watcher: Watcher) =>
    watcher.samples.map(({ event, delay, time, probes }) => [event, delay, time, ...probes]);

  test("are taken in the piece that has their instant, its end included, once", () => {
    const { to, watcher } = watching({ probes: [(t) => 7 * t] }, [
      { event: -1, delay: 2 },
      { event: -1, delay: 0.25 },
      { event: -1, delay: 2.5 },
      { event: -1, delay: 50 },
    ]);
    to([1, 2], 30);
    expect(taken(watcher)).toEqual([
      [-1, 0.25, 30.25, 1.75],
      [-1, 2, 32, 14],
    ]);
    to([3, 4], 30);
    expect(taken(watcher).slice(2)).toEqual([[-1, 2.5, 32.5, 17.5]]);
  });

  test("of one piece come in the order of their times, however they were asked for", () => {
    const { to, watcher } = watching(
      { probes: [(t) => 7 * t] },
      [2, 0.5, 3, 1].map((delay) => ({ event: -1, delay })),
    );
    to([4]);
    expect(watcher.samples.map(({ time }) => time)).toEqual([0.5, 1, 2, 3]);
  });

  test("count from the event they name, each event for itself, and once where it is told again", () => {
    const { to, watcher } = watching({ probes: [(t) => t] }, [
      { event: 1, delay: 0.5 },
      { event: 0, delay: 1.5 },
      { event: 0, delay: 0.5 },
      { event: 2, delay: 0 },
    ]);
    to([1]);
    watcher.eventLogged(0);
    to([2]);
    watcher.eventLogged(1);
    watcher.eventLogged(1);
    to([3, 5]);
    expect(taken(watcher)).toEqual([
      [0, 0.5, 1.5, 1.5],
      [0, 1.5, 2.5, 2.5],
      [1, 0.5, 2.5, 2.5],
    ]);
  });

  test("of an instant that a rounding has put behind the end of its piece are those of its end", () => {
    const { watcher, sight } = watching({ probes: [(t) => t] }, [{ event: -1, delay: 0.1 + 0.2 }]);
    for (const [from, to] of [
      [5, 5.1],
      [5.1, 5.3],
    ] as const)
      watcher.absorb(sight.piece(from, to), 0);
    for (const { time } of watcher.samples) expect(time).toBeLessThanOrEqual(5.3);
    watcher.absorb(sight.piece(5.3, 6), 0);
    expect(watcher.samples).toHaveLength(1);
    expect(watcher.samples[0].time).toBeCloseTo(5.3, 12);
  });
});

describe("at rest, everything goes on as it is", () => {
  const still = (requests: readonly SampleRequest[] = []) => {
    const all = watching({ probes: [() => 5, () => 1], flows: [() => 1000, () => 4] }, requests);
    all.to([2]);
    return all;
  };

  test("integrals grow at the last rate", () => {
    const { watcher } = still();
    watcher.extend(2, 10);
    expect([...watcher.totals]).toEqual([expect.closeTo(12_000, 8), expect.closeTo(48, 12)]);
  });

  test("windows are told what they come to: those that end before the run's end no more than up to there, and all once", () => {
    const { watcher } = still();
    const told: number[] = [];
    watcher.window(1, 3, (integral) => told.push(integral));
    watcher.window(1, 4, (integral) => told.push(integral), 1.5, 60);
    watcher.window(1, 30, (integral) => told.push(integral));
    watcher.extend(2, 10);
    expect(told).toEqual([12, 60 + 10, 40].map((sum) => expect.closeTo(sum, 10)));
    watcher.finish();
    watcher.absorb(watching({ probes: [() => 5, () => 1], flows: [() => 1, () => 1] }).sight.piece(12, 99), 0);
    expect(told).toHaveLength(3);
  });

  test("excursions last on, from the local time at which it came to rest", () => {
    const { watcher } = still();
    const [above, below] = [new ExcursionWatch(0, 3, 1), new ExcursionWatch(1, 3, 1)];
    watcher.excursions.push(above, below);
    const stretches: (readonly [number, number])[] = [];
    above.onStay = (from, to) => stretches.push([from, to]);
    watcher.touch(100, false);
    watcher.extend(104, 10);
    expect([above.total, above.longest, above.area]).toEqual([10, 10, 20]);
    expect(stretches).toEqual([[4, 14]]);
    expect(below.total).toBe(0);
  });

  test("samples up to its end are taken, those beyond are not, and a row stands at its end", () => {
    const { watcher, rows } = still([
      { event: -1, delay: 7 },
      { event: -1, delay: 12 },
      { event: -1, delay: 12.5 },
    ]);
    watcher.extend(2, 10);
    expect(watcher.samples).toEqual([
      { event: -1, delay: 7, time: 7, probes: [5, 1] },
      { event: -1, delay: 12, time: 12, probes: [5, 1] },
    ]);
    expect(rows().at(-1)).toBe(12);
    expect([...watcher.recorder.column(0)].at(-1)).toBe(5);
  });
});
