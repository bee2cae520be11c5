import { largestWithin, rootFromBelow } from "../ode/root.ts";
import { zeros } from "../ode/vector.ts";
import type { Interval } from "./interval.ts";
import { ASLEEP } from "./parts.ts";
import type { HybridSystem } from "./types.ts";

/** Finds, look by look through a step, where a guard first gets above zero: between two looks, or in a hump that all looks miss. */
export class Crossings {
  private readonly system: HybridSystem;
  private readonly interval: Interval;
  /** The values of the guards that are awake in this segment, and how many. */
  private readonly awake: (() => number)[] = [];
  private count = 0;
  /** Whether one of them is above zero at the look of the moment, and whether one may have been between the looks. */
  private crossed = false;
  private humped = false;
  /** Their values at the look of the moment and at the two before. */
  private now: number[];
  private before: number[];
  private older: number[];

  constructor(system: HybridSystem, interval: Interval) {
    this.system = system;
    this.interval = interval;
    const vector = () => zeros(system.guards.length);
    this.now = vector();
    this.before = vector();
    this.older = vector();
  }

  /** Starts a segment; the system must be observed there. Modes change only between segments, so who sleeps now sleeps on. */
  reset(): void {
    const { guards } = this.system;
    this.count = 0;
    for (let g = 0; g < guards.length; g++) {
      const value = guards[g].active ? guards[g].value() : ASLEEP;
      if (value === ASLEEP) continue;
      this.awake[this.count] = guards[g].value;
      this.before[this.count++] = value;
    }
  }

  /** The right end of the earliest root up to look j, at which the system must be observed; infinite where none is. */
  rootUpTo(j: number): number {
    const { interval } = this;
    this.read(j > 1);
    const hump = this.humped ? this.rootInHump(interval.times[j - 2], interval.times[j]) : Number.POSITIVE_INFINITY;
    const root = this.crossed ? this.earliestRoot(interval.times[j - 1], interval.times[j]) : Number.POSITIVE_INFINITY;
    const spare = this.older;
    this.older = this.before;
    this.before = this.now;
    this.now = spare;
    return Math.min(root, hump);
  }

  /** Reads the guards that are awake; `third` where two looks were before. */
  private read(third: boolean): void {
    const { awake, count, now, before, older } = this;
    let crossed = false;
    let humped = false;
    for (let k = 0; k < count; k++) {
      const value = awake[k]();
      now[k] = value;
      if (value > 0) crossed = true;
      if (third && mayHump(older[k], before[k], value)) humped = true;
    }
    this.crossed = crossed;
    this.humped = humped;
  }

  /** The right end of the earliest root among the guards that cross between the look before and this one. */
  private earliestRoot(from: number, to: number): number {
    const { before, now } = this;
    const width = Math.max(1e-16 * to, 1e-10 * (to - from));
    let end = to;
    for (let g = 0; g < this.count; g++) {
      if (!(now[g] > 0)) continue;
      const value = this.valueOf(g);
      const atEnd = end === to ? now[g] : value(end);
      if (atEnd > 0) end = rootFromBelow(value, from, end, Math.min(0, before[g]), atEnd, width);
    }
    return end;
  }

  /** The right end of the earliest root of a guard that is below zero at three looks but not between them; infinite where none is. */
  private rootInHump(left: number, right: number): number {
    const { older, before, now } = this;
    let earliest = Number.POSITIVE_INFINITY;
    for (let g = 0; g < this.count; g++) {
      if (!mayHump(older[g], before[g], now[g])) continue;
      const value = this.valueOf(g);
      const top = largestWithin(value, left, right, 1e-3 * (right - left));
      if (!(top.value > 0)) continue;
      const width = Math.max(1e-16 * right, 1e-10 * (right - left));
      earliest = Math.min(earliest, rootFromBelow(value, left, top.at, older[g], top.value, width));
    }
    return earliest;
  }

  /** Of the guard that is g-th among those awake. */
  private valueOf(g: number): (t: number) => number {
    return (t) => {
      this.interval.observe(t);
      return this.awake[g]();
    };
  }
}

/** Whether a parabola through three looks that are not above zero may be: it rises above its middle by no more than their range. */
function mayHump(left: number, middle: number, right: number): boolean {
  return middle >= left && middle >= right && middle <= 0 && 2 * middle > Math.min(left, right);
}
