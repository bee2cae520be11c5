import { describe, expect, it } from "vitest";
import { largestWithin, rootFromBelow } from "../../packages/sim/src/ode/root.ts";
import { random } from "../support/dense.ts";

const functions: readonly [string, (x: number) => number, number][] = [
  ["a line", (x) => x - 0.3, 0.3],
  ["a steep exponential", (x) => Math.exp(40 * x) - Math.exp(12), 0.3],
  ["a flat cube", (x) => (x - 0.3) ** 3, 0.3],
  ["a step", (x) => (x > 0.3 ? 1 : -1), 0.3],
  ["a step to a crumb", (x) => (x > 0.3 ? 1e-30 : -1e6), 0.3],
  ["a kink", (x) => Math.max(-1e-3, x - 0.3), 0.3],
  ["a nearly horizontal start", (x) => x ** 9 - 0.3 ** 9, 0.3],
];

describe("right end of the bracket", () => {
  it.each(functions)("of %s is past the root and no further than the width", (_name, f, root) => {
    for (const width of [1e-4, 1e-9, 1e-13]) {
      const at = rootFromBelow(f, 0, 1, f(0), f(1), width);
      expect(f(at)).toBeGreaterThan(0);
      expect(at - root).toBeLessThanOrEqual(width);
      expect(at).toBeGreaterThanOrEqual(root);
    }
  });

  it("holds for a left value of exactly zero, as a guard that has just acted leaves it", () => {
    const f = (x: number) => x * (x - 0.5);
    const at = rootFromBelow(f, 0, 1, 0, f(1), 1e-12);
    expect(f(at)).toBeGreaterThan(0);
    expect(Math.abs(at - 0.5)).toBeLessThan(2e-12);
  });

  it("needs few looks at smooth functions and stays bounded for spoilt ones", () => {
    let looks = 0;
    const counted = (x: number) => {
      looks++;
      return Math.sin(x) - 0.5;
    };
    rootFromBelow(counted, 0, 1.5, -0.5, Math.sin(1.5) - 0.5, 1e-12);
    expect(looks).toBeLessThan(30);
    looks = 0;
    const nan = () => {
      looks++;
      return Number.NaN;
    };
    expect(rootFromBelow(nan, 0, 1, -1, 1, 1e-300)).toBeLessThanOrEqual(1);
    expect(looks).toBeLessThanOrEqual(200);
  });

  it("holds for 500 random cubics", () => {
    const next = random(11);
    for (let k = 0; k < 500; k++) {
      const [a, b, r] = [next() * 5, next() * 5, next()];
      const f = (x: number) => (x - r) * (1 + a * x + b * x * x);
      const at = rootFromBelow(f, 0, 1, Math.min(0, f(0)), f(1), 1e-11);
      expect(f(at)).toBeGreaterThan(0);
      expect(at - r).toBeLessThan(2e-11);
    }
  });
});

describe("largest value within", () => {
  it("finds a maximum inside and one at an end", () => {
    const inside = largestWithin((x) => 2 - (x - 0.7) ** 2, 0, 1, 1e-7);
    expect(inside.at).toBeCloseTo(0.7, 6);
    expect(inside.value).toBeCloseTo(2, 12);
    expect(largestWithin((x) => x, 0, 1, 1e-7).value).toBeGreaterThan(1 - 1e-6);
  });

  it("ends where rounding leaves no room between its points", () => {
    const found = largestWithin((x) => x, 1, 1 + 4e-16, 0);
    expect(found.value).toBeGreaterThanOrEqual(1);
  });
});
