import { describe, expect, it } from "vitest";
import { longestAbove } from "../../packages/sim/src/report/longest-above.ts";

const at = (time: number[], values: number[], levels: number[]) =>
  longestAbove(Float64Array.from(time), Float64Array.from(values), levels);

describe("longest time above a level", () => {
  it("of a triangle is what similar triangles say", () => {
    const found = at([0, 1, 2], [10, 20, 10], [10, 12, 15, 19, 20]);
    expect(found.map(({ voltage }) => voltage)).toEqual([10, 12, 15, 19]);
    expect(found.map(({ time }) => time)).toEqual([2, 1.6, 1, 0.2].map((value) => expect.closeTo(value, 12)));
  });

  it("is that of the longest of several stretches, not their sum", () => {
    expect(at([0, 1, 2, 3, 5, 7], [0, 2, 0, 0, 2, 0], [1])).toEqual([{ voltage: 1, time: expect.closeTo(2, 12) }]);
  });

  it("joins stretches at a lower level that are apart at a higher one", () => {
    const found = at([0, 1, 2, 3, 4], [0, 3, 1, 3, 0], [0.5, 2]);
    expect(found.map(({ time }) => time)).toEqual(
      [4 - 0.5 / 3 - 0.5 / 3, 1.5 - 2 / 3].map((value) => expect.closeTo(value, 12)),
    );
  });

  it("counts what is above from the first row and to the last one", () => {
    expect(at([1, 2, 4], [5, 5, 5], [1])).toEqual([{ voltage: 1, time: 3 }]);
    expect(at([0, 1, 1, 3], [0, 0, 5, 5], [1])).toEqual([{ voltage: 1, time: 2 }]);
    expect(at([0, 2, 2, 3], [5, 5, 0, 0], [1])).toEqual([{ voltage: 1, time: 2 }]);
  });

  it("has no point where nothing was above", () => {
    expect(at([0, 1], [1, 2], [2, 3])).toEqual([]);
    expect(at([0, 1], [1, 2], [])).toEqual([]);
  });

  it("agrees with a brute count on a fine grid", () => {
    const time = Array.from({ length: 4001 }, (_, i) => i / 1000);
    const values = time.map((t) => 12 + 4 * Math.sin(5 * t) * Math.exp(-t / 2) + Math.sin(31 * t));
    for (const level of [11, 12.5, 13.7, 15]) {
      let longest = 0;
      let run = 0;
      for (const value of values) {
        run = value > level ? run + 1e-3 : 0;
        longest = Math.max(longest, run);
      }
      expect(Math.abs((at(time, values, [level])[0]?.time ?? 0) - longest)).toBeLessThan(2.1e-3);
    }
  });
});
