import { Outcome, Solver } from "odex";
import {
  type Counters,
  IntegrationFailure,
  type Integrator,
  newCounters,
  type OdeSystem,
  type Step,
  type StepAnswer,
  type Tolerance,
} from "./types.ts";
import { copy } from "./vector.ts";

/** The package raises any smaller first step to this one, s; only half of the interval bounds it. */
const LEAST_FIRST_STEP = 1e-4;
/** Growth of the first step from one short interval to the next. */
const GROW = 16;
/** Its steps are long and of a high order; whoever sums up along them with a few nodes a step (of degree 5) gets them in so many pieces. */
const PIECES = 4;

/**
 * The non-stiff partner: extrapolation of the explicit midpoint rule (Hairer, Nørsett & Wanner, Solving Ordinary Differential Equations I,
 * section II.9) through the odex package. It shares no code with the Rosenbrock methods and needs no Jacobian, so agreement on a short
 * window is an independent check; on a long stiff run it crawls.
 *
 * The package accepts values that are not numbers (all its tests read `error > limit`), its first step may overflow a fast system, and it
 * stops at a bound of its own without saying so; each of the three is guarded here.
 */
export class Odex implements Integrator {
  readonly counters: Counters = newCounters();
  nextStep = 0;
  private readonly system: OdeSystem;
  private readonly tolerance: Tolerance;
  private readonly maxEvaluations: number;
  readonly retakes = false;
  private time = 0;
  private y: Float64Array;
  private readonly rate: Float64Array;

  constructor(system: OdeSystem, tolerance: Tolerance, maxEvaluations: number) {
    this.system = system;
    this.tolerance = tolerance;
    this.maxEvaluations = maxEvaluations;
    this.y = new Float64Array(system.size);
    this.rate = new Float64Array(system.size);
  }

  restart(y: Float64Array, step: number): void {
    this.y.set(y);
    this.time = 0;
    this.nextStep = step;
  }

  advance(limit: number, maxStep: number, observe: (step: Step) => StepAnswer): "limit" | "stopped" {
    while (this.time < limit) {
      const first = Math.min(this.nextStep, maxStep);
      // An interval of two such steps makes the package begin with the step that is wanted.
      const end = first < LEAST_FIRST_STEP ? Math.min(limit, this.time + 2 * first) : limit;
      if (!(end > this.time)) throw new IntegrationFailure("the step size fell to nothing", this.time, -1);
      if (this.cover(end, maxStep, observe) === "stopped") return "stopped";
      if (end < limit) this.nextStep = GROW * first;
    }
    return "limit";
  }

  private cover(limit: number, maxStep: number, observe: (step: Step) => StepAnswer): "limit" | "stopped" {
    const solver = new Solver(this.system.size);
    solver.relativeTolerance = this.tolerance.relative;
    solver.absoluteTolerance = Array.from(this.tolerance.absolute);
    solver.denseOutput = true;
    solver.maxSteps = 1e9;
    solver.initialStepSize = Math.min(this.nextStep, limit - this.time);
    solver.maxStepSize = Math.min(maxStep, limit - this.time);
    let stopped = false;
    const derivative = (t: number, y: number[]): number[] => {
      if (++this.counters.evaluations > this.maxEvaluations) {
        throw new IntegrationFailure("the work exceeded its bound", this.time, -1);
      }
      this.system.rates(t, Float64Array.from(y), this.rate);
      const rate = Array.from(this.rate);
      const bad = rate.findIndex((value) => !Number.isFinite(value));
      if (bad >= 0) throw new IntegrationFailure("a rate is not finite", this.time, bad);
      return rate;
    };
    const { outcome } = solver.solve(derivative, this.time, Array.from(this.y), limit, (count, from, to, y, dense) => {
      if (count === 1 || dense === undefined) return true;
      const bad = y.findIndex((value) => !Number.isFinite(value));
      if (bad >= 0) throw new IntegrationFailure("a state is not finite", this.time, bad);
      this.counters.steps++;
      const interpolate = (t: number, out: Float64Array): void => {
        if (t >= to) copy(y, out);
        else for (let i = 0; i < out.length; i++) out[i] = dense(i, t);
      };
      const edge = (k: number): number => (k === PIECES ? to : from + (k / PIECES) * (to - from));
      let answer: StepAnswer = "continue";
      for (let k = 0; k < PIECES && answer !== "stop"; k++)
        answer = observe({ from: edge(k), to: edge(k + 1), interpolate });
      this.time = to;
      this.y.set(y);
      this.nextStep = to - from;
      stopped = answer === "stop";
      return !stopped;
    });
    if (outcome === Outcome.MaxStepsExceeded)
      throw new IntegrationFailure("the work exceeded its bound", this.time, -1);
    if (!stopped) this.time = limit;
    return stopped ? "stopped" : "limit";
  }
}
