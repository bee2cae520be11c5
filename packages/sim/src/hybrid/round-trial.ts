import type { Integrator } from "../ode/types.ts";
import { Course } from "./course.ts";
import { Loop } from "./loop.ts";
import type { Timer } from "./parts.ts";
import type { MeasuredRound } from "./round-map.ts";
import type { Gauge, Repeating, RoundEvent } from "./rounds-types.ts";
import type { HybridSystem, LoggedEvent } from "./types.ts";
import { ExcursionWatch, PeakWatch } from "./watch.ts";
import { Watcher } from "./watcher.ts";

/** A round with what happened in it and how high its gauges came: the peak's value and its time after the start of the round. */
export interface TriedRound extends MeasuredRound {
  readonly events: readonly RoundEvent[];
  readonly peaks: readonly { readonly value: number; readonly offset: number }[];
  /** Of the flows that windows look at. */
  readonly course: Course;
}

export interface TrialParts {
  readonly system: HybridSystem;
  readonly repeating: Repeating;
  readonly integrator: Integrator;
  /** Whose excursions are summed up in the trial too, and whose windows ask for the course of their flows. */
  readonly watcher: Watcher;
}

/** Changes of mode in a round that is not a round. */
const MOST_CHANGES = 1e5;

/** Rounds integrated on the side: nobody is told of them, and nothing of them is kept but what is measured. */
export class RoundTrial {
  private readonly loop: Loop;
  private readonly watcher: Watcher;
  private readonly repeating: Repeating;
  private readonly gauges: readonly Gauge[];
  private readonly peaks: readonly PeakWatch[];
  private readonly pattern: readonly LoggedEvent[];
  private readonly integrator: Integrator;
  private readonly timers: readonly Timer[];
  private told: LoggedEvent[] = [];
  private since = 0;
  private course: Course;
  private readonly windowed: readonly number[];

  /** Starts at `start`, the modes being those of the start of a round; `pattern` is what a round logs. */
  constructor(parts: TrialParts, start: Float64Array, pattern: readonly LoggedEvent[], firstStep: number) {
    const { system, repeating, integrator, watcher } = parts;
    this.repeating = repeating;
    this.gauges = repeating.gauges;
    this.pattern = pattern;
    this.integrator = integrator;
    this.timers = system.timers;
    this.watcher = new Watcher(system, [], false);
    this.windowed = [...watcher.windowed];
    this.course = new Course(this.windowed);
    this.watcher.onPiece = (interval) => this.course.add(interval);
    this.peaks = this.gauges.map((gauge) => new PeakWatch(gauge.probe));
    this.watcher.peaks.push(...this.peaks);
    for (const { probe, level, sign, enabled, squares } of watcher.excursions) {
      const twin = new ExcursionWatch(probe, level, sign);
      twin.enabled = enabled;
      twin.squares = squares;
      this.watcher.excursions.push(twin);
    }
    const options = {
      endTime: 1e12,
      firstStep,
      maxChanges: MOST_CHANGES,
      pausesAfter: () => !this.alike || this.told.length === pattern.length,
    };
    this.loop = new Loop(system, integrator, this.watcher, start, options, (event) => this.told.push(event));
  }

  /** Integrates one more round, coming up for air every so many steps; null where something else happens than in a round. */
  *round(): Generator<void, TriedRound | null> {
    const { loop, repeating } = this;
    repeating.tell(loop);
    this.told = [];
    this.since = loop.time;
    this.course = new Course(this.windowed);
    const start = Float64Array.from(loop.state);
    const before = this.sums();
    for (const peak of this.peaks) peak.value = Number.NEGATIVE_INFINITY;
    while (this.told.length < this.pattern.length) {
      const steps = this.integrator.counters.steps;
      if (loop.advance(200) !== "running" || !this.alike) return null;
      if (this.integrator.counters.steps > steps) yield;
    }
    const end = Float64Array.from(loop.state);
    const period = loop.time - this.since;
    const sums = this.sums().map((sum, k) => sum - before[k]);
    const peaks = this.peaks.map(({ value, time }) => ({ value, offset: Math.max(0, time - this.since) }));
    const events = this.told.map(({ source, code, time }) => ({ source, code, offset: time - this.since }));
    // What is left of each timer; an idle one returns by staying idle.
    const kept = Float64Array.from(this.timers, ({ running, remaining }) => (running ? remaining : -1));
    return { start, end, period, sums, kept, peaks, events, course: this.course };
  }

  private get alike(): boolean {
    const { told, pattern } = this;
    return told.every(({ source, code }, k) => source === pattern[k]?.source && code === pattern[k]?.code);
  }

  /** Flows, then tallies, then what is summed up of each excursion. */
  private sums(): Float64Array {
    const { totals, excursions } = this.watcher;
    return Float64Array.from([
      ...totals,
      ...this.repeating.tallies(),
      ...excursions.flatMap(({ total, area, squared }) => [total, area, squared]),
    ]);
  }
}
