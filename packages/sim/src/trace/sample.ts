/** A sampled view of a curve; the two arrays have one length. */
export interface SampledCurve {
  readonly positions: Float64Array;
  readonly values: Float64Array;
}

/**
 * A shorter curve that draws the same picture: per bucket of the abscissa the first, the lowest, the highest and the
 * last point, in their own order, so that no extremum is lost and neighbouring buckets join as they did before.
 *
 * @param positions abscissae in any unit (seconds, or pixels of a logarithmic axis), never falling
 * @param values ordinates in any unit, as many as positions
 * @param buckets how many equal parts the abscissa from first to last is cut into, a whole number ≥ 1 (pixel columns)
 * @returns at most 4 × buckets points; the curve itself where it has no more than that
 * @throws RangeError when the lengths differ or buckets is not a whole number ≥ 1
 * @see Jugel, Jerzak, Hackenbroich, Markl: "M4: a visualization-oriented time series data aggregation", PVLDB 7(10), 2014
 * @example minMaxSample(time, load_V, 640) // ≤ 2560 points, peak kept
 */
export function minMaxSample(positions: ArrayLike<number>, values: ArrayLike<number>, buckets: number): SampledCurve {
  if (positions.length !== values.length) {
    throw new RangeError(`positions and values differ in length: ${positions.length} and ${values.length}`);
  }
  if (!Number.isInteger(buckets) || buckets < 1) {
    throw new RangeError(`buckets must be a whole number of at least 1, received ${buckets}`);
  }
  if (positions.length <= 4 * buckets) {
    return { positions: Float64Array.from(positions), values: Float64Array.from(values) };
  }
  return pick(positions, values, keptIndices(positions, values, buckets));
}

function keptIndices(positions: ArrayLike<number>, values: ArrayLike<number>, buckets: number): number[] {
  const count = positions.length;
  const origin = positions[0];
  const span = positions[count - 1] - origin;
  const bucketOf = (index: number) =>
    span > 0 ? Math.min(buckets - 1, Math.floor(((positions[index] - origin) / span) * buckets)) : 0;
  const kept: number[] = [];
  for (let first = 0; first < count; ) {
    const bucket = bucketOf(first);
    let lowest = first;
    let highest = first;
    let last = first;
    for (let i = first + 1; i < count && bucketOf(i) === bucket; i++) {
      if (values[i] < values[lowest]) lowest = i;
      if (values[i] > values[highest]) highest = i;
      last = i;
    }
    const inOrder = [first, Math.min(lowest, highest), Math.max(lowest, highest), last];
    for (const index of inOrder) if (kept.length === 0 || index > kept[kept.length - 1]) kept.push(index);
    first = last + 1;
  }
  return kept;
}

function pick(positions: ArrayLike<number>, values: ArrayLike<number>, indices: readonly number[]): SampledCurve {
  return {
    positions: Float64Array.from(indices, (i) => positions[i]),
    values: Float64Array.from(indices, (i) => values[i]),
  };
}
