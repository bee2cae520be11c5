/** Numbers in a row: a plain array or a typed one. */
export interface Vector {
  readonly length: number;
  [index: number]: number;
}

/**
 * Zeros in a plain array that holds doubles from its beginning. The engine asks a typed array for its place and length anew in every round of a
 * loop; short loops over a plain one are up to twice as fast. Nobody may put anything else into it, nor lengthen it.
 */
export function zeros(length: number): number[] {
  const out: number[] = [];
  for (let k = 0; k < length; k++) out.push(0.5);
  for (let k = 0; k < length; k++) out[k] = 0;
  return out;
}

/** Writes `from` over the beginning of `to`. */
export function copy(from: Vector, to: Vector): void {
  for (let k = 0; k < from.length; k++) to[k] = from[k];
}

export function add(what: Vector, to: Vector): void {
  for (let k = 0; k < what.length; k++) to[k] += what[k];
}

/** The same numbers in such an array. */
export function copyOf(from: Vector): number[] {
  const out = zeros(from.length);
  copy(from, out);
  return out;
}

/** What `value` gives for each of `list`, in such an array. */
export function doubles<T>(list: readonly T[], value: (entry: T) => number): number[] {
  const out = zeros(list.length);
  for (let k = 0; k < list.length; k++) out[k] = value(list[k]);
  return out;
}
