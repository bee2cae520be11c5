import type { Run, RunEvent } from "../../model/result.ts";
import type { Channel } from "./channels.ts";
import type { LineCurve } from "./curve.ts";
import type { Simulated } from "./simulated.ts";

/** Two runs to both sides of a value, and how far they lie apart in it. */
export interface Sides {
  readonly up: Simulated;
  readonly down: Simulated;
  readonly over: number;
}

/** Events after which no curve bends by more than this share of what a value may be off by do not matter; nor do more than these. */
const FELT = 0.1;
const MOST_KNOTS = 200;
/** How far around an event curves are kept, in samples, and at how many instants on each side beside the run's own rows. */
const WINDOW = 3;
const NODES = 24;
/** Two runs whose events lie so many samples apart are compared between events. */
const APART = 2;

/**
 * A run and how it changes with its values, around its events. Between two runs a curve that steps changes by leaps, so no difference of two of them at one instant
 * is a derivative. What does change evenly is when an event happens, and what a curve is a given share of the way from one event to the next: both are kept,
 * with their derivatives.
 */
export class Warp {
  /** When the events happen that curves show, s. */
  readonly knots: Float64Array;
  /** By how much later for each value's unit, by value. */
  private readonly slopes: readonly Float64Array[];
  /** When they happen in the runs to both sides, by value; null for those that stay where they are. */
  private readonly sideKnots: readonly (readonly Float64Array[] | null)[];
  private readonly tables: readonly Table[];

  constructor(
    base: Simulated,
    private readonly sides: readonly (Sides | null)[],
    channels: readonly Channel[],
    private readonly step: number,
  ) {
    const places = knotPlaces(base, sides, channels, step);
    const timesOf = ({ run }: Simulated): Float64Array => Float64Array.from(places, (place) => run.events[place].time);
    this.knots = timesOf(base);
    const moved = sides.map((side) =>
      side === null ? null : { up: timesOf(side.up), down: timesOf(side.down), over: side.over },
    );
    this.sideKnots = moved.map((own) => (own === null ? null : [own.up, own.down]));
    this.slopes = moved.map((own) =>
      this.knots.map((_, j) => (own === null ? 0 : (own.up[j] - own.down[j]) / own.over)),
    );
    this.tables = channels.map((_, c) => this.tableOf(base.lines[c], c, WINDOW * step, this.sideKnots));
  }

  /** When events happen with the values changed. */
  moved(change: ArrayLike<number>, into: Float64Array): void {
    into.set(this.knots);
    for (let k = 0; k < this.slopes.length; k++) {
      const slope = this.slopes[k];
      const by = change[k];
      if (by !== 0) for (let j = 0; j < into.length; j++) into[j] += slope[j] * by;
    }
  }

  /** The last event that is not after `t`; −1 before the first. `guess`: where to begin. */
  segmentOf(t: number, knots: Float64Array, guess: number): number {
    let j = guess;
    while (j + 1 < knots.length && knots[j + 1] <= t) j++;
    while (j >= 0 && knots[j] > t) j--;
    return j;
  }

  /** What a channel shows at `t` with the values changed, V or A; good within the windows around events. */
  at(channel: number, t: number, change: ArrayLike<number>, knots: Float64Array, guess: number): number {
    const j = this.segmentOf(t, knots, guess);
    const { time, value, slopes, begins } = this.tables[channel];
    const u = warped(t, j, knots, this.knots);
    let [low, high] = [begins[j + 1], begins[j + 2] - 1];
    if (high < low) return Number.NaN;
    while (high - low > 1) {
      const middle = (low + high) >> 1;
      if (time[middle] <= u) low = middle;
      else high = middle;
    }
    const share = Math.min(1, Math.max(0, (u - time[low]) / (time[high] - time[low])));
    let sum = value[low] + share * (value[high] - value[low]);
    for (let k = 0; k < slopes.length; k++) {
      const slope = slopes[k];
      if (change[k] !== 0) sum += change[k] * (slope[low] + share * (slope[high] - slope[low]));
    }
    return sum;
  }

  /**
   * By how much what a channel shows at `t`, away from events, changes for a value's unit: the difference of two runs at one instant; but where an event beside it lies
   * samples apart in them, at the instants that are as far between events, less what the run itself changes from the one to the other.
   *
   * @param slope of the run there, V/s or A/s
   * @param segment the last event that is not after `t`
   */
  slopeAt(value: number, channel: number, t: number, slope: number, segment: number): number {
    const side = this.sides[value];
    const own = this.sideKnots[value];
    if (side === null || own === null) return 0;
    const apart = (j: number): number => Math.abs((own[0][j] ?? 0) - (own[1][j] ?? 0));
    const isFar = Math.max(apart(segment), apart(segment + 1)) > APART * this.step;
    const [up, down] = isFar ? own.map((knots) => warped(t, segment, this.knots, knots)) : [t, t];
    return (side.up.lines[channel].at(up) - side.down.lines[channel].at(down) - slope * (up - down)) / side.over;
  }

