/** Where a curve passes the middle of its range, from one side well to the other. */
export interface Edge {
  readonly time: number;
  /** Standard uncertainty of that, s. */
  readonly off: number;
  readonly sign: 1 | -1;
  /** True where it happened between two samples: the time is then the middle between them. */
  readonly isSteep: boolean;
  /** The last sample before it. */
  readonly place: number;
}

/** A level, and how far to both sides of it a curve has to get to have passed it. */
export interface EdgeLevel {
  readonly level: number;
  readonly half: number;
}

/** Share of the range beyond the middle that has to be reached, and the share that makes a jump between two samples a steep edge. */
const HALF = 0.2;
const STEEP = 0.25;
/** Below so many uncertainties of a value a range holds no edges. */
const LEAST = 12;
/** What lies outside these shares of all values is the odd spike, not the range. */
const INSIDE = 0.005;

/** The level for a curve's edges; null where it stands still. */
export function edgeLevel(values: Float64Array, off: number): (EdgeLevel & { readonly span: number }) | null {
  if (values.length < 4) return null;
  const sorted = values.slice().sort();
  const low = sorted[Math.floor(INSIDE * (sorted.length - 1))];
  const high = sorted[Math.ceil((1 - INSIDE) * (sorted.length - 1))];
  const span = high - low;
  return span > LEAST * off ? { level: (low + high) / 2, half: HALF * span, span } : null;
}

/**
 * Edges of a curve. `off` is what a value may be off by, V or A; 0 for a simulated one.
 *
 * Between two samples an instant is known to their distance over √12 (rectangular, JCGM 100:2008, 4.3.7), on a slope to a value's uncertainty over the slope.
 */
export function edgesOf(
  { time, values }: { readonly time: Float64Array; readonly values: Float64Array },
  { level, half }: EdgeLevel,
  off: number,
): Edge[] {
  const edges: Edge[] = [];
  let isUp: boolean | null = null;
  let crossed: Edge | null = null;
  for (let i = 0; i < values.length; i++) {
    const [v0, v1] = [values[i - 1] ?? values[i], values[i]];
    if (i > 0 && v0 > level !== v1 > level) {
      const step = time[i] - time[i - 1];
      const sign = v1 > v0 ? 1 : -1;
      const isSteep = off > 0 && Math.abs(v1 - v0) > (STEEP / HALF) * half;
      const share = isSteep ? 0.5 : (level - v0) / (v1 - v0);
      const known = isSteep ? step / Math.sqrt(12) : Math.min(step, (off * step) / Math.abs(v1 - v0));
      crossed = { time: time[i - 1] + share * step, off: known, sign, isSteep, place: i - 1 };
    }
    const above = v1 > level + half;
    if (!above && !(v1 < level - half)) continue;
    if (isUp !== null && above !== isUp && crossed !== null) edges.push(crossed);
    isUp = above;
  }
  return edges;
}

/** For how long a curve stays well beyond its level where it goes there and comes back between two times, s: the least of all; infinite where it does not. */
export function shortestStay(
  { time, values }: { readonly time: Float64Array; readonly values: Float64Array },
  { level, half }: EdgeLevel,
  [from, to]: readonly [from: number, to: number],
): number {
  let least = Number.POSITIVE_INFINITY;
  let side = 0;
  let [enters, leaves] = [Number.NaN, Number.NaN];
  for (let i = 1; i < values.length; i++) {
    const [v0, v1] = [values[i - 1] - level, values[i] - level];
    const cross = (bound: number): number => time[i - 1] + ((bound - v0) / (v1 - v0)) * (time[i] - time[i - 1]);
    if (side * v0 > half && side * v1 <= half) leaves = cross(side * half);
    if (Math.abs(v1) <= half || Math.sign(v1) === side) continue;
    if (enters >= from && leaves <= to && leaves - enters < least) least = leaves - enters;
    enters = side === 0 ? Number.NaN : cross(Math.sign(v1) * half);
    side = Math.sign(v1);
  }
  return least;
}
