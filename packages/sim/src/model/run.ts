import { Loop } from "../hybrid/loop.ts";
import { Rounds } from "../hybrid/rounds.ts";
import type { LoopStatus } from "../hybrid/types.ts";
import type { PeakWatch } from "../hybrid/watch.ts";
import { type SampleRequest, Watcher } from "../hybrid/watcher.ts";
import type { Issue } from "../issue/issue.ts";
import type { Integrator } from "../ode/types.ts";
import { zeros } from "../ode/vector.ts";
import type { Scenario } from "../scenario/types.ts";
import { type Assembly, assemble } from "./assemble.ts";
import { FED, HEAT, LEAST_ENERGY, TURNED_OVER } from "./energy-balance.ts";
import { type Findings, watchAll } from "./findings/index.ts";
import { isSubject, type NamedEvent, type NamedLeap } from "./findings/kit.ts";
import { FromMelting, type Ground, keepConducting, type Melting, noteMelting } from "./from-melting.ts";
import { integratorFor, type Method, relativeTolerance } from "./integrator.ts";
import { leaptWrongly } from "./leapt-wrongly.ts";
import { readLine } from "./readings.ts";
import { refuseImpossible } from "./refusals.ts";
import { repeatingLine } from "./repeating.ts";
import type { EventKind, Outcome, Run, RunEvent, Subject } from "./result.ts";
import { startState } from "./start.ts";
import { swinging } from "./swinging.ts";

/** How a scenario is run. */
export interface RunOptions {
  /** Integration method; `odex` is the non-stiff check for short windows. */
  readonly method?: Method;
  /** Relative tolerance, 1e-12 … 1e-3; `default` is 1e-6, `tight` 1e-9. */
  readonly tolerance?: number | "default" | "tight";
  /** Ends the run earlier than the scenario, s. */
  readonly until?: number;
  /** Values wanted at times after events; they come back as `samples` of the run. */
  readonly samples?: readonly SampleRequest[];
  /**
   * Whether to keep the waveforms (default true: every step). `most` bounds the rows that are held: a long run then keeps its extremes and its
   * events, and the trace says that it was thinned. At least 128, and eight rows a column. `within` names columns that straight lines between two rows
   * may miss by so much at most, in the column's unit: more rows are then kept of steps in which they bend.
   */
  readonly record?: boolean | { readonly most?: number; readonly within?: Readonly<Record<string, number>> };
  /** Whether the line is noted when a fuse melts, so that `fromMelting` may go on from there (default false). */
  readonly noteMeltings?: boolean;
  /** Lets this fuse carry on as a conductor when it melts: shows the available short-circuit current. */
  readonly unclearing?: Subject;
  /**
   * Whether rounds of a line that repeats itself may be worked out instead of integrated, where some hundreds lie ahead (default: only where
   * nothing is recorded). Waveforms and events then have gaps, told by an event of their own; no other result does.
   */
  readonly leaps?: boolean;
  /** Bound on accepted and rejected steps (default 20 million). */
  readonly maxSteps?: number;
}

const FIRST_STEP = 1e-6;
const MOST_CHANGES = 1e7;

/** A run that can be left and taken up again: `advance` goes on for a number of steps, `result` tells what was found. */
export class Simulation {
  /** What is run; it ends at `until` where that is earlier. */
  readonly scenario: Scenario;
  private readonly assembly: Assembly;
  private readonly loop: Loop;
  private readonly watcher: Watcher;
  private readonly integrator: Integrator;
  private readonly findings: Findings;
  private readonly rounds: Rounds | null;
  private readonly events: RunEvent[] = [];
  private readonly meltings: Melting[] = [];
  private readonly ground: Ground;
  private readonly start: number[];
  private readonly storedAtStart: number;

