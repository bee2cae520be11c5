import { describe, expect, test } from "vitest";
import { Course, Ledger } from "../../packages/sim/src/hybrid/course.ts";
import { type Curve, pieceOf } from "./curves.ts";

/** A course of these flows, piece by piece; each piece has curves of its own, over time from the start of the round. */
function courseOf(
  begin: number,
  pieces: readonly (readonly [from: number, to: number, flows: readonly Curve[]])[],
  flows: readonly number[],
): Course {
  const course = new Course(flows);
  for (const [from, to, curves] of pieces) {
    const moved = curves.map(
      (curve): Curve =>
        (t) =>
          curve(t - begin),
    );
    course.add(pieceOf({ flows: moved }, [begin + from, begin + to]).interval);
  }
  return course;
}

/** 1 + 2t + 3t², and what it came to since 0. */
const rate: Curve = (t) => 1 + 2 * t + 3 * t * t;
const sum: Curve = (t) => t + t * t + t ** 3;

describe("the course of a round", () => {
  test("follows a rate that is a parabola exactly, wherever the round begins", () => {
    for (const begin of [0, 10]) {
      const course = courseOf(begin, [[0, 2, [rate]]], [0]);
      for (const share of [0, 0.1, 0.25, 0.5, 0.7, 0.99, 1])
        expect(course.share(0, share)).toBeCloseTo(sum(2 * share) / sum(2), 12);
    }
  });

  test("of several pieces: each with its own rates and length, also where they jump", () => {
    const late: Curve = (t) => 50 - 4 * t;
    const lateSum: Curve = (t) => 50 * t - 2 * t * t;
    const course = courseOf(
      3,
      [
        [0, 2, [rate]],
        [2, 2.5, [late]],
        [2.5, 5, [rate]],
      ],
      [0],
    );
    const upTo = (t: number): number =>
      sum(Math.min(t, 2)) + lateSum(Math.min(Math.max(t, 2), 2.5)) - lateSum(2) + sum(Math.max(t, 2.5)) - sum(2.5);
    for (const t of [0, 0.3, 1.999, 2, 2.001, 2.2, 2.5, 3, 4.999, 5])
      expect(course.share(0, t / 5)).toBeCloseTo(upTo(t) / upTo(5), 12);
  });

  test("tells flows apart, and of one that does not flow that it goes with time", () => {
    const curves: readonly Curve[] = [rate, () => 0, (t) => t];
    const course = courseOf(0, [[0, 4, curves]], [2, 1]);
    expect(course.share(0, 0.5)).toBeCloseTo(0.25, 12);
    expect(course.share(1, 0.3)).toBe(0.3);
    // Nothing has been noted yet.
    expect(new Course([0]).share(0, 0.4)).toBe(0.4);
  });
});

describe("the ledger of rounds", () => {
  const course = (curve: Curve): Course => courseOf(0, [[0, 1, [() => 9, curve, () => 0]]], [1, 2]);
  const ledger = new Ledger([1, 2]);
  ledger.add(
    2,
    [Number.NaN, 10, 0],
    course((t) => t),
  );
  ledger.add(
    3,
    [Number.NaN, 16, 5],
    course(() => 1),
  );

  test("knows the ends of rounds, and between them goes by their course", () => {
    expect(ledger.until(1, 0)).toBe(0);
    expect(ledger.until(1, 1)).toBeCloseTo(2.5, 12);
    expect(ledger.until(1, 2)).toBeCloseTo(10, 12);
    expect(ledger.until(1, 2.5)).toBeCloseTo(13, 12);
    expect(ledger.until(1, 3)).toBeCloseTo(16, 12);
    expect(ledger.until(1, 4)).toBeCloseTo(16, 12);
    // Its course tells nothing of this flow: evenly.
    expect(ledger.until(2, 2.5)).toBeCloseTo(2.5, 12);
  });

  test("refuses a flow of which nothing was noted", () => {
    expect(() => ledger.until(0, 1)).toThrow("nothing was noted of this flow");
  });
});
