import { Growth } from "./growth.ts";
import { Stages } from "./stages.ts";
import type { Tableau } from "./tableau.ts";
import {
  type Counters,
  IntegrationFailure,
  type Integrator,
  newCounters,
  type OdeSystem,
  SHORTEST_STEP,
  type Step,
  type StepAnswer,
  type Tolerance,
} from "./types.ts";
import { copy, type Vector, zeros } from "./vector.ts";

const SAFETY = 0.9;
const SHRINK = 0.2;
const GROW = 6;
/** How much of a trend is believed, and below which error there is none to be seen. */
const MOST_TREND = 1.1;
const LEAST_ERROR = 1e-3;

/**
 * A Rosenbrock method with adaptive steps. One-step and L-stable: it starts anew after an event without a penalty and stands fast modes
 * that have died away; one that grows bounds its steps. Nothing is allocated after construction.
 */
export class Rosenbrock implements Integrator, Step {
  readonly counters: Counters = newCounters();
  readonly retakes = true;
  from = 0;
  to = 0;
  nextStep = 0;
  private readonly system: OdeSystem;
  private readonly tableau: Tableau;
  private readonly tolerance: Tolerance;
  private readonly maxSteps: number = 0;
  private time = 0;
  private readonly y: number[];
  /** The state of the stage of the moment; after an attempt that at its end. */
  private readonly yNew: number[];
  private readonly f: number[];
  private readonly ft: number[];
  /** Whether any rate depends on the time itself at present. */
  private timed = false;
  private readonly k: number[];
  private readonly stages: Stages;
  private denseReady = false;
  /** No step was accepted since the restart. */
  private fresh = true;
  private lastSize = 0;
  /** The last error to the power by which it sets the size. */
  private lastDemand = 0;
  /** Null where nothing can grow: such a system does not pay for those that can. */
  private readonly growing: Growth | null;

  constructor(system: OdeSystem, tableau: Tableau, tolerance: Tolerance, maxSteps: number) {
    this.system = system;
    this.tableau = tableau;
    this.tolerance = tolerance;
    this.maxSteps = maxSteps;
    this.growing = system.feeding === undefined ? null : new Growth(system);
    const vector = () => zeros(system.size);
    this.y = vector();
    this.yNew = vector();
    this.f = vector();
    this.ft = vector();
    this.k = vector();
    this.stages = new Stages(tableau, system.size);
  }

  restart(y: Vector, step: number): void {
    copy(y, this.y);
    this.time = 0;
    this.fresh = true;
    this.nextStep = step;
  }

  advance(limit: number, maxStep: number, observe: (step: Step) => StepAnswer): "limit" | "stopped" {
    let rejectedBefore = false;
    while (this.time < limit) {
      this.system.rates(this.time, this.y, this.f);
      this.system.timeRates(this.time, this.y, this.ft);
      this.timed = anyOf(this.ft);
      this.system.linearize(this.time, this.y);
      this.stages.open(this.y);
      this.counters.evaluations++;
      this.counters.jacobians++;
      const longest = Math.min(maxStep, this.growing?.longestStep(this.fresh, this.nextStep) ?? maxStep);
      for (;;) {
        if (this.counters.steps + this.counters.rejected >= this.maxSteps) this.fail("the work exceeded its bound");
        const left = limit - this.time;
        const wanted = Math.min(this.nextStep, longest);
        // Two halves rather than a whole and a crumb.
        const h = wanted >= left ? left : Math.min(wanted, 0.5 * left);
        const error = this.attempt(h);
        if (error <= 1) {
          const factor = this.growth(h, error, rejectedBefore);
          const grown = h * Math.max(SHRINK, rejectedBefore ? Math.min(1, factor) : factor);
          this.nextStep = h < wanted ? Math.max(wanted, grown) : grown;
          rejectedBefore = false;
          this.counters.steps++;
          this.from = this.time;
          this.to = h === left ? limit : this.time + h;
          this.denseReady = false;
          const answer = observe(this);
          if (answer === "retake") {
            this.counters.steps--;
            this.counters.rejected++;
            rejectedBefore = true;
            this.nextStep = 0.5 * h;
            continue;
          }
          this.fresh = false;
          this.time = this.to;
          copy(this.yNew, this.y);
          if (answer === "stop") return "stopped";
          break;
        }
        this.counters.rejected++;
        rejectedBefore = true;
        const factor = Number.isFinite(error) ? Math.max(SHRINK, SAFETY * error ** (-1 / this.tableau.order)) : 0.1;
        this.nextStep = h * factor;
        if (this.time + this.nextStep * 0.01 <= this.time || this.nextStep < SHORTEST_STEP)
          this.fail("the step size fell to nothing");
      }
    }
    return "limit";
  }

