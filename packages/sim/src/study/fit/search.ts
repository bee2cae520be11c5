import { Cancelled } from "../pool/deal.ts";
import type { Varied } from "../pool/readings.ts";
import type { Alignment } from "./align.ts";
import { type Channel, withSteps } from "./channels.ts";
import { farthest, type HeldOptions, held, type Own, ownOf, type Pair } from "./held.ts";
import { type LeastSquaresSolution, leastSquares } from "./least-squares.ts";
import { isFlat, LATE, RATIO } from "./misfit.ts";
import type { Simulated, Simulator } from "./simulated.ts";
import type { FitHooks } from "./types.ts";

/** All that the search for values stands on. */
export interface Ground {
  readonly channels: readonly Channel[];
  readonly pairs: readonly Pair[];
  readonly varied: readonly Varied[];
  readonly simulator: Simulator;
  readonly alignment: Alignment;
  /** Between which ends the shift stays, s: where capture and run overlap. */
  readonly shifts: readonly [low: number, high: number];
  readonly zeroOffs: readonly number[];
  readonly lagOff: number;
  readonly until: number;
  readonly duration: number;
}

/** Where the search ended. */
export interface Found {
  /** Values, shift, lags, zeros. */
  readonly all: readonly number[];
  readonly own: Own;
  readonly simulated: Simulated;
  /** One column for each of `all`; null for values that the capture says nothing about. */
  readonly jacobian: readonly (Float64Array | null)[];
  readonly residuals: Float64Array;
  readonly isConverged: boolean;
}

/** Edges that lie farther off than so many samples are first brought near. */
const NEAR = 1;
/** Over how many samples curves are averaged while that is done, one after the other: a small step is felt from as far away. */
const AVERAGED = [16, 4] as const;
/** From farther away, for a second try. */
const WIDELY = [64, 16, 4] as const;
/** How far a zero may lie, in its standard uncertainties. */
const MOST_ZERO = 6;
/** Of its length so much more is run behind the capture's end, lest there be no run where it is moved to. */
export const BEHIND = 0.3;
/** A place whose edges and curves are less alike than this may be the wrong one. */
export const SURE = 0.9;
/** Of its length so much of a capture lies behind the run's beginning at least. */
const OVERLAP = 0.1;
/** How often edges are brought near once more at most. */
const MOST_AGAIN = 2;
/** Of how far the farthest edge lies off, the share to which edges count as known in the meantime. */
const FAR_SHARE = 0.1;
/** A value, or the shift, whose whole bounds move the residuals by less than this, in standard deviations, is untold. */
const HEARD = 3;

/** How often the run is made longer for a capture that is moved to its end. */
const MOST_LONGER = 3;

/** Where a search ended, and the ground with the steps of the run there in mind. */
export interface Searched extends Found {
  readonly ground: Ground;
}

/** Brings the run onto the capture; once more from elsewhere where that ended with more than noise. */
export async function search(first: Ground, hooks: FitHooks): Promise<Searched> {
  const { varied, alignment, channels } = first;
  const zero = new Array<number>(2 * channels.length - 1).fill(0);
  const start = [...varied.map(({ nominal }) => nominal), alignment.shift, ...zero];
  const found = await descendAndFollow(first, start, AVERAGED, hooks);
  // A capture that was hardly recognised is not found by looking once more.
  if (varied.length === 0 || alignment.score < SURE || channels.every(isFlat) || !isPoor(found)) return found;
  const other = await descendAndFollow(first, withZeros(first, start), WIDELY, hooks);
  return costOf(other) < costOf(found) ? other : found;
}

const costOf = ({ residuals }: Found): number => length(residuals) ** 2 / residuals.length;

/** More is left than noise explains, or an edge lies elsewhere. */
function isPoor(found: Searched): boolean {
  const { ground, own, simulated } = found;
  const steep = ground.pairs.filter(({ edge }) => edge.isSteep);
  return costOf(found) > RATIO ** 2 || farthest(steep, simulated, own, ground.until) > LATE * ground.lagOff;
}

