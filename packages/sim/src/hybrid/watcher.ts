import { Recorder } from "../trace/recorder.ts";
import type { Interval } from "./interval.ts";
import type { HybridSystem } from "./types.ts";
import type { ExcursionWatch, PeakWatch } from "./watch.ts";

/** A wish to know the integral of a flow over a window that starts now. */
interface Mark {
  remaining: number;
  readonly flow: number;
  sum: number;
  readonly done: (integral: number) => void;
}

/** A value wanted at a time after a logged event (index −1: after the start). */
export interface SampleRequest {
  readonly event: number;
  readonly delay: number;
}

export interface TakenSample extends SampleRequest {
  readonly time: number;
  readonly probes: Float64Array;
}

/** Everything that looks at a run without changing it: trace, peaks, excursions, integrals, windows and samples. */
export class Watcher {
  readonly recorder: Recorder;
  readonly peaks: PeakWatch[] = [];
  readonly excursions: ExcursionWatch[] = [];
  /** Integral of every flow since the start. */
  readonly totals: Float64Array;
  readonly samples: TakenSample[] = [];
  /** Time of the start of the segment that is being watched, s. */
  base = 0;
  private marks: Mark[] = [];
  private requests: SampleRequest[];
  /** Samples whose event has happened, with the time left to each. */
  private due: { readonly request: SampleRequest; left: number }[] = [];
  private readonly system: HybridSystem;
  private readonly record: boolean;
  private readonly probes: Float64Array;
  private readonly flows: Float64Array;

  constructor(system: HybridSystem, requests: readonly SampleRequest[], record: boolean) {
    this.system = system;
    this.record = record;
    this.recorder = new Recorder(system.probeCount);
    this.totals = new Float64Array(system.flowCount);
    this.probes = new Float64Array(system.probeCount);
    this.flows = new Float64Array(system.flowCount);
    this.requests = [...requests].sort((a, b) => a.event - b.event || a.delay - b.delay);
    this.nextRequests(-1);
  }

  /** Integral of `flow` over the next `duration`, handed to `done`; `finish` hands over what there is. */
  window(flow: number, duration: number, done: (integral: number) => void): void {
    this.marks.push({ remaining: duration, flow, sum: 0, done });
  }

  /** A look at the start or just after a change of modes; `row` records it. The system must be observed there. */
  touch(time: number, row: boolean): Float64Array {
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
    interval.integrate(this.totals);
    const found: number[] = [];
    for (const peak of this.peaks) {
      const at = peak.absorb(interval, base);
      if (at > 0 && peak.recorded) found.push(at);
    }
    for (const excursion of this.excursions) excursion.absorb(interval);
    if (this.marks.length > 0) this.absorbMarks(interval);
    this.takeSamples(interval, base);
    if (this.record) this.recordPiece(interval, base, found);
  }

  /** The run has come to rest: everything goes on at its last rate for `duration`. */
  extend(time: number, duration: number): void {
    this.system.flows(this.flows);
    for (let f = 0; f < this.totals.length; f++) this.totals[f] += this.flows[f] * duration;
    for (const mark of this.marks) {
      mark.sum += this.flows[mark.flow] * Math.min(duration, mark.remaining);
      mark.remaining = 0;
    }
    this.system.probes(this.probes);
    for (const excursion of this.excursions) excursion.extend(duration, this.probes);
    for (const { request, left } of this.due) {
      if (left <= duration) this.samples.push({ ...request, time: time + left, probes: this.probes.slice() });
    }
    this.due = this.due.filter(({ left }) => left > duration);
    if (this.record) this.recorder.add(time + duration, this.probes);
  }

  /** Closes every window with what it has seen. */
  finish(): void {
    for (const mark of this.marks) mark.done(mark.sum);
    this.marks = [];
  }

  private recordPiece(interval: Interval, base: number, found: number[]): void {
    const rows: { time: number; probes: Float64Array }[] = [{ time: interval.times[2], probes: interval.looks[2] }];
    for (const at of found) {
      interval.observe(at);
      const probes = new Float64Array(this.system.probeCount);
      this.system.probes(probes);
      rows.push({ time: at, probes });
    }
    if (rows.length > 1) rows.sort((a, b) => a.time - b.time);
    for (const row of rows) this.recorder.add(base + row.time, row.probes);
    this.recorder.add(base + interval.to, interval.looks[4]);
  }

  private absorbMarks(interval: Interval): void {
    const length = interval.to - interval.from;
    const open: Mark[] = [];
    for (const mark of this.marks) {
      if (mark.remaining > length) {
        mark.sum += interval.flowOf(mark.flow);
        mark.remaining -= length;
        open.push(mark);
      } else {
        mark.done(mark.sum + interval.flowUntil(interval.from + mark.remaining, mark.flow));
      }
    }
    this.marks = open;
  }

  private takeSamples(interval: Interval, base: number): void {
    if (this.due.length === 0) return;
    const length = interval.to - interval.from;
    for (const entry of this.due) {
      if (entry.left <= length) {
        const at = Math.min(interval.to, interval.from + entry.left);
        interval.observe(at);
        const probes = new Float64Array(this.system.probeCount);
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
