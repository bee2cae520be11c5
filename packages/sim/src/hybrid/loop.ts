import { IntegrationFailure, type Integrator, SHORTEST_STEP, type Step } from "../ode/types.ts";
import { add, copy, copyOf, type Vector } from "../ode/vector.ts";
import { BalanceCheck } from "./balance.ts";
import { Crossings } from "./crossings.ts";
import { FirstSteps } from "./first-steps.ts";
import { Interval } from "./interval.ts";
import { RestLooks } from "./rest.ts";
import type { HybridSystem, Journal, LoggedEvent, LoopOptions, LoopStatus } from "./types.ts";
import type { Watcher } from "./watcher.ts";

/*
 * The loop, x⁻ the state just before an event and x⁺ just after it:
 *
 *   settle(x)                                    modes agree with the state before anything moves
 *   until the end:
 *     integrate, at most to the next timer
 *     for each accepted step (a, b]:
 *       look at five points of its interpolant
 *       if a guard is above zero at a look and was not at the one before, or has a hump above zero between looks:
 *         cut the step at the RIGHT end of the bracket of the earliest root
 *       let the watcher absorb (a, b] or what was cut of it
 *       if cut, or a timer ran out at b:
 *         record x⁻; new segment: local time starts at 0, timers count down by its length
 *         act: timers that ran out, then guards above zero in their order, until nothing changes (bounded)
 *         record x⁺; restart the integrator
 *
 * An event belongs to (a, b]: a guard that is zero at the left end does not fire again. A guard found above zero on entering a mode
 * fires at once. A change of mode that logs nothing is quiet: it restarts the integrator and leaves no row.
 */

export class Loop implements Journal {
  readonly events: LoggedEvent[] = [];
  status: LoopStatus = "running";
  failure: { readonly reason: string; readonly state: number } | null = null;
  changes = 0;
  quietChanges = 0;
  /** The first step to try after the last change, s. */
  restartStep: number = 0;
  private base: number; // time of the start of this segment
  local = 0; // time since then
  private sinceEvent = 0;
  private stepHint: number = 0;
  private lastStep: number = 0;
  private readonly firstSteps = new FirstSteps();
  private readonly balance: BalanceCheck;
  private logged = 0;
  private paused = false;
  private started = false;
  private readonly restLooks: RestLooks;
  private resting = false;
  private readonly y: number[];
  private readonly interval: Interval;
  private readonly crossings: Crossings;
  private readonly system: HybridSystem;
  private readonly integrator: Integrator;
  private readonly watcher: Watcher;
  private readonly options: LoopOptions;
  private readonly onEvent: (event: LoggedEvent) => void;

  constructor(
    system: HybridSystem,
    integrator: Integrator,
    watcher: Watcher,
    start: Vector,
    options: LoopOptions,
    onEvent: (event: LoggedEvent) => void,
  ) {
    this.system = system;
    this.integrator = integrator;
    this.watcher = watcher;
    this.options = options;
    this.onEvent = onEvent;
    this.base = options.startTime ?? 0;
    this.y = copyOf(start);
    this.restLooks = new RestLooks(system);
    this.interval = new Interval(system);
    this.crossings = new Crossings(system, this.interval);
    this.balance = new BalanceCheck(system.balance);
    this.stepHint = options.firstStep;
    this.restartStep = options.firstStep;
    this.lastStep = options.firstStep;
  }

  get time(): number {
    return this.base + this.local;
  }

  get state(): number[] {
    return this.y;
  }

  log(source: number, code: string, cause: string): void {
    const event = { time: this.time, sincePrevious: this.sinceEvent, source, code, cause };
    this.sinceEvent = 0;
    this.logged++;
    this.events.push(event);
    this.watcher.eventLogged(this.events.length - 1);
    this.onEvent(event);
  }

  suggestStep(step: number): void {
    this.stepHint = Math.min(this.stepHint, step);
  }

  /** Goes on for at most `steps` accepted steps. A run may be left and taken up again at any such pause. */
  advance(steps: number): LoopStatus {
    let left = steps;
    try {
      if (!this.started) this.begin();
      while (this.status === "running" && left > 0) {
        const limit = this.nextStop();
        let cut = false;
        const answer =
          limit - this.local > SHORTEST_STEP
            ? this.integrator.advance(limit, this.system.maxStep(), (step) => {
                const taken = this.takeStep(step);
                if (taken === "retake") return "retake";
                left--;
                cut = taken === "cut";
                this.resting = !cut && this.isAtRest();
                return cut || this.resting || left <= 0 ? "stop" : "continue";
              })
            : "limit";
        if (cut || (answer === "limit" && this.nextTimer() - this.local <= SHORTEST_STEP)) {
          this.change();
          if (this.paused) break;
        } else if (answer === "limit") this.status = "finished";
        else if (this.resting) this.rest();
      }
    } catch (error) {
      if (!(error instanceof IntegrationFailure)) throw error;
      this.status = "failed";
      this.failure = { reason: error.reason, state: error.state };
    }
    if (this.status !== "running") this.watcher.finish();
    return this.status;
  }

  /**
   * Goes on at a state that belongs to `duration` later; only where it has just paused. What is logged there tells why nothing is known of
   * the time between.
   */
  leap(y: Vector, duration: number, told: Pick<LoggedEvent, "source" | "code" | "cause">): void {
    copy(y, this.y);
    this.base += duration;
    this.sinceEvent += duration;
    this.log(told.source, told.code, told.cause);
    this.lookAtStart();
    this.integrator.restart(this.y, this.restartStep);
  }

