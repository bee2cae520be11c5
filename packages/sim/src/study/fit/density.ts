import type { Channel } from "./channels.ts";
import { type Own, ownOf } from "./held.ts";
import { LagTable, MOST_LAG } from "./lag.ts";
import { LATE } from "./misfit.ts";
import type { Ground } from "./search.ts";
import type { Simulated } from "./simulated.ts";
import { type Sides, Warp } from "./warp.ts";

/** Samples that lie nearer to an event than this, in samples, may come to lie on its other side. */
const NEAR = 1.5;
/** The same where an instrument may lag: what is left of a step after that is nothing. */
const NEAR_LAGGED = 2.75;
/** A wall that an instant must not pass is this soft, in samples, so that a walk that begins behind it finds its way; (0.02)² beside 1/12 is nothing. */
const SOFT = 0.02;
/** What rounding leaves in common counts where it is more than this share of what a value may be off by. */
const HEARD = 0.02;

/** Runs around the values from which everything else is told. */
export interface Around {
  readonly base: Simulated;
  /** Values, shift, lags, zeros; behind them, where it is not taken as nothing, by how much the instrument lags in all channels, s. */
  readonly all: readonly number[];
  /** By value; null for those that stay where they are. */
  readonly sides: readonly (Sides | null)[];
}

/**
 * How likely values, shift, lags and zeros are by the capture: the logarithm of their density, up to what is the same everywhere. `scatter`: what each channel's
 * residuals scatter by, in units of what was expected.
 *
 * - Each sample is the run at its instant and normal noise. Away from events the run is taken as straight in all that moves, near them it is warped, so that steps stay steps.
 * - A steep edge lies anywhere between its two samples, with the same chance: these two tell nothing else.
 * - Within its bounds each value is as likely as any other, and so is the shift while capture and run overlap; lags and zeros are normal about 0.
 */
export function densityOf(
  { channels, pairs, varied, shifts, zeroOffs, lagOff }: Ground,
  around: Around,
  scatter: readonly number[],
): Density {
  const { base, all, sides } = around;
  const count = varied.length;
  const many = channels.length;
  const own = ownOf(all, count, many);
  const step = Math.max(...channels.map(({ interval, every }) => interval * every));
  const warp = new Warp(base, sides, channels, step);
  const knots = Float64Array.from(warp.knots);
  const lagPlace = count + 2 * many;
  const table = all.length > lagPlace ? new LagTable(base.lines, warp.knots, step) : null;
  const nearBy = (table === null ? NEAR : NEAR_LAGGED) * step;
  const quadratic = new Quadratic(all.length);
  for (let c = 1; c < many; c++) quadratic.addKnown(count + c, own.lags[c], lagOff);
  for (const [c, zero] of own.zeros.entries())
    if (zeroOffs[c] > 0) quadratic.addKnown(count + many + c, zero, zeroOffs[c]);
  const near: Near[] = [];
  for (const [c, channel] of channels.entries()) {
    const levels = new Levels(quadratic, channel, scatter[c]);
    const { curve, places, offs, off } = channel;
    const shift = own.shift + own.lags[c];
    let guess = -1;
    for (let k = 0; k < places.length; k++) {
      const t = curve.time[places[k]] + shift;
      const shown = curve.values[places[k]];
      guess = warp.segmentOf(t, knots, guess);
      const line = base.lines[c];
      const slope = (line.at(t + step / 4) - line.at(t - step / 4)) / (step / 2);
      if (Math.min(t - (knots[guess] ?? -Infinity), (knots[guess + 1] ?? Infinity) - t) < nearBy) {
        const time = curve.time[places[k]];
        near.push({ channel: c, time, shown, over: 1 / (off * scatter[c]), segment: guess, slope });
        continue;
      }
      const row = new Float64Array(all.length);
      for (let j = 0; j < count; j++) row[j] = warp.slopeAt(j, c, t, slope, guess);
      row[count] = slope;
      if (c > 0) row[count + c] = slope;
      row[count + many + c] = 1;
      if (table !== null) row[lagPlace] = -slope;
      const left = shown - own.zeros[c] - line.at(t) + (table === null ? 0 : all[lagPlace] * slope);
      levels.add(row, left, offs[k] * scatter[c], shown);
    }
    levels.end();
  }
  const walls = wallsOf({ channels, pairs }, around, own, count);
  const straight = quadratic.copy();
  for (const { channel, low, high, off, simulated, slopes } of walls) {
    const row = new Float64Array(all.length);
    row.set(slopes);
    row[count] = -1;
    if (channel > 0) row[count + channel] = -1;
    if (table !== null) row[lagPlace] = Math.LN2;
    const late = table === null ? 0 : Math.LN2 * all[lagPlace];
    const now = simulated + late - own.shift - own.lags[channel];
    straight.add(row, (low + high) / 2 - now, 1 / ((high - low) ** 2 / 12 + off ** 2));
  }
  const total = new Float64Array(all.length);
  const at = (change: Float64Array): number => {
    for (let k = 0; k < count; k++) {
      const value = all[k] + change[k];
      if (value < varied[k].low || value > varied[k].high) return Number.NEGATIVE_INFINITY;
    }
    for (let k = 0; k < total.length; k++) total[k] = all[k] + change[k];
    if (total[count] < shifts[0] || total[count] > shifts[1]) return Number.NEGATIVE_INFINITY;
    const tau = table === null ? 0 : total[lagPlace];
    if (tau < 0 || tau > MOST_LAG * step) return Number.NEGATIVE_INFINITY;
    let sum = quadratic.at(change);
    warp.moved(change, knots);
    for (const { channel, time, shown, over, segment, slope } of near) {
      const t = time + total[count] + (channel > 0 ? total[count + channel] : 0);
      let left = shown - total[count + many + channel] - warp.at(channel, t, change, knots, segment);
      if (table !== null) {
        const j = warp.segmentOf(t, knots, segment);
        left -= table.at(channel, j, t - knots[j], slope, tau);
      }
      sum += (left * over) ** 2;
    }
    for (const { channel, low, high, off, simulated, slopes } of walls) {
      // Behind a lag a step is half over after ln 2 of it.
      let t = simulated + Math.LN2 * tau - total[count] - (channel > 0 ? total[count + channel] : 0);
      for (let k = 0; k < count; k++) t += slopes[k] * change[k];
      const beyond = Math.max(0, low - t, t - high);
      sum += (beyond / off) ** 2;
    }
    return -sum / 2;
  };
  return { at, straight };
}

