import type { Integrator } from "../ode/types.ts";
import { IntegrationFailure } from "../ode/types.ts";
import { type LeapPlan, OUT_OF_STEP, planLeap, type Refusal } from "./leap-plan.ts";
import type { Loop } from "./loop.ts";
import type { Timer } from "./parts.ts";
import { RoundMap } from "./round-map.ts";
import { absoluteTimers, obstacleBetween, type Section, sectionAt } from "./round-sections.ts";
import type { Carried, Leap, Repeating } from "./rounds-types.ts";
import type { HybridSystem, LoggedEvent, LoopStatus } from "./types.ts";
import type { Watcher } from "./watcher.ts";

/** Rounds that must lie ahead before anything is tried: fewer are integrated as fast. */
const FEWEST_ROUNDS = 200;
/** The same once there was a leap. */
const FEWEST_AGAIN = 30;
/** Rounds alike in a row before a leap is tried. */
const ALIKE = 2;
/** Rounds until the next try after one that failed; doubles each time. */
const FIRST_WAIT = 8;
/** The first round after a leap may differ from what was foretold by this share. */
const WORST_AGREEMENT = 1e-5;

export interface RoundsParts {
  readonly system: HybridSystem;
  readonly repeating: Repeating;
  readonly integrator: Integrator;
  readonly watcher: Watcher;
  readonly endTime: number;
  /** How a leap is logged. */
  readonly logged: { readonly source: number; readonly code: string };
  readonly onLeap: (leap: Leap) => void;
}

interface Attempt {
  readonly key: string;
  readonly pattern: readonly LoggedEvent[];
  /** Timers that count down across rounds. */
  readonly absolute: readonly Timer[];
}

/** A leap that is being worked out on the side. */
interface Working {
  readonly attempt: Attempt;
  readonly steps: Generator<void, LeapPlan | Refusal>;
  /** Brings everything back to where the run stands. */
  readonly end: () => void;
}

/**
 * Looks for rounds in a run, and leaps over as many as can be worked out. A round starts where something happens that happened before, with
 * the same between; it repeats itself where the states that have to return do so, with every timer and whatever else is kept.
 */
export class Rounds {
  readonly leaps: Leap[] = [];
  readonly carried: Carried;
  private readonly parts: RoundsParts;
  private readonly sections = new Map<string, Section>();
  private readonly maps = new Map<string, RoundMap>();
  private attempt: Attempt | null = null;
  private working: Working | null = null;
  /** Where the first round after a leap was foretold to end. */
  private foretold: { readonly key: string; readonly state: Float64Array } | null = null;
  /** Why the last try came to nothing, and what kept the last round from being like the one before. */
  private obstacle: string | null = null;
  private between: string | null = null;
  private wait = 1;
  private sinceTry = 0;
  private unlike = 0;

  constructor(parts: RoundsParts) {
    this.parts = parts;
    const { system, watcher } = parts;
    this.carried = {
      flows: new Float64Array(system.flowCount),
      excursions: watcher.excursions.map(() => ({ total: 0, area: 0, squared: 0 })),
    };
  }

  /** Why no round was leapt over although enough lay ahead; null where there was no need, or there were leaps. */
  get refusal(): string | null {
    if (this.leaps.length > 0) return null;
    return this.obstacle ?? this.between ?? (this.unlike > FEWEST_ROUNDS ? "no round is like the one before" : null);
  }

  /** Goes on for about `steps` accepted steps. */
  advance(loop: Loop, steps: number): LoopStatus {
    const { counters } = this.parts.integrator;
    const end = counters.steps + steps;
    while (counters.steps < end && loop.status === "running") {
      if (this.working === null) {
        loop.advance(end - counters.steps);
        if (this.attempt !== null && loop.status === "running") this.working = this.begin(loop, this.attempt);
        this.attempt = null;
        continue;
      }
      const next = this.working.steps.next();
      if (next.done) this.conclude(loop, next.value);
    }
    return loop.status;
  }

  /** Gives up what is being worked out: the run is where it was. */
  abandon(): void {
    this.working?.end();
    this.working = null;
  }

  /** Whether to pause after these events because a leap is worth a try. */
  pausesAfter(loop: Loop, events: readonly LoggedEvent[]): boolean {
    const { system, repeating, endTime } = this.parts;
    const key = events.map(({ source, code }) => `${source} ${code}`).join(", ");
    const before = this.sections.get(key);
    const now = sectionAt(system, repeating, loop.events, loop.time, loop.state, before);
    this.sections.set(key, now);
    if (before === undefined) return false;
    if (this.foretold?.key === key) this.compare(now);
    if (now.alike === 0) {
      this.unlike++;
      // Something else happened: what was learnt holds for what was before it. Of the first round after a leap nothing can be said.
      if (before.previous !== before.count) this.maps.delete(key);
    }
    if (now.alike < ALIKE) return false;
    const ahead = (endTime - now.time) / (now.time - before.time);
    if (!(ahead >= (this.leaps.length > 0 ? FEWEST_AGAIN : FEWEST_ROUNDS))) return false;
    const absolute = absoluteTimers(system.timers, before, now);
    this.between = obstacleBetween(system, repeating, before, now) ?? (absolute === null ? OUT_OF_STEP : null);
    if (absolute === null || this.between !== null || ++this.sinceTry < this.wait) return false;
    this.attempt = { key, pattern: loop.events.slice(before.count), absolute };
    return true;
  }

