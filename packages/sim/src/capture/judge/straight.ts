/** A straight line through points by least squares. */
export interface Straight {
  readonly slope: number;
  /** Standard deviation of the slope for values of 1. */
  readonly off: number;
  /** What is left of each value. */
  readonly rest: readonly number[];
}

/** The line through `values` over `places`, alike long and not all at one place. */
export function straightThrough(places: readonly number[], values: readonly number[]): Straight {
  const count = places.length;
  const middle = places.reduce((sum, each) => sum + each, 0) / count;
  const mean = values.reduce((sum, each) => sum + each, 0) / count;
  let [xx, xy] = [0, 0];
  for (let k = 0; k < count; k++) {
    xx += (places[k] - middle) ** 2;
    xy += (places[k] - middle) * (values[k] - mean);
  }
  const slope = xy / xx;
  return {
    slope,
    off: 1 / Math.sqrt(xx),
    rest: values.map((value, k) => value - mean - slope * (places[k] - middle)),
  };
}

export const sumOfSquares = (rest: readonly number[]): number => rest.reduce((sum, each) => sum + each * each, 0);
