/**
 * The first place whose value is not less than `at`.
 *
 * @param sorted never falling
 * @param first where to begin, and `end` the place after the last one to look at
 * @returns `end` where all are less
 */
export function firstNotBefore(sorted: ArrayLike<number>, at: number, first = 0, end = sorted.length): number {
  let low = first;
  let high = end;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] < at) low = middle + 1;
    else high = middle;
  }
  return low;
}

/** The first place whose value is greater than `at`; `end` where none is. What is equal to `at` lies before it, however often. */
export function firstAfter(sorted: ArrayLike<number>, at: number, first = 0, end = sorted.length): number {
  let low = first;
  let high = end;
  while (low < high) {
    const middle = (low + high) >> 1;
    if (sorted[middle] <= at) low = middle + 1;
    else high = middle;
  }
  return low;
}