  interpolate(t: number, out: Vector): void {
    if (t === this.to) {
      copy(this.yNew, out);
      return;
    }
    if (!this.denseReady) this.stages.prepareDense();
    this.denseReady = true;
    const h = this.to - this.from;
    this.stages.interpolate(h > 0 ? (t - this.from) / h : 1, out);
  }

  /**
   * By how much the next step may be longer. What dies away needs ever longer steps; the trend of the last two foretells it (Gustafsson's
   * predictive controller: Hairer & Wanner, Solving Ordinary Differential Equations II, section IV.8), here only upwards.
   */
  private growth(h: number, error: number, rejectedBefore: boolean): number {
    const { lastSize, lastDemand } = this;
    const demand = Math.max(error, LEAST_ERROR) ** (-1 / this.tableau.order);
    this.lastSize = h;
    this.lastDemand = demand;
    if (error <= LEAST_ERROR) return error > 0 ? Math.min(GROW, SAFETY * error ** (-1 / this.tableau.order)) : GROW;
    const usual = SAFETY * demand;
    if (this.fresh || rejectedBefore) return Math.min(GROW, usual);
    const trend = (h / lastSize) * (demand / lastDemand);
    return Math.min(GROW, usual * Math.min(MOST_TREND, Math.max(1, trend)));
  }

  /** One attempt; returns the error over the tolerance (infinite where the attempt is unusable). */
  private attempt(h: number): number {
    const { system, tableau, stages, yNew, f, ft, k, counters, timed } = this;
    const n = k.length;
    counters.factorizations++;
    if (!system.factor(1 / (h * tableau.gamma))) return Number.POSITIVE_INFINITY;
    for (let s = 0; s < stages.count; s++) {
      const hd = h * tableau.d[s];
      if (s === 0) {
        for (let i = 0; i < n; i++) k[i] = f[i] + hd * ft[i];
      } else {
        stages.combine(s, k, 1 / h, yNew);
        system.rates(this.time + tableau.c[s] * h, yNew, k);
        counters.evaluations++;
        if (!timed || hd === 0) stages.addSum(k);
        else stages.addTimedSum(k, hd, ft);
      }
      system.solve(k);
    }
    stages.close(k, yNew);
    const { relative, absolute, first } = this.tolerance;
    const error = stages.errorOf(k, this.fresh && first ? first : absolute, relative);
    if (!(error < Number.POSITIVE_INFINITY)) stages.clear();
    return error;
  }

  private fail(reason: string): never {
    let worst = -1;
    let largest = 0;
    const { k } = this;
    for (let i = 0; i < k.length; i++) {
      const ratio = Math.abs(k[i]) / (this.tolerance.absolute[i] + this.tolerance.relative * Math.abs(this.y[i]));
      if (!(ratio <= largest)) {
        largest = ratio;
        worst = i;
      }
    }
    throw new IntegrationFailure(reason, this.time, worst);
  }
}

function anyOf(slopes: Vector): boolean {
  for (let i = 0; i < slopes.length; i++) if (slopes[i] !== 0) return true;
  return false;
}