  /** Goes on from where it stands after somebody else has used the system and the integrator; only where it has just paused. */
  resume(): void {
    this.system.observe(this.local, this.y);
    this.integrator.restart(this.y, this.restartStep);
  }

  /** Ends a run that is still going where it is; open windows are closed with what they have seen. */
  stop(): void {
    if (this.status !== "running") return;
    this.status = "stopped";
    this.watcher.finish();
  }

  private begin(): void {
    this.started = true;
    this.settle();
    this.lookAtStart();
    this.integrator.restart(this.y, this.stepHint);
  }

  /** Takes in an accepted step, whole or cut short by a guard, or asks for it once more, shorter. */
  private takeStep(step: Step): "whole" | "cut" | "retake" {
    const { interval } = this;
    interval.open(step, step.from, step.to);
    let end = step.to;
    let cut = false;
    for (let j = 1; j < 5 && !cut; j++) {
      interval.look(j);
      const root = this.crossings.rootUpTo(j);
      if (root > step.to) continue;
      end = root;
      cut = true;
    }
    if (cut) {
      interval.open(step, step.from, end);
      for (let j = 1; j < 5; j++) interval.look(j);
    }
    interval.integrate();
    // The last look was at the end.
    copy(interval.state, this.y);
    if (this.integrator.retakes && this.balance.open(this.y, interval.integrals, this.watcher.totals)) {
      interval.observe(step.from);
      this.crossings.reset();
      return "retake";
    }
    interval.bound();
    this.lastStep = step.to - step.from;
    this.firstSteps.accepted(this.integrator.nextStep);
    this.watcher.absorb(interval, this.base);
    interval.setStart(interval.looks[4]);
    this.sinceEvent += end - step.from;
    this.local = end;
    return cut ? "cut" : "whole";
  }

  /** A guard cut the step or a timer ran out: act until nothing changes, then start a new segment. */
  private change(): void {
    const { system } = this;
    const elapsed = this.local;
    for (const timer of system.timers) if (timer.running) timer.remaining -= elapsed;
    // Timers meant for one instant may differ by the rounding of the time since they were started.
    const slack = SHORTEST_STEP + 4e-16 * (this.base + elapsed);
    system.shift(elapsed);
    this.base += elapsed;
    this.local = 0;
    this.logged = 0;
    this.stepHint = Number.POSITIVE_INFINITY;
    // Watches have looked elsewhere since; actions read what was observed last.
    system.observe(0, this.y);
    this.firstSteps.open();
    for (let k = 0; k < system.timers.length; k++) {
      const timer = system.timers[k];
      if (timer.remaining <= slack) {
        timer.stop();
        timer.action(this.y);
        this.count(k);
      }
    }
    this.settle();
    if (this.logged === 0) this.quietChanges++;
    this.lookAtStart();
    this.restartStep = Math.min((this.logged > 0 ? 0.1 : 1) * this.lastStep, this.stepHint, this.firstSteps.close());
    this.integrator.restart(this.y, this.restartStep);
    this.paused = this.logged > 0 && this.options.pausesAfter?.(this.events.slice(-this.logged)) === true;
  }

  /** Guards above zero act, in their order, until none is left. */
  private settle(): void {
    const { system } = this;
    for (let round = 0; round < 200; round++) {
      system.reconcile(this.y);
      system.observe(this.local, this.y);
      const met = system.guards.findIndex((candidate) => candidate.active && candidate.value() > 0);
      if (met >= 0) {
        system.guards[met].action(this.y);
        this.count(system.timers.length + met);
        continue;
      }
      const due = system.timers.findIndex((candidate) => candidate.remaining <= this.local);
      if (due < 0) return;
      system.timers[due].stop();
      system.timers[due].action(this.y);
      this.count(due);
    }
    throw new IntegrationFailure("the modes do not settle", this.time, -1);
  }

  private lookAtStart(): void {
    this.system.observe(this.local, this.y);
    this.crossings.reset();
    this.balance.start(this.y);
    this.interval.setStart(this.watcher.touch(this.time, this.logged > 0 || this.changes === 0));
    this.restLooks.restart();
  }

  /** `actor` is a timer by its index, or a guard by that behind all timers. */
  private count(actor: number): void {
    this.firstSteps.acted(actor);
    if (++this.changes > this.options.maxChanges)
      throw new IntegrationFailure("too many changes of mode", this.time, -1);
  }

  /** The next timer or the end; what is due at the end itself still happens, whatever the roundings of all segments say. */
  private nextStop(): number {
    const { endTime } = this.options;
    const [timer, end] = [this.nextTimer(), endTime - this.base];
    return timer <= end + 1e-13 * endTime ? timer : end;
  }

  private nextTimer(): number {
    let next = Number.POSITIVE_INFINITY;
    for (const timer of this.system.timers) if (timer.remaining < next) next = timer.remaining;
    return next;
  }

  private isAtRest(): boolean {
    if (!this.restLooks.due(this.lastStep) || this.nextTimer() < Number.POSITIVE_INFINITY) return false;
    return this.restLooks.nothingMoves(this.local, this.y, this.options.endTime - this.time);
  }

  private rest(): void {
    this.system.observe(this.local, this.y);
    this.watcher.extend(this.time, this.options.endTime - this.time);
    add(this.restLooks.drift, this.y);
    this.status = "at rest";
  }
}
