import { describe, expect, test } from "vitest";
import { momentsOf, walk } from "../../../packages/sim/src/study/fit/slice.ts";
import { unitsAt } from "../../../packages/sim/src/study/pool/counter.ts";
import { quantile } from "../../../packages/sim/src/study/spread/statistics.ts";

const ROUNDS = 8000;

function walked(density: (at: Float64Array) => number, factor: number[][], start: number[]): Float64Array[] {
  let draw = 0;
  const next = (): number => unitsAt(5, draw++, 0)[0];
  return walk({ density, factor, next }, Float64Array.from(start), ROUNDS).slice(100);
}

const sorted = (places: readonly Float64Array[], k: number): Float64Array =>
  Float64Array.from(places, (place) => place[k]!).sort();

describe("a walk by slices finds densities with a closed form", () => {
  test("two normal values with a correlation of 0.8, by a factor that knows nothing of it", () => {
    const rho = 0.8;
    const places = walked(
      ([x, y]) => -(x! * x! - 2 * rho * x! * y! + y! * y!) / (2 * (1 - rho * rho)),
      [
        [2, 0],
        [0, 0.3],
      ],
      [3, -3],
    );
    const { mean, covariance } = momentsOf(places);
    expect(Math.abs(mean[0]!)).toBeLessThan(0.1);
    expect(covariance[0]![0]!).toBeCloseTo(1, 0.8);
    expect(covariance[0]![1]! / Math.sqrt(covariance[0]![0]! * covariance[1]![1]!)).toBeCloseTo(rho, 1.2);
    expect(quantile(sorted(places, 1), 0.975)).toBeCloseTo(1.96, 0.7);
  });

  test("walls: any place between them is as likely, and none beyond", () => {
    const places = walked(([x]) => (x! > 2 && x! < 5 ? 0 : Number.NEGATIVE_INFINITY), [[0.5]], [4]);
    const own = sorted(places, 0);
    expect(own[0]!).toBeGreaterThan(2);
    expect(own.at(-1)!).toBeLessThan(5);
    for (const share of [0.025, 0.25, 0.5, 0.975]) expect(quantile(own, share)).toBeCloseTo(2 + 3 * share, 1);
    expect(Math.sqrt(momentsOf(places).covariance[0]![0]!)).toBeCloseTo(3 / Math.sqrt(12), 1.3);
  });

  test("an exponential one, which leans to one side", () => {
    const own = sorted(
      walked(([x]) => (x! > 0 ? -x! : Number.NEGATIVE_INFINITY), [[1]], [1]),
      0,
    );
    for (const share of [0.1, 0.5, 0.9]) expect(quantile(own, share) / -Math.log(1 - share)).toBeCloseTo(1, 0.8);
  });
});
