import { type Vector, zeros } from "../ode/vector.ts";
import { Recorder } from "../trace/recorder.ts";
import { type Followed, instantsBetween } from "./between.ts";
import type { Interval } from "./interval.ts";
import type { HybridSystem } from "./types.ts";
import type { ExcursionWatch, PeakWatch } from "./watch.ts";

/** A wish to know the integral of a flow over a window: where its clock and its total stood when it was opened. */
interface Mark {
  readonly since: number;
  readonly flow: number;
  readonly total: number;
  readonly done: (integral: number) => void;
}

/** Two ways to count what is left of a window differ by no more than this share of the time. */
const ROUNDING = 1e-15;

/** A value wanted at a time after a logged event (index −1: after the start). */
export interface SampleRequest {
  /** Place in the run's events. */
  readonly event: number;
  /** After that event, s. */
  readonly delay: number;
}

export interface TakenSample extends SampleRequest {
  readonly time: number;
  readonly probes: number[];
}

/** Everything that looks at a run without changing it: trace, peaks, excursions, integrals, windows and samples. */
export class Watcher {
  readonly recorder: Recorder;
  readonly peaks: PeakWatch[] = [];
  readonly excursions: ExcursionWatch[] = [];
  /** Integral of every flow since the start. */
  readonly totals: number[];
  readonly samples: TakenSample[] = [];
  /** Time of the start of the segment that is being watched, s. */
  base = 0;
  /** Flows that windows have looked at. */
  readonly windowed = new Set<number>();
  /** Told of every piece that was taken in. */
  onPiece: ((interval: Interval) => void) | null = null;
  /** Open windows by their duration: those of one duration end in the order in which they were opened. */
  private readonly marks = new Map<number, Mark[]>();
  private openMarks = 0;
  /** No window ends before the clock gets here. */
  private nextClose = Number.POSITIVE_INFINITY;
  /** Instants of recorded peaks inside the piece of the moment. */
  private readonly found: number[] = [];
  /** Sum of all pieces taken in, s. */
  private clock = 0;
  private requests: SampleRequest[];
  /** Samples whose event has happened, with the time left to each. */
  private due: { readonly request: SampleRequest; left: number }[] = [];
  private readonly system: HybridSystem;
  private readonly record: boolean;
  /** What straight lines between the rows are to follow. */
  followed: readonly Followed[] = [];
  private readonly probes: number[];
  private readonly flows: number[];

  constructor(system: HybridSystem, requests: readonly SampleRequest[], record: boolean, mostRows?: number) {
    this.system = system;
    this.record = record;
    this.recorder = new Recorder(system.probeCount, mostRows);
    this.totals = zeros(system.flowCount);
    this.probes = zeros(system.probeCount);
    this.flows = zeros(system.flowCount);
    this.requests = [...requests].sort((a, b) => a.event - b.event || a.delay - b.delay);
    this.nextRequests(-1);
  }

  /**
   * Integral of `flow` over the next `duration`, handed to `done`; `finish` hands over what there is. A window may have begun `ago`, the flow
   * having added `seen` since.
   */
  window(flow: number, duration: number, done: (integral: number) => void, ago = 0, seen = 0): void {
    const mark = { since: this.clock - ago, flow, total: this.totals[flow] - seen, done };
    const queue = this.marks.get(duration);
    this.openMarks++;
    this.nextClose = Math.min(this.nextClose, mark.since + duration);
    this.windowed.add(flow);
    if (queue === undefined) this.marks.set(duration, [mark]);
    else queue.splice(queue.findLastIndex(({ since }) => since <= mark.since) + 1, 0, mark);
  }

  /** Time has gone on by `duration` with nothing integrated; `grown` tells what a flow added up to some time into it. */
  leap(duration: number, grown: (flow: number, time: number) => number): void {
    for (const [window, queue] of this.marks) {
      const open: Mark[] = [];
      for (const mark of queue) {
        const { flow, total, done } = mark;
        const left = window - (this.clock - mark.since);
        if (left > duration) open.push({ ...mark, total: total - grown(flow, duration) });
        else done(this.totals[flow] - total + grown(flow, left));
      }
      this.openMarks -= queue.length - open.length;
      this.marks.set(window, open);
    }
    this.clock += duration;
    this.nextClose = Number.POSITIVE_INFINITY;
    for (const [window, [first]] of this.marks)
      if (first !== undefined) this.nextClose = Math.min(this.nextClose, first.since + window);
  }