/** Zeros from what capture and run differ in by the median: a channel that is off by a constant is no reason to move values. */
function withZeros({ channels, simulator, varied, zeroOffs, alignment }: Ground, start: readonly number[]): number[] {
  const simulated = simulator.at(start);
  const all = [...start];
  if (simulated === null) return all;
  for (const [c, { curve, places }] of channels.entries()) {
    const left = Float64Array.from(
      places,
      (i) => curve.values[i] - simulated.lines[c].at(curve.time[i] + alignment.shift),
    ).sort();
    const most = MOST_ZERO * zeroOffs[c];
    all[varied.length + channels.length + c] = Math.max(-most, Math.min(most, left[left.length >> 1]));
  }
  return all;
}

async function descendAndFollow(
  first: Ground,
  start: readonly number[],
  averaged: readonly number[],
  hooks: FitHooks,
): Promise<Searched> {
  let found = await descend(first, start, averaged, hooks);
  for (let again = 0; again < MOST_LONGER && isAtEnd(found); again++)
    found = await descend(longer(first, found.own.shift), found.all, averaged, hooks);
  return found;
}

const isAtEnd = ({ ground: { shifts, lagOff }, own: { shift } }: Searched): boolean => shift > shifts[1] - lagOff;

/** With runs that go on behind where the capture now ends. */
function longer(ground: Ground, shift: number): Ground {
  const { until, shifts, duration, simulator } = ground;
  const end = until - shifts[1] + shift;
  const then = end + BEHIND * duration;
  return { ...ground, until: then, simulator: simulator.to(then), shifts: shiftsOf(shift, end, then, duration) };
}

/** Edges first, then everything as it is; values that make no difference are put back to where they were. */
async function descend(
  first: Ground,
  start: readonly number[],
  averages: readonly number[],
  hooks: FitHooks,
): Promise<Searched> {
  const { varied } = first;
  const many = first.channels.length;
  const count = varied.length;
  let all = start;
  let active = all.map((_, k) => k);
  const farOf = (ground: Ground, pairs: readonly Pair[]): number => {
    const now = ground.simulator.at(all);
    if (now === null) throw new RangeError("nothing can be worked out at these values");
    return farthest(pairs, now, ownOf(all, count, many), ground.until);
  };
  const bring = async (averaged: number, enough: number): Promise<void> => {
    const edgeOff = Math.max(FAR_SHARE * farOf(first, first.pairs), first.lagOff / Math.sqrt(12));
    all = (await move(first, all, active, { averaged, edgeOff, enough }, hooks)).values;
  };
  const [last] = averages.slice(-1);
  for (const averaged of averages)
    if (averaged === last || averages === WIDELY || farOf(first, first.pairs) > NEAR * first.lagOff)
      await bring(averaged, 0.1);
  const steep = first.pairs.filter(({ edge }) => edge.isSteep);
  let ground = stepped(first, all);
  let solved = await move(ground, all, active, null, hooks);
  all = solved.values;
  for (let again = 0; again < MOST_AGAIN && farOf(ground, steep) > NEAR * first.lagOff; again++) {
    // Beside an edge that lies a sample off nothing draws it nearer.
    await bring(last, 0.003);
    ground = stepped(first, all);
    solved = await move(ground, all, active, null, hooks);
    all = solved.values;
  }
  const columns = solved.columns;
  const ranges = [...varied.map(({ low, high }) => high - low), ground.shifts[1] - ground.shifts[0]];
  const untold = ranges.flatMap((range, k) => {
    const column = columns[k];
    return column === null || length(column) * range < HEARD ? [k] : [];
  });
  if (untold.length > 0) {
    active = active.filter((k) => !untold.includes(k));
    all = all.map((value, k) => (untold.includes(k) ? (varied[k]?.nominal ?? start[count]) : value));
    solved = await move(ground, all, active, null, hooks);
    all = solved.values;
  }
  const simulated = ground.simulator.at(all);
  if (simulated === null) throw new RangeError("nothing can be worked out at the end");
  const { columns: jacobian, residuals, isConverged } = solved;
  return { ground, all, own: ownOf(all, count, many), simulated, jacobian, residuals, isConverged };
}