  private begin(loop: Loop, attempt: Attempt): Working {
    const { repeating, endTime } = this.parts;
    const { key, pattern, absolute } = attempt;
    const modes = repeating.remember();
    const due = absolute.map(({ remaining }) => remaining);
    this.sinceTry = 0;
    const steps = planLeap({
      ...this.parts,
      map: this.mapOf(key),
      start: Float64Array.from(loop.state),
      pattern,
      firstStep: loop.restartStep,
      limit: Math.min(endTime - loop.time, ...due),
      prepare: () => {
        for (const timer of absolute) timer.stop();
      },
    });
    const end = () => {
      modes();
      repeating.tell(loop);
      loop.resume();
    };
    return { attempt, steps, end };
  }

  private mapOf(key: string): RoundMap {
    const { repeating, system } = this.parts;
    const map = this.maps.get(key) ?? new RoundMap(repeating.roles, system.scales);
    this.maps.set(key, map);
    return map;
  }

  private conclude(loop: Loop, found: LeapPlan | Refusal): void {
    const { working } = this;
    this.abandon();
    if (working === null) return;
    if ("state" in found) {
      this.leap(loop, working.attempt, found);
      return;
    }
    this.wait = Math.max(FIRST_WAIT, 2 * this.wait);
    this.obstacle = found.reason;
  }

  private leap(loop: Loop, { key, absolute }: Attempt, plan: LeapPlan): void {
    const { repeating, logged, system, watcher } = this.parts;
    const { state, duration, ends, period, events, ledger } = plan;
    const from = loop.time;
    const rounds = ends.length;
    const due = absolute.map(({ remaining }) => remaining);
    const tallies = repeating.tallies();
    plan.modes();
    for (const [k, timer] of absolute.entries()) timer.remaining = due[k] - duration;
    this.carry(plan, tallies);
    const cause = `${rounds} rounds of ${period.toPrecision(4)} s, each as the one before, were worked out at once: nothing new happens in them`;
    watcher.leap(duration, (flow, time) => ledger.until(flow, time));
    loop.leap(state, duration, { ...logged, cause });
    const leap = {
      from,
      to: loop.time,
      rounds,
      period,
      ends: ends.map((end) => from + end),
      events,
      ledger,
      peaks: plan.peaks.map(({ value, time }, g) => ({ probe: repeating.gauges[g].probe, value, time: from + time })),
    };
    this.leaps.push(leap);
    this.parts.onLeap(leap);
    this.sections.clear();
    this.sections.set(key, sectionAt(system, repeating, loop.events, loop.time, loop.state, undefined));
    this.foretold = { key, state: this.mapOf(key).travel(state, 1, () => true).state };
    this.wait = 1;
    this.sinceTry = 0;
  }

  private carry({ sums, duration }: LeapPlan, tallies: readonly number[]): void {
    const { flows, excursions } = this.carried;
    const { watcher, repeating } = this.parts;
    for (let f = 0; f < flows.length; f++) flows[f] += sums[f];
    // The modes behind the leap bring the tallies of what was integrated on the side.
    repeating.addToTallies(repeating.tallies().map((side, k) => tallies[k] + sums[flows.length + k] - side));
    for (const [k, excursion] of excursions.entries()) {
      const [total, area, squared] = sums.slice(flows.length + tallies.length + 3 * k);
      excursion.total += total;
      excursion.area += area;
      excursion.squared += squared;
      // Beyond without a break from before to after: one stretch.
      if (total >= duration * (1 - 1e-9)) watcher.excursions[k].lengthen(duration);
    }
  }

  /** The first whole round after a leap has been integrated: it must be what the map said. */
  private compare(now: Section): void {
    const { foretold } = this;
    this.foretold = null;
    if (foretold === null) return;
    const { system, repeating } = this.parts;
    for (let i = 0; i < now.state.length; i++) {
      const size = Math.max(Math.abs(now.state[i]), system.scales[i]);
      if (!(Math.abs(now.state[i] - foretold.state[i]) <= WORST_AGREEMENT * size))
        throw new IntegrationFailure(
          `after rounds that were worked out at once ${repeating.names[i]} is not what it should be`,
          now.time,
          i,
        );
    }
  }
}
