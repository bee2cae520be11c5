/** A share found in a sample (`count` of `of`), with the interval in which the true one lies with 95 %. */
export interface Chance {
  /** How many of the sample. */
  readonly count: number;
  /** Size of the sample. */
  readonly of: number;
  /** `count` over `of`, 0 to 1. */
  readonly share: number;
  /** Lower end of the interval. */
  readonly low: number;
  /** Upper end of the interval. */
  readonly high: number;
}

/** Two-sided 95 % of the normal distribution. */
const Z = 1.959963984540054;

/**
 * A share with its interval after E. B. Wilson, "Probable inference, the law of succession, and statistical inference", Journal of the
 * American Statistical Association 22 (1927), without continuity correction: also right for none and for all.
 *
 * @param count of how many; both whole numbers, `of` at least 1
 * @example wilson(0, 100).high // 0.03699
 */
export function wilson(count: number, of: number): Chance {
  const share = count / of;
  const square = (Z * Z) / of;
  const middle = (share + square / 2) / (1 + square);
  const half = (Z / (1 + square)) * Math.sqrt((share * (1 - share)) / of + square / (4 * of));
  return {
    count,
    of,
    share,
    low: count === 0 ? 0 : Math.max(0, middle - half),
    high: count === of ? 1 : Math.min(1, middle + half),
  };
}

/**
 * A quantile of sorted values, straight between two neighbours: definition 7 of R. J. Hyndman and Y. Fan, "Sample quantiles in statistical
 * packages", The American Statistician 50 (1996).
 *
 * @param sorted rising, at least one
 * @param probability from 0 to 1
 * @example quantile([1, 2, 4], 0.75) // 3
 */
export function quantile(sorted: ArrayLike<number>, probability: number): number {
  const at = (sorted.length - 1) * probability;
  const below = Math.floor(at);
  const above = Math.min(below + 1, sorted.length - 1);
  return sorted[below] + (at - below) * (sorted[above] - sorted[below]);
}

/** The ranks of values, from 1; equal ones share the mean of theirs. */
export function ranks(values: ArrayLike<number>): Float64Array {
  const order = Uint32Array.from({ length: values.length }, (_, k) => k).sort((a, b) => values[a] - values[b]);
  const result = new Float64Array(values.length);
  for (let from = 0; from < order.length; ) {
    let to = from + 1;
    while (to < order.length && values[order[to]] === values[order[from]]) to++;
    for (let k = from; k < to; k++) result[order[k]] = (from + to + 1) / 2;
    from = to;
  }
  return result;
}

/**
 * Rank correlation after C. Spearman: the correlation of the ranks, from −1 (falls whenever the other rises) to 1.
 *
 * @param a values, as many as in `b`
 * @returns null where one of them never changes
 * @example rankCorrelation([1, 2, 3], [1, 4, 9]) // 1
 */
export function rankCorrelation(a: ArrayLike<number>, b: ArrayLike<number>): number | null {
  return correlation(ranks(a), ranks(b));
}

function correlation(a: Float64Array, b: Float64Array): number | null {
  const mean = (a.length + 1) / 2;
  let [ab, aa, bb] = [0, 0, 0];
  for (let k = 0; k < a.length; k++) {
    const [x, y] = [a[k] - mean, b[k] - mean];
    ab += x * y;
    aa += x * x;
    bb += y * y;
  }
  return aa === 0 || bb === 0 ? null : ab / Math.sqrt(aa * bb);
}

/** A rank correlation nearer to 0 than this may be chance (95 %): so many samples tell no more. */
export function chanceCorrelation(samples: number): number {
  return samples < 3 ? 1 : Z / Math.sqrt(samples - 1);
}
