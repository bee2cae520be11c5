import { expect, test } from "vitest";
import { attack, type Entrance } from "./entrance.ts";

/** Inputs for each entrance. */
const MILLION = 1_000_000;
/** Beyond those of the daily test. */
export const FROM = 1_000_000;
/** No entrance gets more: the deep tests are to end within an hour and a half. */
const LONGEST_S = 1300;

interface Share {
  readonly from: number;
  readonly count: number;
  /** So many at least are reached on a machine that has other things to do, too. */
  readonly least: number;
}

/** All inputs of an entrance that takes a few minutes for them; of one that takes ten the same, unless the machine is busy. */
export const WHOLE: Share = { from: FROM, count: MILLION, least: MILLION };
export const LONGER: Share = { ...WHOLE, least: MILLION / 2 };
/** The two halves of one behind which most is done, a millisecond and more for each input: in files of their own, side by side. */
export const HALVES: readonly [Share, Share] = [
  { from: FROM, count: MILLION / 2, least: MILLION / 5 },
  { from: FROM + MILLION / 2, count: MILLION / 2, least: MILLION / 5 },
];

/** Sends that many in, or as many as the time holds: how many is printed. */
export function manyInputs(entrance: Entrance, { from, count, least }: Share): void {
  test(
    `${entrance.name}: ${count} inputs`,
    async () => {
      const { inputs, defects } = await attack(entrance, from, count, LONGEST_S);
      expect(defects).toEqual([]);
      expect(inputs).toBeGreaterThanOrEqual(least);
    },
    2000 * LONGEST_S,
  );
}
