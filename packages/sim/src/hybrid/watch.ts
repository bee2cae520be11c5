import { largestWithin, rootFromBelow } from "../ode/root.ts";
import type { Vector } from "../ode/vector.ts";
import type { Interval } from "./interval.ts";

/** The largest value of a probe (of −probe with `sign` −1, of |probe| with `sign` 0) and when it was reached. */
export class PeakWatch {
  value = Number.NEGATIVE_INFINITY;
  time = 0;
  /** Watches only this much longer, s. */
  remaining = Number.POSITIVE_INFINITY;
  readonly probe: number = 0;
  readonly sign: -1 | 0 | 1;
  /** Whether the instant of a new peak inside a step shall be recorded. */
  readonly recorded: boolean;

  constructor(probe: number, sign: -1 | 0 | 1 = 1, recorded = false) {
    this.probe = probe;
    this.sign = sign;
    this.recorded = recorded;
  }

  /** Forgets what was seen; counts from a look at `probes` at `time`, for `duration`. */
  reset(probes: Vector, time: number, duration = Number.POSITIVE_INFINITY): void {
    this.value = Number.NEGATIVE_INFINITY;
    this.remaining = duration;
    this.touch(probes, time);
  }

  touch(probes: Vector, time: number): void {
    this.offer(this.signed(probes[this.probe]), time);
  }

  /** Returns the local time of a new peak inside the piece, or −1. */
  absorb(interval: Interval, base: number): number {
    const { remaining } = this;
    if (remaining < Number.POSITIVE_INFINITY) {
      if (!(remaining > 0)) return -1;
      const length = interval.to - interval.from;
      if (remaining < length) {
        this.endWithin(interval, base);
        return -1;
      }
      this.remaining = remaining - length;
    }
    const largest = largestOf(interval, this.probe, this.sign);
    if (!canExceed(largest, smallestOf(interval, this.probe, this.sign), this.value)) return -1;
    return this.search(interval, base, largest);
  }

  /** The time for which it watches ends inside the piece. */
  private endWithin(interval: Interval, base: number): void {
    const { from } = interval;
    const { remaining } = this;
    const end = from + remaining;
    this.remaining = 0;
    for (let j = 1; j <= 16; j++) {
      const value = this.signed(interval.probeAt(from + (remaining * j) / 16, this.probe));
      this.offer(value, base + end);
    }
  }

  /** Some look may have beaten the record, or a maximum between looks. */
  private search(interval: Interval, base: number, largest: number): number {
    const { looks, times } = interval;
    let found = -1;
    if (largest > this.value) {
      let j = 0;
      while (j < 4 && this.signed(looks[j][this.probe]) < largest) j++;
      this.offer(largest, base + times[j]);
      // The looks at the middle and the end are rows of the recording as it is.
      if (j === 1 || j === 3) found = times[j];
    }
    const at = bump(interval, this.probe, this.sign, this.value + NOTHING * Math.abs(this.value));
    return at === null ? found : (this.climb(interval, base, at) ?? found);
  }

  /** Finds the maximum at `at`; its local time where it is a new peak, else null. */
  private climb(interval: Interval, base: number, at: Bump): number | null {
    const value = (t: number) => this.signed(interval.probeAt(t, this.probe));
    const peak = largestWithin(value, at.left, at.right, 1e-5 * (interval.to - interval.from), at.vertex);
    return this.offer(peak.value, base + peak.at) ? peak.at : null;
  }

  private signed(value: number): number {
    return signed(value, this.sign);
  }

  private offer(value: number, time: number): boolean {
    if (!(value > this.value)) return false;
    this.value = value;
    this.time = time;
    return true;
  }
}

/** Time spent beyond a level (above with `sign` 1, below with −1, |probe| above with 0), its longest unbroken stretch and the excess' integral. */
export class ExcursionWatch {
  total = 0;
  longest = 0;
  area = 0;
  /** Integral of the probe's square beyond the level, where `squares` asks for it. */
  squared = 0;
  squares = false;
  enabled = true;
  readonly probe: number = 0;
  readonly level: number = 0;
  readonly sign: -1 | 0 | 1;
  /** Told when the probe passes the level outwards, with the local time; null where it jumped between pieces. */
  onLeave: ((interval: Interval | null, at: number) => void) | null = null;
  /** Told of every stretch beyond the level, with local times. */
  onStay: ((from: number, to: number) => void) | null = null;
  private current = 0;
  private beyond = false;

  constructor(probe: number, level: number, sign: -1 | 0 | 1) {
    this.probe = probe;
    this.level = level;
    this.sign = sign;
  }

  /** A look after a jump or at the start. */
  touch(probes: Vector): void {
    const beyond = this.enabled && this.excess(probes[this.probe]) > 0;
    if (!beyond) this.current = 0;
    if (beyond && !this.beyond) this.onLeave?.(null, 0);
    this.beyond = beyond;
  }

  absorb(interval: Interval): void {
    if (!this.enabled) return;
    const { probe, sign } = this;
    const level = sign === -1 ? -this.level : this.level;
    const largest = largestOf(interval, probe, sign) - level;
    const smallest = smallestOf(interval, probe, sign) - level;
    if (!this.beyond && !canExceed(largest, smallest, -1e-3 * Math.abs(this.level))) return;
    if (this.beyond && smallest > 0) this.stay(interval, interval.from, interval.to);
    else this.cross(interval, !this.beyond && largest <= 0);
  }

