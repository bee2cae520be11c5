/**
 * When a curve of straight lines crosses a level on its way to a row, s.
 *
 * @param row the first on the other side of the level; the time of the first row of all where there is none before it
 */
export function crossingBefore(time: Float64Array, values: Float64Array, row: number, level: number): number {
  if (row === 0) return time[0];
  const [a, b] = [values[row - 1], values[row]];
  return time[row - 1] + ((level - a) / (b - a)) * (time[row] - time[row - 1]);
}
