import { describe, expect, it } from "vitest";
import { minMaxSample } from "../../packages/sim/src/trace/sample.ts";
import { seeded } from "./synthetic.ts";

function noisy(count: number, seed: number) {
  const random = seeded(seed);
  let time = 0;
  const positions = new Float64Array(count);
  const values = new Float64Array(count);
  for (let i = 0; i < count; i++) {
    time += random() ** 6;
    positions[i] = time;
    values[i] = random() < 0.001 ? 500 * (random() - 0.5) : random();
  }
  return { positions, values };
}

describe("minMaxSample", () => {
  const { positions, values } = noisy(50_000, 5);
  const buckets = 640;
  const sampled = minMaxSample(positions, values, buckets);
  const first = positions[0];
  const span = positions[positions.length - 1] - first;
  const bucketOf = (position: number) => Math.min(buckets - 1, Math.floor(((position - first) / span) * buckets));
  const extremes = (xs: Float64Array, ys: Float64Array) => {
    const found = new Map<number, [number, number]>();
    for (const [i, x] of xs.entries()) {
      const bucket = bucketOf(x);
      const [low, high] = found.get(bucket) ?? [Infinity, -Infinity];
      found.set(bucket, [Math.min(low, ys[i]), Math.max(high, ys[i])]);
    }
    return found;
  };

  it("gives at most four points per bucket, in order, both ends included", () => {
    expect(sampled.positions.length).toBeLessThanOrEqual(4 * buckets);
    expect(sampled.values.length).toBe(sampled.positions.length);
    expect(sampled.positions.every((x, i) => i === 0 || x >= sampled.positions[i - 1])).toBe(true);
    expect(sampled.positions[0]).toBe(first);
    expect(sampled.positions.at(-1)).toBe(positions.at(-1));
    expect(sampled.values.at(-1)).toBe(values.at(-1));
  });

  it("keeps the lowest and the highest value of every bucket", () => {
    expect(extremes(sampled.positions, sampled.values)).toEqual(extremes(positions, values));
  });

  it("keeps both sides of a step at one instant", () => {
    const time = Float64Array.from({ length: 2000 }, (_, i) => (i < 1000 ? i : i - 1));
    const step = Float64Array.from({ length: 2000 }, (_, i) => (i < 1000 ? 1 : 2));
    const result = minMaxSample(time, step, 10);
    const at = [...result.positions.keys()].filter((i) => result.positions[i] === 999).map((i) => result.values[i]);
    expect(at).toEqual([1, 2]);
  });

  it("leaves a short curve alone and survives a single instant", () => {
    expect([...minMaxSample([0, 1, 2], [3, 1, 2], 1).values]).toEqual([3, 1, 2]);
    const still = minMaxSample(
      new Float64Array(100),
      Float64Array.from({ length: 100 }, (_, i) => i),
      4,
    );
    expect([...still.values]).toEqual([0, 99]);
  });

  it("refuses what it cannot sample", () => {
    expect(() => minMaxSample([0, 1], [0], 4)).toThrow("differ in length: 2 and 1");
    for (const bad of [0, 1.5, Number.NaN, -3]) expect(() => minMaxSample([0], [0], bad)).toThrow(`received ${bad}`);
  });
});
