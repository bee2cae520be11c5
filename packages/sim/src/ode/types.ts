import type { Vector } from "./vector.ts";

/** A system y' = f(t, y) that also solves its own shifted linear systems, so that it may use whatever structure it has. */
export interface OdeSystem {
  readonly size: number;
  /** Writes f(t, y). */
  rates(t: number, y: Vector, out: Vector): void;
  /** Writes the partial derivative of f to t. */
  timeRates(t: number, y: Vector, out: Vector): void;
  /** Evaluates the Jacobian J at (t, y) and keeps it; the rates were written there just before. */
  linearize(t: number, y: Vector): void;
  /** Factors shift·I − J; false where it is singular. */
  factor(shift: number): boolean;
  /** Solves (shift·I − J) x = b in place. */
  solve(b: Vector): void;
  /**
   * How strongly something in it feeds disturbances at the state that was linearized last, in a measure of its own; 0, or not there, where nothing
   * does, so that none can grow by itself.
   */
  readonly feeding?: (() => number) | undefined;
}

/** No step is made of less time, s: what is due sooner is due now. */
export const SHORTEST_STEP = 1e-18;

/** An accepted step with its interpolant; valid until the integrator goes on. */
export interface Step {
  readonly from: number;
  readonly to: number;
  /** Writes y(t) for `from` ≤ t ≤ `to`. */
  interpolate(t: number, out: Vector): void;
}

/** What the observer of a step answers: go on, stop after this step, or take it again shorter. */
export type StepAnswer = "continue" | "stop" | "retake";

export interface Tolerance {
  readonly relative: number;
  /** One absolute tolerance a state. */
  readonly absolute: readonly number[];
  /**
   * Those of the first step after a restart, where they are others: what a change has stirred up lies inside that step, and its interpolant is
   * no better than this.
   */
  readonly first?: readonly number[];
}

export interface Counters {
  steps: number;
  rejected: number;
  evaluations: number;
  jacobians: number;
  factorizations: number;
}

/** The common face of all integrators. */
export interface Integrator {
  readonly counters: Counters;
  /** Starts anew at time 0 from y; `step` is the first step to try. */
  restart(y: Vector, step: number): void;
  /** Whether it can take an accepted step again; else that answer means to go on. */
  readonly retakes: boolean;
  /** The size of the next step it would try. */
  readonly nextStep: number;
  /**
   * Integrates up to `limit` and shows every accepted step to `observe`; ends at the limit or after the step that was answered with `stop`.
   * @throws IntegrationFailure where the step size underflows, values are not finite or the work exceeds its bound.
   */
  advance(limit: number, maxStep: number, observe: (step: Step) => StepAnswer): "limit" | "stopped";
}

/** An integration that could not go on: the reason, the time since the last restart and the state that gave the trouble (−1: unknown). */
export class IntegrationFailure extends Error {
  override readonly name = "IntegrationFailure";
  constructor(
    readonly reason: string,
    readonly time: number,
    readonly state: number,
  ) {
    super(reason);
  }
}

export function newCounters(): Counters {
  return { steps: 0, rejected: 0, evaluations: 0, jacobians: 0, factorizations: 0 };
}
