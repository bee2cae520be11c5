/**
 * Preferred numbers of IEC 60063, as the standard's table lists them. E24 carries historic values (2.7 … 4.7 and 8.2) that no formula gives; E48 and
 * E96 are the rounded powers of ten.
 */
export type SeriesName = "E24" | "E48" | "E96";

const E24 = [10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91];

const E96 = [
  100, 102, 105, 107, 110, 113, 115, 118, 121, 124, 127, 130, 133, 137, 140, 143, 147, 150, 154, 158, 162, 165, 169,
  174, 178, 182, 187, 191, 196, 200, 205, 210, 215, 221, 226, 232, 237, 243, 249, 255, 261, 267, 274, 280, 287, 294,
  301, 309, 316, 324, 332, 340, 348, 357, 365, 374, 383, 392, 402, 412, 422, 432, 442, 453, 464, 475, 487, 499, 511,
  523, 536, 549, 562, 576, 590, 604, 619, 634, 649, 665, 681, 698, 715, 732, 750, 768, 787, 806, 825, 845, 866, 887,
  909, 931, 953, 976,
];

/** The numbers of one decade, from 1 up to below 10. */
export const eSeries: Readonly<Record<SeriesName, readonly number[]>> = {
  E24: E24.map((number) => number / 10),
  E48: E96.filter((_, index) => index % 2 === 0).map((number) => number / 100),
  E96: E96.map((number) => number / 100),
};

/**
 * Values of a series between two values, rising.
 *
 * @param low above 0, any unit
 * @param high at least `low`, in the same unit
 * @example seriesValues("E24", 1000, 1200) // [1000, 1100, 1200]
 */
export function seriesValues(series: SeriesName, low: number, high: number): number[] {
  const values: number[] = [];
  for (let decade = Math.floor(Math.log10(low)); decade <= Math.log10(high); decade++) {
    for (const number of eSeries[series]) {
      // Written and read again: 1.1 × 1000 is not the double nearest to 1100.
      const value = Number(`${number}e${decade}`);
      if (value >= low && value <= high) values.push(value);
    }
  }
  return values;
}

/**
 * The values of a series next to a value: the largest that is not above it, and the smallest above it.
 *
 * @param value above 0
 * @example neighbours("E96", 1234) // [1210, 1240]
 */
export function neighbours(series: SeriesName, value: number): readonly [number, number] {
  const near = seriesValues(series, value / 1.2, value * 1.2);
  const below = near.filter((each) => each <= value);
  return [below[below.length - 1], near[below.length]];
}