/** A density by how much everything is changed from where the runs are that it is told by. */
export interface Density {
  /** Its logarithm. */
  at(change: Float64Array): number;
  /** About what it would be were all of it straight and normal: samples at events left out, an edge normal about the middle of its two samples. */
  readonly straight: Quadratic;
}

interface Near {
  readonly channel: number;
  readonly time: number;
  readonly shown: number;
  readonly over: number;
  readonly segment: number;
  /** Of the run there, V/s or A/s. */
  readonly slope: number;
}

interface Wall {
  readonly channel: number;
  /** The two samples between which it lies, s of the capture. */
  readonly low: number;
  readonly high: number;
  readonly off: number;
  /** When the run has it, s, and by how much later for each value's unit. */
  readonly simulated: number;
  readonly slopes: Float64Array;
}

function wallsOf(
  { channels, pairs }: Pick<Ground, "channels" | "pairs">,
  around: Around,
  own: Own,
  count: number,
): Wall[] {
  const { base, sides } = around;
  return pairs.flatMap(({ channel, edge, place }): Wall[] => {
    const timeOf = ({ edges }: Simulated): number | undefined => edges[channel][place]?.time;
    const simulated = timeOf(base);
    if (!edge.isSteep || simulated === undefined) return [];
    const { curve, interval } = channels[channel];
    const slopes = new Float64Array(count);
    for (const [k, side] of sides.entries())
      if (side !== null) slopes[k] = ((timeOf(side.up) ?? simulated) - (timeOf(side.down) ?? simulated)) / side.over;
    const [low, high] = [curve.time[edge.place], curve.time[edge.place + 1]];
    const now = simulated - own.shift - own.lags[channel];
    const late = Math.max(0, low - now, now - high);
    // The model lacks what an edge so far off is: it tells no better than that where anything lies.
    return [{ channel, low, high, off: late > LATE * interval ? late : SOFT * interval, simulated, slopes }];
  });
}

/** A sum of squares of what is straight: c − 2bᵀx + xᵀAx. */
export class Quadratic {
  private readonly a: Float64Array;
  private readonly b: Float64Array;
  private c = 0;

  constructor(private readonly count: number) {
    this.a = new Float64Array(count * count);
    this.b = new Float64Array(count);
  }

  copy(): Quadratic {
    const other = new Quadratic(this.count);
    other.a.set(this.a);
    other.b.set(this.b);
    other.c = this.c;
    return other;
  }

  /** A and b of some places alone, all others held. */
  part(places: readonly number[]): { readonly a: number[][]; readonly b: number[] } {
    return {
      a: places.map((i) => places.map((j) => this.a[i * this.count + j])),
      b: places.map((i) => this.b[i]),
    };
  }

  /** (left − row·x)², times a weight. */
  add(row: Float64Array, left: number, weight: number): void {
    const { count, a, b } = this;
    for (let i = 0; i < count; i++) {
      const scaled = weight * row[i];
      if (scaled === 0) continue;
      b[i] += scaled * left;
      for (let j = 0; j < count; j++) a[i * count + j] += scaled * row[j];
    }
    this.c += weight * left * left;
  }

  /** What is known beforehand: normal about 0. */
  addKnown(place: number, now: number, off: number): void {
    this.add(new Float64Array(this.count).fill(1, place, place + 1), -now, 1 / off ** 2);
  }

  at(x: Float64Array): number {
    const { count, a, b } = this;
    let sum = this.c;
    for (let i = 0; i < count; i++) {
      let own = 0;
      for (let j = 0; j < count; j++) own += a[i * count + j] * x[j];
      sum += x[i] * (own - 2 * b[i]);
    }
    return sum;
  }
}

/**
 * Samples that show one and the same step of the instrument share what was rounded away: noise of each, and one error of all. The inverse of such a covariance is
 * W − W11ᵀW·s²/(1 + s²·ΣW) (Sherman and Morrison, Ann. Math. Stat. 21, 1950, 124–127).
 */
class Levels {
  private readonly sums = new Map<number, { readonly row: Float64Array; left: number; weight: number }>();

  constructor(
    private readonly quadratic: Quadratic,
    private readonly channel: Channel,
    private readonly scatter: number,
  ) {}

  add(row: Float64Array, left: number, off: number, shown: number): void {
    const { quadratic, channel, sums } = this;
    const weight = 1 / off ** 2;
    quadratic.add(row, left, weight);
    if (channel.common < HEARD * channel.off * this.scatter) return;
    const level = Math.round(shown / channel.quantum);
    const sum = sums.get(level) ?? { row: new Float64Array(row.length), left: 0, weight: 0 };
    for (let i = 0; i < row.length; i++) sum.row[i] += weight * row[i];
    sum.left += weight * left;
    sum.weight += weight;
    sums.set(level, sum);
  }

  end(): void {
    const shared = this.channel.common ** 2;
    for (const { row, left, weight } of this.sums.values())
      this.quadratic.add(row, left, -shared / (1 + shared * weight));
  }
}