  private tableOf(
    line: LineCurve,
    channel: number,
    window: number,
    moved: readonly (readonly Float64Array[] | null)[],
  ): Table {
    const { knots } = this;
    const time: number[] = [];
    const segments: number[] = [];
    const begins: number[] = [];
    for (let j = -1; j < knots.length; j++) {
      begins.push(time.length);
      for (const u of nodesOf(line, knots, j, window)) {
        time.push(u);
        segments.push(j);
      }
    }
    begins.push(time.length);
    const shownAt = (curve: LineCurve, own: Float64Array, i: number): number => {
      const j = segments[i];
      if (j + 1 < knots.length && time[i] === knots[j + 1]) return curve.before(own[j + 1]);
      const t = warped(time[i], j, knots, own);
      return curve.at(j < 0 ? t : Math.max(t, own[j]));
    };
    const value = Float64Array.from(time, (_, i) => shownAt(line, knots, i));
    const slopes = this.sides.map((side, k) => {
      const own = moved[k];
      if (side === null || own === null) return new Float64Array(time.length);
      const { up, down, over } = side;
      return Float64Array.from(
        time,
        (_, i) => (shownAt(up.lines[channel], own[0], i) - shownAt(down.lines[channel], own[1], i)) / over,
      );
    });
    return { time: Float64Array.from(time), value, slopes, begins };
  }
}

interface Table {
  readonly time: Float64Array;
  readonly value: Float64Array;
  readonly slopes: readonly Float64Array[];
  /** Where the rows of each segment begin: before the first event, after it, … and the end of all. */
  readonly begins: readonly number[];
}

/** The same share of the way from one event to the next. */
function warped(t: number, j: number, from: Float64Array, to: Float64Array): number {
  if (from.length === 0) return t;
  if (j < 0) return t + to[0] - from[0];
  if (j + 1 >= from.length) return t + to[j] - from[j];
  return to[j] + ((t - from[j]) * (to[j + 1] - to[j])) / (from[j + 1] - from[j]);
}

/** Instants of a segment that lie in a window behind its first event or before its last. */
function nodesOf({ time }: LineCurve, knots: Float64Array, j: number, window: number): number[] {
  const first = j < 0 ? Number.NEGATIVE_INFINITY : knots[j];
  const last = j + 1 < knots.length ? knots[j + 1] : Number.POSITIVE_INFINITY;
  const all: number[] = [];
  const grain = window * 1e-6;
  const add = (from: number, to: number): void => {
    for (let n = 0; n <= NODES; n++) all.push(n === NODES ? to : from + ((to - from) * n) / NODES);
    let [low, high] = [0, time.length];
    while (high > low) {
      const middle = (low + high) >> 1;
      if (time[middle] < from + grain) low = middle + 1;
      else high = middle;
    }
    for (let i = low; i < time.length && time[i] < to - grain; i++) all.push(time[i]);
  };
  if (last - first < 2 * window) add(first, last);
  else {
    if (Number.isFinite(first)) add(first, first + window);
    if (Number.isFinite(last)) add(last - window, last);
  }
  return all.toSorted((a, b) => a - b).filter((u, n, sorted) => n === 0 || u > sorted[n - 1]);
}

/** Events that all runs have in the same order and that a curve shows, by their place. */
function knotPlaces(
  base: Simulated,
  sides: readonly (Sides | null)[],
  channels: readonly Channel[],
  step: number,
): number[] {
  const others = sides.flatMap((side) => (side === null ? [] : [side.up.run, side.down.run]));
  const same = ({ kind, subject }: RunEvent, { events }: Run, k: number): boolean => {
    const other = events[k];
    return other?.kind === kind && other.subject.part === subject.part && other.subject.owner === subject.owner;
  };
  const { events } = base.run;
  const odd = events.findIndex((event, k) => others.some((run) => !same(event, run, k)));
  const bendAt = (t: number): number =>
    Math.max(
      ...channels.map(({ off }, c) => {
        const line = base.lines[c];
        const [before, after] = [line.before(t), line.at(t)];
        const kink = line.at(t + step / 2) - after - (before - line.at(t - step / 2));
        return Math.max(Math.abs(after - before), Math.abs(kink)) / off;
      }),
    );
  const felt = events
    .slice(0, odd < 0 ? events.length : odd)
    .map(({ time }, place) => ({ place, bend: bendAt(time) }))
    .filter(({ bend }) => bend > FELT)
    .toSorted((a, b) => b.bend - a.bend)
    .slice(0, MOST_KNOTS)
    .map(({ place }) => place)
    .toSorted((a, b) => a - b);
  const kept: number[] = [];
  for (const place of felt) {
    const last = kept.at(-1);
    const apart = ({ events: all }: Run): boolean =>
      last === undefined || all[place].time - all[last].time > 1e-6 * step;
    if ([base.run, ...others].every(apart)) kept.push(place);
  }
  return kept;
}
