import { type LeapPlan, type PlanParts, planLeap, type Refusal } from "../../packages/sim/src/hybrid/leap-plan.ts";
import { remember } from "../../packages/sim/src/hybrid/memento.ts";
import { type Guard, Timer } from "../../packages/sim/src/hybrid/parts.ts";
import { RoundMap } from "../../packages/sim/src/hybrid/round-map.ts";
import type { Gauge, Repeating, StateRole } from "../../packages/sim/src/hybrid/rounds-types.ts";
import type { HybridSystem, Journal, LoggedEvent } from "../../packages/sim/src/hybrid/types.ts";
import { Watcher } from "../../packages/sim/src/hybrid/watcher.ts";
import { type Integrator, newCounters, type Step } from "../../packages/sim/src/ode/types.ts";
import { copy, type Vector } from "../../packages/sim/src/ode/vector.ts";

/** What a beat acts on: the state last observed, numbers kept beside it, and the journal. */
export interface World {
  y: ArrayLike<number>;
  readonly kept: { beats: number; tallies: [number, number]; other: number };
  journal: Journal;
}

export interface Beaten {
  readonly name: string;
  readonly role: StateRole;
  readonly start?: number;
  /** What it gains by itself, 1/s. */
  readonly rate?: (world: World) => number;
  readonly scale?: number;
}

export interface BeatParts {
  readonly states: readonly Beaten[];
  /** What a beat does to the state. */
  readonly beat?: (y: Vector, world: World) => void;
  /** Time from a beat to the next (1 unless given), s. */
  readonly period?: (world: World) => number;
  /** Whether something is logged in between, too: half a second after a beat, and half a period before the next. */
  readonly halfWay?: boolean;
  /** Others beside the one that beats. */
  readonly timers?: (world: World) => readonly Timer[];
  readonly guards?: (world: World) => readonly Guard[];
  /** The states unless given. */
  readonly probes?: (y: ArrayLike<number>, world: World) => readonly number[];
  readonly flows?: (y: ArrayLike<number>, world: World) => readonly number[];
  readonly gauges?: readonly Gauge[];
  readonly memory?: (world: World) => number;
  /** Whether two sums are kept beside the state, to which each beat adds 3 and 5. */
  readonly tallies?: boolean;
  /** Longest step, s. */
  readonly step?: number;
}

/** Of one whose solution is known: each step is as long as it may be, and right. */
class Known implements Integrator {
  readonly counters = newCounters();
  readonly retakes = false;
  readonly nextStep = Number.POSITIVE_INFINITY;
  private from: readonly number[] = [];
  private time = 0;
  private readonly solution: (y: readonly number[], t: number) => readonly number[];
  private readonly longest: number;

  constructor(solution: (y: readonly number[], t: number) => readonly number[], longest: number) {
    this.solution = solution;
    this.longest = longest;
  }

  restart(y: Vector): void {
    this.from = Array.from(y);
    this.time = 0;
  }

  advance(limit: number, _most: number, observe: (step: Step) => string): "limit" | "stopped" {
    while (this.time < limit) {
      const from = this.time;
      const to = Math.min(limit, from + this.longest);
      this.time = to;
      this.counters.steps++;
      const answer = observe({ from, to, interpolate: (t, out) => copy(this.solution(this.from, t), out) });
      if (answer === "stop") return "stopped";
    }
    return "limit";
  }
}

/**
 * States that gain and relax by themselves, and a timer that beats: at each beat they jump, and that is logged. Whatever is between two beats is known in
 * closed form, so that a run is its map from beat to beat, to the last digits.
 */
