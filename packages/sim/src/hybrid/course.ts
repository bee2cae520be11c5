import { firstAfter } from "../trace/place.ts";
import type { Interval } from "./interval.ts";

/** Half the distance of the outer inner looks of a piece, whose length is 1. */
const REACH = Math.sqrt(0.15);

interface Piece {
  /** Both counted from the start of the round, s. */
  readonly from: number;
  readonly to: number;
  /** Of each flow, up to the start of the piece. */
  readonly before: readonly number[];
  /** Of each flow, at the three inner looks. */
  readonly rates: readonly (readonly [number, number, number])[];
}

/** How the integrals of some flows grow in the course of a round: piece by piece, each a parabola through what its inner looks showed. */
export class Course {
  private readonly flows: readonly number[];
  private readonly pieces: Piece[] = [];
  private sums: readonly number[];
  private end = 0;

  constructor(flows: readonly number[]) {
    this.flows = flows;
    this.sums = flows.map(() => 0);
  }

  /** Takes in the next piece, whose integrals are known. */
  add({ from, to, flowLooks, integrals }: Interval): void {
    const start = this.end;
    this.end += to - from;
    const [a, b, c] = flowLooks;
    this.pieces.push({
      from: start,
      to: this.end,
      before: this.sums,
      rates: this.flows.map((flow) => [a[flow], b[flow], c[flow]]),
    });
    this.sums = this.sums.map((sum, k) => sum + integrals[this.flows[k]]);
  }

  /** The share of what the round adds to the k-th flow that is there after a share of its time. */
  share(k: number, time: number): number {
    const at = time * this.end;
    const piece = this.pieces.findLast(({ from }) => from <= at);
    if (piece === undefined || this.sums[k] === 0) return time;
    const length = piece.to - piece.from;
    const [a, b, c] = piece.rates[k];
    const v = Math.min(1, (at - piece.from) / length) - 0.5;
    const linear = ((c - a) / (4 * REACH)) * (v * v - 0.25);
    const bent = ((a - 2 * b + c) / (6 * REACH * REACH)) * (v ** 3 + 0.125);
    return (piece.before[k] + length * (b * (v + 0.5) + linear + bent)) / this.sums[k];
  }
}

/** What flows added up to over rounds in a row: known at the end of each round, and between by the course of one nearby. */
export class Ledger {
  private readonly flows: readonly number[];
  private readonly ends: number[] = [0];
  private readonly sums: (readonly number[])[];
  private readonly courses: Course[] = [];

  constructor(flows: readonly number[]) {
    this.flows = flows;
    this.sums = [flows.map(() => 0)];
  }

  /** The next round ends at `end`, counted from the start of the first; `sums` are those of all flows since that start. */
  add(end: number, sums: ArrayLike<number>, course: Course): void {
    this.ends.push(end);
    this.sums.push(this.flows.map((flow) => sums[flow]));
    this.courses.push(course);
  }

  /** Integral of a flow from the start of the first round to `time` after it. */
  until(flow: number, time: number): number {
    const k = this.flows.indexOf(flow);
    if (k < 0) throw new RangeError("nothing was noted of this flow");
    const round = this.roundAt(time);
    const [start, end] = [this.ends[round], this.ends[round + 1]];
    const [before, after] = [this.sums[round][k], this.sums[round + 1][k]];
    return before + (after - before) * this.courses[round].share(k, Math.min(1, (time - start) / (end - start)));
  }

  private roundAt(time: number): number {
    return firstAfter(this.ends, time, 1, this.courses.length) - 1;
  }
}