  /** The piece is, or may be, on both sides of the level; `allOne` where no look is beyond. */
  private cross(interval: Interval, allOne: boolean): void {
    const { times } = interval;
    const extra = allOne ? this.hidden(interval) : -1;
    if (allOne && extra < 0) return;
    const value = (t: number) => this.excess(interval.probeAt(t, this.probe));
    const points = [...times];
    const before = interval.looks.map((probes) => this.excess(probes[this.probe]));
    if (extra >= 0) {
      const place = points.findIndex((t) => t > extra);
      points.splice(place, 0, extra);
      before.splice(place, 0, value(extra));
    }
    let mark = times[0];
    if (before[0] > 0 !== this.beyond) before[0] = this.beyond ? 1e-300 : -1e-300;
    for (let j = 1; j < points.length; j++) {
      const [fa, fb] = [before[j - 1], before[j]];
      if (fa > 0 === fb > 0) continue;
      const width = 1e-9 * (times[4] - times[0]);
      if (fb > 0) {
        const at = rootFromBelow(value, points[j - 1], points[j], Math.min(fa, 0), fb, width);
        this.beyond = true;
        this.onLeave?.(interval, at);
        mark = at;
      } else {
        const at = rootFromBelow((t) => -value(t), points[j - 1], points[j], Math.min(-fa, 0), -fb || 1e-300, width);
        this.stay(interval, mark, at);
        this.beyond = false;
        this.current = 0;
        mark = at;
      }
    }
    if (this.beyond) this.stay(interval, mark, times[4]);
  }

  /** From a local time on the last rates go on for `duration`. */
  extend(from: number, duration: number, probes: Vector): void {
    const excess = this.excess(probes[this.probe]);
    if (!this.enabled || !(excess > 0)) return;
    this.add(duration, excess * duration);
    if (this.squares) this.squared += probes[this.probe] ** 2 * duration;
    this.onStay?.(from, from + duration);
  }

  private hidden(interval: Interval): number {
    const level = (this.sign === 0 ? 1 : this.sign) * this.level;
    const at = bump(interval, this.probe, this.sign, level - 1e-3 * Math.abs(level));
    if (at === null) return -1;
    const peak = largestWithin(
      (t) => this.excess(interval.probeAt(t, this.probe)),
      at.left,
      at.right,
      1e-4 * (at.right - at.left),
      at.vertex,
    );
    return peak.value > 0 ? peak.at : -1;
  }

  private stay(interval: Interval, from: number, to: number): void {
    let area = 0;
    interval.lookThrough(from, to, (probes, weight) => {
      const value = probes[this.probe];
      area += weight * this.excess(value);
      if (this.squares) this.squared += weight * value ** 2;
    });
    this.add(to - from, area);
    this.onStay?.(from, to);
  }

  private add(duration: number, area: number): void {
    this.total += duration;
    this.area += area;
    this.lengthen(duration);
  }

  /** The unbroken stretch of the moment has gone on for `duration`. */
  lengthen(duration: number): void {
    this.current += duration;
    if (this.current > this.longest) this.longest = this.current;
  }

  private excess(value: number): number {
    return this.sign === 0 ? Math.abs(value) - this.level : this.sign * (value - this.level);
  }
}

interface Bump {
  readonly left: number;
  readonly right: number;
  readonly vertex: number;
  readonly estimate: number;
}

/** A maximum that may rise above the record by no more than this share of it is not searched for: a resting value's last digits flicker. */
const NOTHING = 1e-12;

/**
 * Where, between which looks, a probe seems to have a maximum inside the piece that is higher than `wanted`, and about how high; null where it
 * seems to have none.
 */
function bump(interval: Interval, probe: number, sign: -1 | 0 | 1, wanted: number): Bump | null {
  const { times, looks } = interval;
  let best: Bump | null = null;
  let p1 = signed(looks[0][probe], sign);
  let p2 = signed(looks[1][probe], sign);
  for (let j = 1; j < 4; j++) {
    const p0 = p1;
    p1 = p2;
    p2 = signed(looks[j + 1][probe], sign);
    if (!canExceed(Math.max(p0, p1, p2), Math.min(p0, p1, p2), wanted)) continue;
    const x0 = times[j - 1];
    const x1 = times[j];
    const x2 = times[j + 1];
    const s01 = (p1 - p0) / (x1 - x0);
    const s12 = (p2 - p1) / (x2 - x1);
    const curvature = (s12 - s01) / (x2 - x0);
    if (!(curvature < 0)) continue;
    const vertex = 0.5 * (x0 + x1) - s01 / (2 * curvature);
    if (!(vertex > x0 && vertex < x2)) continue;
    const estimate = p1 + (vertex - x1) * (s01 + curvature * (vertex - x0));
    if (estimate > wanted && (best === null || estimate > best.estimate))
      best = { left: x0, right: x2, vertex, estimate };
  }
  return best;
}

/** No parabola through three looks rises above them by more than their range. */
function canExceed(largest: number, smallest: number, wanted: number): boolean {
  return largest + (largest - smallest) > wanted;
}

/** Largest and smallest of probe, −probe or |probe| at the looks; that of a |probe| that changes its sign is taken for 0. */
function largestOf({ low, high }: Interval, probe: number, sign: -1 | 0 | 1): number {
  if (sign === 1) return high[probe];
  return sign === -1 ? -low[probe] : Math.max(high[probe], -low[probe]);
}

function smallestOf({ low, high }: Interval, probe: number, sign: -1 | 0 | 1): number {
  if (sign === 1) return low[probe];
  return sign === -1 ? -high[probe] : Math.max(0, low[probe], -high[probe]);
}

function signed(value: number, sign: -1 | 0 | 1): number {
  return sign === 0 ? Math.abs(value) : sign * value;
}
