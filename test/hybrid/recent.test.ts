import { describe, expect, it } from "vitest";
import type { Interval } from "../../packages/sim/src/hybrid/interval.ts";
import { RecentMeans } from "../../packages/sim/src/hybrid/recent.ts";
import { swing, toy } from "../support/toy.ts";

/** A piece in which two probes stand still. */
const piece = (length: number, a: number, b = 0): Interval =>
  ({
    moments: () => ({ length, sums: [length * a, length * b], squares: [length * a * a, length * b * b] }),
  }) as Partial<Interval> as Interval;

describe("means over the last stretch", () => {
  it("are those of every probe and of its square", () => {
    const recent = new RecentMeans(3);
    recent.add(piece(1, 2, -1));
    recent.add(piece(2, 5, 1));
    expect(recent.means()).toEqual({
      mean: [expect.closeTo(4, 12), expect.closeTo(1 / 3, 12)],
      square: [expect.closeTo(18, 12), expect.closeTo(1, 12)],
    });
  });

  it("leave out what is older, and take its share of a piece that reaches back beyond", () => {
    const recent = new RecentMeans(2);
    for (const value of [100, 1000, 4, 7]) recent.add(piece(0.8, value));
    // 0.8 of 7, 0.8 of 4 and half of the 0.8 of 1000.
    expect(recent.means()?.mean[0]).toBeCloseTo((0.8 * 7 + 0.8 * 4 + 0.4 * 1000) / 2, 9);
    expect(recent.means()?.square[0]).toBeCloseTo((0.8 * 49 + 0.8 * 16 + 0.4 * 1e6) / 2, 6);
    recent.add(piece(5, 3));
    expect(recent.means()?.mean[0]).toBeCloseTo(3, 12);
    // Exactly as long as the stretch: nothing else is wanted, and nothing is kept twice.
    recent.add(piece(2, 9));
    expect(recent.means()?.mean[0]).toBeCloseTo(9, 12);
  });

  it("of less than a stretch are of what there is; of nothing there are none", () => {
    const recent = new RecentMeans(10);
    expect(recent.means()).toBeNull();
    recent.add(piece(0.5, 6));
    expect(recent.means()?.mean[0]).toBeCloseTo(6, 12);
    recent.forget();
    expect(recent.means()).toBeNull();
    recent.add(piece(0.5, 8));
    expect(recent.means()).toMatchObject({ mean: [expect.closeTo(8, 12), 0], square: [expect.closeTo(64, 12), 0] });
  });

  it("of a wave are its own, from five looks a step", () => {
    const { watcher, run } = toy({ problem: swing(1), start: [0, 3], end: 6, relative: 1e-9, flows: () => [] });
    const recent = new RecentMeans(100);
    watcher.onPiece = (interval) => recent.add(interval);
    run();
    // 3·sin(t) from 0 to 6, and its square.
    expect(recent.means()?.mean[0]).toBeCloseTo((3 * (1 - Math.cos(6))) / 6, 8);
    expect(recent.means()?.square[0]).toBeCloseTo((9 * (3 - Math.sin(12) / 4)) / 6, 7);
  });
});