  /** A look at the start or just after a change of modes; `row` records it. The system must be observed there. */
  touch(time: number, row: boolean): Vector {
    this.base = time;
    this.system.probes(this.probes);
    for (const peak of this.peaks) if (peak.remaining > 0) peak.touch(this.probes, time);
    for (const excursion of this.excursions) excursion.touch(this.probes);
    if (this.record && row) this.recorder.add(time, this.probes);
    return this.probes;
  }

  /** A logged event has happened; samples after it count from here. */
  eventLogged(index: number): void {
    this.nextRequests(index);
  }

  /** Takes in a piece of a step whose five looks are taken; `base` is the time of the segment's start. */
  absorb(interval: Interval, base: number): void {
    this.base = base;
    const { totals } = this;
    const { integrals } = interval;
    for (let f = 0; f < totals.length; f++) totals[f] += integrals[f];
    // Shortening a list costs as much as all watches together, even where it is empty.
    if (this.found.length > 0) this.found.length = 0;
    for (const peak of this.peaks) {
      const at = peak.absorb(interval, base);
      if (at > 0 && peak.recorded && this.record) this.found.push(at);
    }
    for (const excursion of this.excursions) excursion.absorb(interval);
    const length = interval.to - interval.from;
    if (this.openMarks > 0 && this.nextClose - this.clock <= length + ROUNDING * this.nextClose)
      this.closeMarks(interval);
    this.clock += length;
    this.onPiece?.(interval);
    this.takeSamples(interval, base);
    if (this.record) this.recordPiece(interval, base, this.found);
  }

  /** The run has come to rest: everything goes on at its last rate for `duration`. */
  extend(time: number, duration: number): void {
    this.system.flows(this.flows);
    for (let f = 0; f < this.totals.length; f++) this.totals[f] += this.flows[f] * duration;
    for (const [window, queue] of this.marks) {
      for (const { since, flow, total, done } of queue) {
        const beyond = Math.max(0, this.clock + duration - since - window);
        done(this.totals[flow] - total - this.flows[flow] * Math.min(beyond, duration));
      }
    }
    this.marks.clear();
    this.openMarks = 0;
    this.system.probes(this.probes);
    for (const excursion of this.excursions) excursion.extend(time - this.base, duration, this.probes);
    for (const { request, left } of this.due) {
      if (left <= duration) this.samples.push({ ...request, time: time + left, probes: this.probes.slice() });
    }
    this.due = this.due.filter(({ left }) => left > duration);
    if (this.record) this.recorder.add(time + duration, this.probes);
  }

  /** Closes every window with what it has seen. */
  finish(): void {
    for (const queue of this.marks.values()) for (const { flow, total, done } of queue) done(this.totals[flow] - total);
    this.marks.clear();
    this.openMarks = 0;
  }

  private recordPiece(interval: Interval, base: number, found: readonly number[]): void {
    const rows: { time: number; probes: Vector }[] = [{ time: interval.times[2], probes: interval.looks[2] }];
    const between = this.followed.length === 0 ? found : [...found, ...instantsBetween(interval, this.followed)];
    for (const at of between) {
      interval.observe(at);
      const probes = zeros(this.system.probeCount);
      this.system.probes(probes);
      rows.push({ time: at, probes });
    }
    if (rows.length > 1) rows.sort((a, b) => a.time - b.time);
    for (const row of rows) this.recorder.add(base + row.time, row.probes);
    this.recorder.add(base + interval.to, interval.looks[4]);
  }

  /** Hands over the windows that end within this piece, whose integrals are in the totals already. */
  private closeMarks(interval: Interval): void {
    const length = interval.to - interval.from;
    this.nextClose = Number.POSITIVE_INFINITY;
    for (const [duration, queue] of this.marks) {
      while (queue.length > 0) {
        const { since, flow, total, done } = queue[0];
        const left = duration - (this.clock - since);
        if (left > length) {
          this.nextClose = Math.min(this.nextClose, since + duration);
          break;
        }
        queue.shift();
        this.openMarks--;
        done(this.totals[flow] - total - interval.integrals[flow] + interval.flowUntil(interval.from + left, flow));
      }
    }
  }

  private takeSamples(interval: Interval, base: number): void {
    if (this.due.length === 0) return;
    const length = interval.to - interval.from;
    for (const entry of this.due) {
      if (entry.left <= length) {
        const at = Math.min(interval.to, interval.from + entry.left);
        interval.observe(at);
        const probes = zeros(this.system.probeCount);
        this.system.probes(probes);
        this.samples.push({ ...entry.request, time: base + at, probes });
      }
      entry.left -= length;
    }
    this.due = this.due.filter(({ left }) => left > 0);
  }

  private nextRequests(event: number): void {
    for (const request of this.requests) if (request.event === event) this.due.push({ request, left: request.delay });
    this.requests = this.requests.filter((request) => request.event > event);
  }
}
