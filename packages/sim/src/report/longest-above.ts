/**
 * Longest unbroken time above each of several levels; between two rows the curve is a straight line.
 *
 * @param time s, never falling
 * @param values as many as times
 * @param levels rising
 * @returns a point for each level that was exceeded for longer than no time at all; V (or the values' unit) and s
 */
export function longestAbove(
  time: Float64Array,
  values: Float64Array,
  levels: readonly number[],
): { readonly voltage: number; readonly time: number }[] {
  // Most of a long run lies below the lowest level: its rows are looked at once, not once a level.
  const pieces = piecesAbove(values, levels[0] ?? Infinity);
  return levels
    .map((voltage) => ({
      voltage,
      time: Math.max(0, ...pieces.map((piece) => longestIn(time, values, piece, voltage))),
    }))
    .filter((point) => point.time > 0);
}

interface Piece {
  readonly first: number;
  readonly end: number;
}

/** Rows above a level with one neighbour on each side. */
function piecesAbove(values: Float64Array, level: number): Piece[] {
  const pieces: Piece[] = [];
  for (let i = 0; i < values.length; i++) {
    if (!(values[i] > level)) continue;
    const first = Math.max(0, i - 1);
    while (i < values.length && values[i] > level) i++;
    pieces.push({ first, end: Math.min(values.length, i + 1) });
  }
  return pieces;
}

function longestIn(time: Float64Array, values: Float64Array, { first, end }: Piece, level: number): number {
  let longest = 0;
  let since = values[first] > level ? time[first] : Number.NaN;
  for (let i = first + 1; i < end; i++) {
    const above = values[i] > level;
    if (above === values[i - 1] > level) continue;
    const share = (level - values[i - 1]) / (values[i] - values[i - 1]);
    const crossing = time[i - 1] + share * (time[i] - time[i - 1]);
    if (above) since = crossing;
    else longest = Math.max(longest, crossing - since);
  }
  return values[end - 1] > level ? Math.max(longest, time[end - 1] - since) : longest;
}
