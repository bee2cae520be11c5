import { describe, expect, test } from "vitest";
import { firstAfter, firstNotBefore } from "../../packages/sim/src/trace/place.ts";

const sorted = [-2, 0, 0, 0, 1.5, 1.5, 7];
const within = [0, 1, 3, 5, 6, 7] as const;
const asked = [-3, -2, -1, 0, 0.5, 1.5, 6, 7, 8, Number.POSITIVE_INFINITY, Number.NEGATIVE_INFINITY];

describe.each(asked)("of values never falling, for %f", (at) => {
  test.each(within.flatMap((first) => within.filter((end) => end >= first).map((end) => [first, end] as const)))(
    "from %i to %i: as a search from the first on finds them",
    (first, end) => {
      const search = (holds: (value: number) => boolean): number => {
        for (let k = first; k < end; k++) if (holds(sorted[k]!)) return k;
        return end;
      };
      expect(firstNotBefore(sorted, at, first, end)).toBe(search((value) => value >= at));
      expect(firstAfter(Float64Array.from(sorted), at, first, end)).toBe(search((value) => value > at));
    },
  );
});

test("without places, of all of them; of none", () => {
  expect(firstNotBefore(sorted, 0)).toBe(1);
  expect(firstAfter(sorted, 0)).toBe(4);
  expect(firstNotBefore([], 3)).toBe(0);
  expect(firstAfter([], 3)).toBe(0);
});
