import type { Issue } from "../../issue/issue.ts";
import { Cancelled } from "../pool/deal.ts";
import { held, ownOf } from "./held.ts";
import { channelsLeft } from "./left.ts";
import { likenesses } from "./likeness.ts";
import { isFlat } from "./misfit.ts";
import { type OtherUnits, otherUnits } from "./other-units.ts";
import type { Prepared } from "./prepare.ts";
import { type Found, type Searched, search } from "./search.ts";
import { serviceScales } from "./service-level.ts";
import type { FitHooks } from "./types.ts";

/** What is less alike than this is a capture of something else. */
const ALIKE = 0.6;
/** So large a part of what a channel swings through is no misfit of a value: nothing fits. */
const GROSS = 0.5;
/** Starts that are tried for each value, and values that are started elsewhere. */
const STARTS = 5;
const MOST_STARTED = 4;
/** So many searches from other values, where one ended nowhere. */
const MOST_TRIALS = 3;

/** Whether a run and a capture are so unlike that no value can be believed; how alike they are at best, and whether what is left is as large as the capture itself. */
export function unlikeness(
  ground: Prepared,
  found: Pick<Found, "own" | "simulated">,
): { readonly best: number; readonly isAnother: boolean; readonly isGross: boolean } {
  const best = Math.max(...likenesses(ground, found));
  const left = channelsLeft(ground, found);
  const isGross = ground.channels.some((channel, c) => {
    const rms = Math.sqrt(left[c].residual.reduce((sum, each) => sum + each * each, 0) / left[c].samples);
    return !isFlat(channel) && rms > GROSS * channel.span;
  });
  const isQuiet = ground.channels.every(isFlat);
  return { best, isGross, isAnother: !isQuiet && (best < ALIKE || isGross) };
}

/**
 * Other values to begin with, one of them changed at a time: evenly spread over its bounds by ratio, or by difference where a bound is not above zero. The value nearest to where it stands is left out.
 *
 * @example otherStarts([{ low: 1, high: 32, nominal: 5, … }]) // [[1.4], [2.8], [11.3], [22.6]]
 */
export function otherStarts(varied: Prepared["varied"]): readonly (readonly number[])[] {
  const nominals = varied.map(({ nominal }) => nominal);
  return varied.slice(0, MOST_STARTED).flatMap(({ low, high, nominal }, k) => {
    const spread = Array.from({ length: STARTS }, (_, n) => {
      const share = (n + 0.5) / STARTS;
      return low > 0 ? low * (high / low) ** share : low + share * (high - low);
    });
    const nearest = spread.reduce((a, b) => (Math.abs(b - nominal) < Math.abs(a - nominal) ? b : a));
    return spread.filter((value) => value !== nearest).map((value) => nominals.with(k, value));
  });
}

interface Begun {
  readonly ground: Prepared;
  readonly found: Searched;
  /** Runs besides those that the ground counts. */
  readonly spent: number;
  /** Of a search that ended nowhere; null: it was not asked for. */
  readonly units: OtherUnits | null;
}

/** Of a capture whose values are a probe's factor away from the run's: as it was laid, without a search, for no other value of the line mends that; null of any other. */
export function unsearched(ground: Prepared): Begun | null {
  const { channels, pairs, varied, simulator, alignment, zeroOffs, lagOff, until } = ground;
  const zero = new Array<number>(2 * channels.length - 1).fill(0);
  const all = [...varied.map(({ nominal }) => nominal), alignment.shift, ...zero];
  const simulated = simulator.at(all);
  if (simulated === null) return null;
  if (serviceScales(channels, simulated.lines, alignment.shift).size === 0) return null;
  const own = ownOf(all, varied.length, channels.length);
  const residuals = held(channels, pairs, simulated, own, { bent: null, zeroOffs, lagOff, until });
  const found = { all, own, simulated, residuals, jacobian: all.map(() => null), isConverged: true };
  if (!channels.every(isFlat) && !unlikeness(ground, found).isAnother) return null;
  return { ground, found: { ...found, ground }, spent: 0, units: otherUnits(ground) };
}

/** Where a search ended nowhere, once more from those other values at which the capture is recognised best. */
export async function searchFrom(
  ground: Prepared,
  found: Searched,
  hooks: FitHooks,
  prepared: (starts: readonly number[]) => Prepared | readonly Issue[],
): Promise<Begun> {
  const isLost = (at: Prepared, end: Searched): boolean => {
    const stepped: Prepared = { ...at, ...end.ground };
    return unlikeness(stepped, end).isAnother;
  };
  if (ground.varied.length === 0 || !isLost(ground, found)) return { ground, found, spent: 0, units: null };
  // Other values mend no wrong unit.
  const units = otherUnits(ground);
  if (units.gains.length > 0 || units.hint !== null) return { ground, found, spent: 0, units };
  let spent = 0;
  const trials: Prepared[] = [];
  for (const starts of otherStarts(ground.varied)) {
    await hooks.pause?.();
    if (hooks.signal?.aborted === true) throw new Cancelled();
    const other = prepared(starts);
    if (!("simulator" in other)) continue;
    spent += other.simulator.count;
    if (other.alignment.score > ground.alignment.score) trials.push(other);
  }
  for (const other of trials.toSorted((a, b) => b.alignment.score - a.alignment.score).slice(0, MOST_TRIALS)) {
    const end = await search(other, hooks);
    if (!isLost(other, end))
      return { ground: other, found: end, spent: spent + found.ground.simulator.count, units: null };
    spent += end.ground.simulator.count;
  }
  return { ground, found, spent, units };
}