  /** @throws InvalidInput where the healthy line has no operating point. */
  constructor(scenario: Scenario, options: RunOptions = {}) {
    const { tolerance = "default", method = "rodas5p", record = true, samples = [], maxSteps = 2e7 } = options;
    const { noteMeltings = false } = options;
    const relative = relativeTolerance(tolerance);
    const endTime = Math.min(scenario.endTime, options.until ?? Number.POSITIVE_INFINITY);
    this.scenario = endTime === scenario.endTime ? scenario : { ...scenario, endTime };
    this.assembly = assemble(scenario, relative);
    const { line, journal, subjects } = this.assembly;
    if (options.unclearing) keepConducting(this.assembly, options.unclearing);
    const places = readLine(this.assembly);
    refuseImpossible(scenario);
    this.start = startState(scenario.start === "dead", this.assembly);
    this.storedAtStart = line.stored(this.start);
    const { most, within = {} } = typeof record === "object" ? record : {};
    this.watcher = new Watcher(line, samples, record !== false, most);
    this.watcher.followed = Object.entries(within).map(([name, by]) => ({ probe: places.probe(name), within: by }));
    const listeners: ((event: NamedEvent) => void)[] = [];
    const leapListeners: ((leap: NamedLeap) => void)[] = [];
    const currents = new Map<number, PeakWatch>();
    this.findings = watchAll(this.scenario, {
      assembly: this.assembly,
      watcher: this.watcher,
      places,
      currents,
      time: () => this.loop.time,
      state: () => this.loop.state,
      onEvent: (listener) => listeners.push(listener),
      onLeap: (listener) => leapListeners.push(listener),
      carried: () => this.rounds?.carried ?? null,
    });
    this.ground = {
      scenario: this.scenario,
      assembly: this.assembly,
      places,
      integrator: () => integratorFor(method, line, relative, maxSteps),
      maxChanges: MOST_CHANGES,
      firstStep: FIRST_STEP,
    };
    this.integrator = this.ground.integrator();
    const { leaps = record === false } = options;
    this.rounds =
      leaps && samples.length === 0
        ? new Rounds({
            system: line,
            repeating: repeatingLine(scenario, this.assembly, places),
            integrator: this.integrator,
            watcher: this.watcher,
            endTime,
            logged: { source: subjects.add("line"), code: "repeats itself" satisfies EventKind },
            onLeap: (leap) => {
              const events = leap.events.map(({ source, code, offset }) => {
                return { kind: code as EventKind, subject: subjects.get(source), offset };
              });
              for (const listener of leapListeners) listener({ ...leap, events });
            },
          })
        : null;
    this.loop = new Loop(
      line,
      this.integrator,
      this.watcher,
      this.start,
      {
        endTime,
        firstStep: FIRST_STEP,
        maxChanges: MOST_CHANGES,
        pausesAfter: (events) => this.rounds?.pausesAfter(this.loop, events) ?? false,
      },
      (event) => {
        const { time, sincePrevious, source, code, cause } = event;
        const kind = code as EventKind;
        const subject = subjects.get(source);
        const named: NamedEvent = { time, sincePrevious, source, code, cause, kind, subject };
        this.events.push({ time, sincePrevious, kind, subject, cause });
        for (const listener of listeners) listener(named);
        if (noteMeltings && kind === "melts") this.noteMelting(subject, currents);
      },
    );
    journal.target = this.loop;
  }

  /** Time reached, s from the start of the run. */
  get time(): number {
    return this.loop.time;
  }

  /** Whether it goes on, and how it ended where it does not. */
  get status(): LoopStatus {
    return this.loop.status;
  }

  /** What is suspicious about the healthy line without forbidding a run; only before the first `advance`. */
  warnings(): readonly Issue[] {
    return swinging(this.scenario, this.assembly, this.start);
  }

  /** Goes on for at most `steps` accepted steps. */
  advance(steps: number): LoopStatus {
    return this.rounds === null ? this.loop.advance(steps) : this.rounds.advance(this.loop, steps);
  }

  /** Ends a run that is still going at the time reached. */
  stop(): void {
    this.rounds?.abandon();
    this.loop.stop();
  }

