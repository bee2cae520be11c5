import { firstNotBefore } from "../../trace/place.ts";
import type { Peak } from "../../trace/types.ts";
import { type Between, between, type Doubt, FASTEST, isClear, type Surrounding } from "./between.ts";
import type { Curve } from "./curve.ts";
import type { Extreme, Resolution } from "./types.ts";

/** Samples over which flanks are looked at, until they stand out of noise. */
const STRETCHES = [1, 2, 4, 8, 16] as const;

/**
 * An extreme with what it may be off, to each side by itself, for little of that is alike to both. Towards the curve: a single value's own uncertainty, and that the
 * largest of n noisy samples lies about σ·√(2·ln n) too far out (Cramér, "Mathematical Methods of Statistics", 1946, 28.6), which is not taken off but told in full
 * (JCGM 100:2008, F.2.4.5). All samples count there that could have been it, wherever they are: those no more than σ·(√(2·ln n) + 1) and a step behind it. Outwards: a single
 * value's uncertainty, and how much farther the curve may have gone between two samples, here or at any lesser turn.
 *
 * @param peak the outermost sample; `sign` 1: the highest, −1: the lowest
 */
export function extremeOf(curve: Curve, peak: Peak, sign: 1 | -1, resolution: Resolution): Extreme {
  const { values } = curve;
  const off = 2 * resolution.ofValue;
  const { alone: sigma } = resolution;
  const excess = luck(values, sign, sigma, stepOf(curve, resolution));
  const { missed, alone } = beyondSamples(curve, peak, sign, resolution, luck(values, sign, sigma, 0));
  const [inwards, outwards] = [off + excess, off + missed];
  return {
    value: peak.value,
    time: peak.time,
    minus: sign === 1 ? inwards : outwards,
    plus: sign === 1 ? outwards : inwards,
    alone,
  };
}

/** By how much the largest of those values that noise of this standard deviation may have made the largest lies too high. */
function luck(values: Float64Array, sign: 1 | -1, sigma: number, step: number): number {
  if (!(sigma > 0)) return 0;
  let top = -Infinity;
  for (const value of values) if (sign * value > top) top = sign * value;
  const near = top - sigma * (Math.sqrt(2 * Math.log(values.length)) + 1) - step;
  let count = 0;
  for (const value of values) if (sign * value >= near) count++;
  return sigma * Math.sqrt(2 * Math.log(Math.max(1, count)));
}

/** How far beyond the outermost sample the curve may have gone, beside it or beside another one that stands out. */
function beyondSamples(curve: Curve, peak: Peak, sign: 1 | -1, resolution: Resolution, excess: number): Between {
  const { time, values, pieces } = curve;
  const top = sign * peak.value;
  const ofTop = doubtOf(curve, resolution, excess);
  // Of many differences noise makes some large, and rounding some a whole step.
  const ofAny = doubtOf(curve, resolution, resolution.alone * Math.sqrt(4 * Math.log(Math.max(2, values.length))));
  const at = firstNotBefore(time, peak.time);
  let missed = 0;
  let alone = false;
  for (const piece of pieces) {
    const [first, end] = piece;
    for (let i = first; i < end; i++) {
      const value = sign * values[i];
      const before = i > first ? value - sign * values[i - 1] : 0;
      const after = i + 1 < end ? value - sign * values[i + 1] : 0;
      if (before < 0 || after < 0) continue;
      const isTop = value === top && i >= at && time[i] === peak.time;
      const steep = Math.max(before, after);
      // No flank gets farther than this.
      if (!isTop && (steep <= ofAny.margin || value + FASTEST * steep <= top + missed)) continue;
      const found = besideSample(curve, i, piece, sign, isTop ? ofTop : ofAny);
      if (value + found.missed <= top + missed) continue;
      missed = value + found.missed - top;
      alone ||= found.alone;
    }
  }
  return { missed, alone };
}

/**
 * Where flanks do not stand out of noise from sample to sample, they may do so over several. Each stretch up to the first that shows them bounds the curve, a longer
 * one with less noise, a shorter one with less of what is no part of the flank: the least counts.
 */
function besideSample(curve: Curve, at: number, piece: readonly [number, number], sign: 1 | -1, doubt: Doubt): Between {
  let missed = Infinity;
  let alone = false;
  for (const stretch of STRETCHES) {
    const seen = around(curve, at, piece, sign, stretch);
    const found = between(seen, doubt, 1 / stretch);
    missed = Math.min(missed, found.missed);
    if (stretch === 1) alone = found.alone;
    if (isClear(seen, doubt)) break;
  }
  return { missed, alone };
}

function stepOf({ digit }: Curve, { quantum, between: apart }: Resolution): number {
  return Math.max(quantum ?? 0, apart ?? 0, digit);
}

function doubtOf(curve: Curve, resolution: Resolution, luckOf: number): Doubt {
  const { alone, ofValue } = resolution;
  const step = stepOf(curve, resolution);
  const ofDifference = Math.SQRT2;
  return {
    luck: luckOf,
    // Its expanded uncertainty is 2·√2·u; together with that of the highest sample, 2u, which is added by itself, 2·√3·u.
    off: 2 * (Math.sqrt(3) - 1) * ofValue,
    margin: luckOf + Math.max(2 * ofDifference * ofValue, step + 2 * ofDifference * alone),
  };
}

function around(
  { time, values }: Curve,
  at: number,
  [first, end]: readonly [number, number],
  sign: 1 | -1,
  stretch: number,
): Surrounding {
  const places = [-3, -2, -1, 0, 1, 2, 3].map((by) => at + by * stretch);
  const inside = (k: number): boolean => k >= first && k < end;
  return {
    heights: places.map((k) => (inside(k) ? sign * values[k] : Number.NaN)),
    times: places.map((k) => (inside(k) ? time[k] : Number.NaN)),
  };
}