/** Between which ends a shift stays where the capture's end now lies at `end`, s: to its end there is a run, and some of it lies behind the run's beginning. */
export function shiftsOf(shift: number, end: number, until: number, duration: number): readonly [number, number] {
  const back = Math.min(duration, Math.max(0, end - OVERLAP * duration));
  return [shift - back, shift + Math.max(0, until - end)];
}

/** With the steps of the run at these values in mind. */
function stepped(ground: Ground, all: readonly number[]): Ground {
  const simulated = ground.simulator.at(all);
  if (simulated === null) return ground;
  const { shift, lags } = ownOf(all, ground.varied.length, ground.channels.length);
  const channels = ground.channels.map((channel, c) =>
    withSteps(
      channel,
      channel.curve.time.map((t) => simulated.lines[c].at(t + shift + lags[c])),
    ),
  );
  return { ...ground, channels };
}

interface Moved extends Pick<LeastSquaresSolution, "residuals" | "isConverged"> {
  readonly values: readonly number[];
  readonly columns: readonly (Float64Array | null)[];
}

/** Least squares over some of all that can move. */
async function move(
  ground: Ground,
  from: readonly number[],
  active: readonly number[],
  bringing: { readonly averaged: number; readonly edgeOff: number; readonly enough: number } | null,
  hooks: FitHooks,
): Promise<Moved> {
  const { channels, pairs, varied, simulator, shifts, zeroOffs, lagOff, until } = ground;
  const count = varied.length;
  const bent = bringing === null ? null : { width: bringing.averaged * lagOff, edgeOff: bringing.edgeOff };
  const options: HeldOptions = { bent, zeroOffs, lagOff, until };
  const limits = from.map((_, k): readonly [low: number, high: number, scale: number] => {
    if (k < count) {
      const { low, high, nominal } = varied[k];
      return [low, high, Math.abs(nominal) || (high - low) / 10];
    }
    if (k === count) return [...shifts, 10 * lagOff];
    if (k < count + channels.length) return [-3 * lagOff, 3 * lagOff, lagOff];
    const off = zeroOffs[k - count - channels.length];
    return [-MOST_ZERO * off, MOST_ZERO * off, off];
  });
  const whole = (some: readonly number[]): number[] => {
    const all = [...from];
    for (const [j, k] of active.entries()) all[k] = some[j];
    return all;
  };
  const begin = Date.now();
  const found = await leastSquares(
    {
      residuals: (some) => {
        const all = whole(some);
        const simulated = simulator.at(all);
        return simulated === null
          ? null
          : held(channels, pairs, simulated, ownOf(all, count, channels.length), options);
      },
      start: active.map((k) => from[k]),
      low: active.map((k) => limits[k][0]),
      high: active.map((k) => limits[k][1]),
      scale: active.map((k) => limits[k][2]),
    },
    {
      tolerance: 0.05,
      reach: 0.15,
      // Sums of squares are in units of what is expected: less than a tenth of one is nothing; while edges are brought near, a share of all is.
      enough: bringing === null ? { ofUnit: 0.1, ofCost: 0 } : { ofUnit: 0, ofCost: bringing.enough },
      valuesAlone: true,
      mostIterations: bent === null ? 25 : 15,
      between: async () => {
        await hooks.pause?.();
        if (hooks.signal?.aborted === true) throw new Cancelled();
        const done = simulator.count;
        const elapsed = (Date.now() - begin) / 1000;
        hooks.progress?.({ done, total: Math.max(done + 1, 10 * (count + 2)), elapsed, left: null });
      },
    },
  );
  const columns = from.map((_, k) => (active.includes(k) ? found.jacobian[active.indexOf(k)] : null));
  return { values: whole(found.values), columns, residuals: found.residuals, isConverged: found.isConverged };
}

export function length(column: Float64Array): number {
  return Math.sqrt(column.reduce((sum, each) => sum + each * each, 0));
}