  /** What was found so far; of a run that is still going, up to the time reached. */
  result(): Run {
    this.rounds?.abandon();
    const { line } = this.assembly;
    const { recorder, samples } = this.watcher;
    const { thinned } = recorder;
    const { probes } = line.readings;
    line.observe(this.loop.local, this.loop.state);
    const atEnd = zeros(line.probeCount);
    line.probes(atEnd);
    return {
      scenario: this.scenario,
      outcome: this.outcome(),
      events: this.events,
      trace: {
        time: recorder.times(),
        columns: probes.map(({ name, unit }, k) => ({ name, unit, values: recorder.column(k) })),
        ...(thinned === undefined ? {} : { thinned }),
      },
      energy: this.energy(),
      ...this.findings.collect(),
      atEnd: Object.fromEntries(probes.map(({ name }, k) => [name, atEnd[k]])),
      operatingPoint: Object.fromEntries(line.names.map((name, i) => [name, this.start[i]])),
      samples: samples.map((sample) => ({
        event: sample.event,
        delay: sample.delay,
        time: sample.time,
        values: Object.fromEntries(probes.map(({ name }, k) => [name, sample.probes[k]])),
      })),
      repetition: this.repetition(),
      work: { ...this.integrator.counters, events: this.events.length, quietChanges: this.loop.quietChanges },
    };
  }

  /**
   * The run once more from where a fuse melted, that fuse now a conductor; null where it did not melt or nothing was noted. The line is handed
   * over: take the `result` first, and do not go on with this run.
   *
   * @param subject the fuse
   * @param leaps whether rounds of a line that repeats itself may be worked out instead of integrated
   */
  fromMelting(subject: Subject, leaps: boolean): FromMelting | null {
    const melting = this.meltings.find((each) => isSubject(each.subject, subject.part, subject.owner));
    return melting === undefined ? null : new FromMelting(this.ground, melting, leaps);
  }

  private noteMelting(subject: Subject, currents: ReadonlyMap<number, PeakWatch>): void {
    const { time, state } = this.loop;
    this.meltings.push(noteMelting(this.ground, currents, { subject, time, state }));
  }

  private outcome(): Outcome {
    const { status, failure, time } = this.loop;
    if (status === "failed" && failure) {
      const state = failure.state >= 0 ? this.assembly.line.names[failure.state] : null;
      return {
        status: "failed",
        time,
        failure: {
          reason: failure.reason,
          device: state,
          remedy:
            "a looser or tighter --tolerance, a larger inductance or resistance where one is very small, or a shorter run",
        },
      };
    }
    return {
      status: status === "failed" || status === "running" ? "stopped" : status,
      time,
      failure: null,
    };
  }

  private repetition(): Run["repetition"] {
    const leaps = this.rounds?.leaps ?? [];
    return {
      leaps: leaps.map(({ from, to, rounds, period }) => ({ from, to, rounds, period })),
      refusal: this.rounds?.refusal ?? null,
    };
  }

  private energy(): Run["energy"] {
    const carried = this.rounds?.carried.flows;
    const totals = this.watcher.totals.map((total, f) => total + (carried?.[f] ?? 0));
    const { line } = this.assembly;
    const byDevice: Record<string, number> = {};
    let dissipated = line.jumpLoss();
    let fed = 0;
    let turnedOver = 0;
    line.readings.flows.forEach(({ name }, f) => {
      if (name === FED) fed = totals[f];
      if (name === TURNED_OVER) turnedOver = totals[f];
      if (!name.startsWith(HEAT)) return;
      byDevice[name.slice(HEAT.length)] = totals[f];
      dissipated += totals[f];
    });
    const storedChange = line.stored(this.loop.state) - this.storedAtStart;
    const residual = fed - dissipated - storedChange;
    return {
      fed,
      dissipated,
      storedChange,
      residual,
      turnedOver,
      relative: Math.abs(residual) / Math.max(turnedOver, LEAST_ENERGY),
      byDevice,
    };
  }
}

/** Runs a scenario to its end; where rounds were leapt over and the next was not what it should be, once more with every round integrated. */
export function simulate(scenario: Scenario, options: RunOptions = {}): Run {
  const run = whole(new Simulation(scenario, options));
  return leaptWrongly(run) ? whole(new Simulation(scenario, { ...options, leaps: false })) : run;
}

function whole(simulation: Simulation): Run {
  while (simulation.advance(100_000) === "running");
  return simulation.result();
}