export function beating(parts: BeatParts) {
  const { states, beat = () => {}, period = () => 1, halfWay = false, step = Number.POSITIVE_INFINITY } = parts;
  const start = states.map((state) => state.start ?? 0);
  const world: World = {
    y: start,
    kept: { beats: 0, tallies: [0, 0], other: 0 },
    journal: { log() {}, suggestStep() {} },
  };
  const add = (gains: ArrayLike<number>): void => {
    for (let k = 0; k < gains.length; k++) world.kept.tallies[k] += gains[k];
  };
  const main: Timer = new Timer((y) => {
    beat(y, world);
    world.kept.beats++;
    add([3, 5]);
    world.journal.log(0, "beat", "its time has come");
    again();
  });
  const half = new Timer(() => {
    world.journal.log(1, "half", "half a round is over");
    main.start(period(world) / 2);
  });
  const again = () => (halfWay ? half.start(0.5) : main.start(period(world)));
  again();
  const timers = [main, half, ...(parts.timers?.(world) ?? [])];
  const guards = parts.guards?.(world) ?? [];
  const probes = parts.probes ?? ((y: ArrayLike<number>) => Array.from(y));
  const flows = parts.flows ?? (() => []);
  const refuse = (): never => {
    throw new Error("nobody has to ask: the solution is known");
  };
  const system: HybridSystem = {
    size: states.length,
    rates: refuse,
    timeRates: refuse,
    linearize: refuse,
    factor: refuse,
    solve: refuse,
    guards,
    timers,
    scales: states.map(({ scale = 1 }) => scale),
    probeCount: probes(start, world).length,
    flowCount: flows(start, world).length,
    balance: null,
    maxStep: () => Number.POSITIVE_INFINITY,
    observe: (_t, y) => {
      world.y = y;
    },
    probes: (out) => copy(probes(world.y, world), out),
    flows: (out) => copy(flows(world.y, world), out),
    reconcile() {},
    shift() {},
    restless: () => true,
  };
  const integrator = new Known(
    (y, t) =>
      states.map(({ role, rate = () => 0 }, i) => {
        if (role.kind !== "relaxes") return y[i] + rate(world) * t;
        const end = rate(world) * role.timeConstant;
        return end + (y[i] - end) * Math.exp(-t / role.timeConstant);
      }),
    step,
  );
  const repeating: Repeating = {
    names: states.map(({ name }) => name),
    roles: states.map(({ role }) => role),
    gauges: parts.gauges ?? [],
    tallies: () => (parts.tallies ? [...world.kept.tallies] : []),
    addToTallies: add,
    memory: () => (parts.memory ? [{ name: "what is kept", value: parts.memory(world) }] : []),
    remember: () => remember([world.kept, ...timers, ...guards], []),
    tell: (journal) => {
      world.journal = journal;
    },
  };
  const watcher = new Watcher(system, [], false);
  return { system, repeating, integrator, watcher, world, start, main };
}

export type Beating = ReturnType<typeof beating>;

/** What is logged by these, as patterns are compared. */
export function patternOf(...events: readonly (readonly [source: number, code: string])[]): readonly LoggedEvent[] {
  return events.map(([source, code]) => ({ source, code, time: 0, sincePrevious: 0, cause: "" }));
}

export const beatOnly = patternOf([0, "beat"]);

/** Drains what comes up for air, counting how often it did. */
export function drained<T>(steps: Generator<void, T>): { readonly result: T; readonly pauses: number } {
  for (let pauses = 0; ; pauses++) {
    const next = steps.next();
    if (next.done) return { result: next.value, pauses };
  }
}

/** Plans a leap from the start of what beats; `landings` counts from how many places rounds were integrated. */
export function planned(all: Beating, limit: number, others: Partial<PlanParts> = {}) {
  let landings = 0;
  const { result, pauses } = drained(
    planLeap({
      ...all,
      map: new RoundMap(all.repeating.roles, all.system.scales),
      start: Float64Array.from(all.start),
      pattern: beatOnly,
      firstStep: 1,
      limit,
      ...others,
      prepare: () => {
        landings++;
        others.prepare?.();
      },
    }),
  );
  return { result, pauses, landings };
}

/** The plan, where there has to be one. */
export function leapOf(all: Beating, limit: number, others: Partial<PlanParts> = {}): LeapPlan {
  const { result } = planned(all, limit, others);
  if ("reason" in result) throw new Error(result.reason);
  return result;
}

/** The reason, where there must not be a plan. */
export function refusalOf(all: Beating, limit: number, others: Partial<PlanParts> = {}): Refusal["reason"] {
  const { result } = planned(all, limit, others);
  if ("state" in result) throw new Error(`a leap over ${result.ends.length} rounds`);
  return result.reason;
}
