import { largestWithin, rootFromBelow } from "../ode/root.ts";
import type { Interval } from "./interval.ts";
import { ASLEEP } from "./parts.ts";
import type { HybridSystem } from "./types.ts";

/** Finds, look by look through a step, where a guard first gets above zero: between two looks, or in a hump that all looks miss. */
export class Crossings {
  private readonly system: HybridSystem;
  private readonly interval: Interval;
  /** Which guards are awake in this segment, and how many. */
  private readonly awake: Int32Array;
  private count = 0;
  /** Their values at the look of the moment and at the two before. */
  private now: Float64Array;
  private before: Float64Array;
  private older: Float64Array;

  constructor(system: HybridSystem, interval: Interval) {
    this.system = system;
    this.interval = interval;
    const vector = () => new Float64Array(system.guards.length);
    this.awake = new Int32Array(system.guards.length);
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
      this.awake[this.count] = g;
      this.before[this.count++] = value;
    }
  }

  /** The right end of the earliest root up to look j, at which the system must be observed; infinite where none is. */
  rootUpTo(j: number): number {
    const { interval } = this;
    const crossed = this.read(this.now);
    const hump = j > 1 ? this.rootInHump(interval.times[j - 2], interval.times[j]) : Number.POSITIVE_INFINITY;
    const root = crossed ? this.earliestRoot(interval.times[j - 1], interval.times[j]) : Number.POSITIVE_INFINITY;
    const spare = this.older;
    this.older = this.before;
    this.before = this.now;
    this.now = spare;
    return Math.min(root, hump);
  }

  /** Reads the guards that are awake; true where one is above zero. */
  private read(out: Float64Array): boolean {
    const { guards } = this.system;
    const { awake, count } = this;
    let above = false;
    for (let k = 0; k < count; k++) {
      const value = guards[awake[k]].value();
      if (value > 0) above = true;
      out[k] = value;
    }
    return above;
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
      const middle = before[g];
      // No parabola through three looks rises above its middle by more than their range.
      if (middle < older[g] || middle < now[g] || 2 * middle <= Math.min(older[g], now[g]) || middle > 0) continue;
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
      return this.system.guards[this.awake[g]].value();
    };
  }
}
