import { Loop } from "../hybrid/loop.ts";
import { remember } from "../hybrid/memento.ts";
import { Rounds } from "../hybrid/rounds.ts";
import type { LoopStatus } from "../hybrid/types.ts";
import { PeakWatch } from "../hybrid/watch.ts";
import { Watcher } from "../hybrid/watcher.ts";
import type { Integrator } from "../ode/types.ts";
import { copyOf } from "../ode/vector.ts";
import type { Scenario } from "../scenario/types.ts";
import type { Assembly } from "./assemble.ts";
import type { FuseReadings } from "./findings/fuse.ts";
import { fuseReadings } from "./findings/index.ts";
import { isSubject } from "./findings/kit.ts";
import { columnName, type Places } from "./readings.ts";
import { repeatingLine } from "./repeating.ts";
import type { Subject } from "./result.ts";

/** What a run hands over to one that goes on from one of its instants. */
export interface Ground {
  readonly scenario: Scenario;
  readonly assembly: Assembly;
  readonly places: Places;
  readonly integrator: () => Integrator;
  readonly maxChanges: number;
  readonly firstStep: number;
}

/** A line at the instant at which a fuse had melted and did not clear yet. */
export interface Melting {
  readonly subject: Subject;
  readonly time: number;
  readonly state: readonly number[];
  /** Brings every mode back to that instant. */
  readonly bringBack: () => void;
  /** The largest current through the fuse up to then, either way, A. */
  readonly peakCurrent: number;
}

/** Notes the line as it stands when a fuse tells that it has melted; `currents` are the watches of the largest currents, by probe. */
export function noteMelting(
  { scenario, assembly, places }: Ground,
  currents: ReadonlyMap<number, PeakWatch>,
  moment: { readonly subject: Subject; readonly time: number; readonly state: readonly number[] },
): Melting {
  const { line, devices, journal } = assembly;
  const { current } = readingsOf(scenario, assembly, moment.subject);
  const bringBack = remember([...devices, ...line.timers], [journal]);
  const watch = currents.get(places.probe(columnName(current, "A")));
  if (watch === undefined) throw new RangeError(`nothing watches the current of ${current}`);
  return { ...moment, state: copyOf(moment.state), bringBack, peakCurrent: watch.value };
}

/**
 * A run once more from where a fuse melted, that fuse now a conductor: shows the available short-circuit current. Up to there the two runs are
 * one and the same. The run that it comes from must have ended: the line is the same, too.
 */
export class FromMelting {
  readonly end: number;
  private readonly loop: Loop;
  private readonly rounds: Rounds | null;
  private readonly peak: PeakWatch;
  private readonly before: number;

  /** `leaps`: whether rounds of a line that repeats itself may be worked out instead of integrated. */
  constructor(ground: Ground, melting: Melting, leaps: boolean) {
    const { scenario, assembly, places } = ground;
    const { line, journal, subjects } = assembly;
    melting.bringBack();
    const fuse = readingsOf(scenario, assembly, melting.subject);
    fuse.element.clears = false;
    this.end = scenario.endTime;
    this.before = melting.peakCurrent;
    const watcher = new Watcher(line, [], false);
    this.peak = new PeakWatch(places.probe(columnName(fuse.current, "A")), 0);
    watcher.peaks.push(this.peak);
    const integrator = ground.integrator();
    this.rounds = leaps
      ? new Rounds({
          system: line,
          repeating: repeatingLine(scenario, assembly, places),
          integrator,
          watcher,
          endTime: scenario.endTime,
          logged: { source: subjects.add("line"), code: "repeats itself" },
          onLeap: () => {},
        })
      : null;
    this.loop = new Loop(
      line,
      integrator,
      watcher,
      melting.state,
      {
        startTime: melting.time,
        endTime: scenario.endTime,
        firstStep: ground.firstStep,
        maxChanges: ground.maxChanges,
        pausesAfter: (events) => this.rounds?.pausesAfter(this.loop, events) ?? false,
      },
      () => {},
    );
    journal.target = this.loop;
  }

  get time(): number {
    return this.loop.time;
  }

  /** Goes on for at most `steps` accepted steps. */
  advance(steps: number): LoopStatus {
    return this.rounds === null ? this.loop.advance(steps) : this.rounds.advance(this.loop, steps);
  }

  stop(): void {
    this.rounds?.abandon();
    this.loop.stop();
  }

  /** Whether it failed because rounds were leapt over: one that integrates every round may not. */
  get leaptWrongly(): boolean {
    return this.loop.status === "failed" && (this.rounds?.leaps.length ?? 0) > 0;
  }

  /** The largest current through the fuse, either way, A; null where the run failed. */
  get availableCurrent(): number | null {
    return this.loop.status === "failed" ? null : Math.max(this.before, this.peak.value);
  }
}

function readingsOf(scenario: Scenario, assembly: Assembly, { part, owner }: Subject): FuseReadings {
  const found = fuseReadings(scenario, assembly).find(({ subject }) => isSubject(subject, part, owner));
  if (found === undefined) throw new RangeError(`the line has no such fuse: ${part} ${owner}`);
  return found;
}

/** Lets a fuse carry on as a conductor when it melts. */
export function keepConducting({ mainFuse, sources, loads }: Assembly, subject: Subject): void {
  const element =
    subject.part === "main fuse"
      ? mainFuse?.element
      : [...sources, ...loads].find((branch) => branch.name === subject.owner)?.lead.element;
  if (element) element.clears = false;
}
