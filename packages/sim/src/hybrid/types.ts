import type { OdeSystem } from "../ode/types.ts";
import type { Vector } from "../ode/vector.ts";
import type { Guard, Timer } from "./parts.ts";

/**
 * A system whose equations change with its modes. Time is local: it starts at 0 with each segment, so nanoseconds stay exact after hours.
 * Guards and timers act on the modes and on the state handed to them; nothing else may change a mode.
 */
export interface HybridSystem extends OdeSystem {
  readonly guards: readonly Guard[];
  readonly timers: readonly Timer[];
  /** Size below which a state counts as small, one a state. */
  readonly scales: readonly number[];
  /** Number of quantities that are recorded and watched. */
  readonly probeCount: number;
  /** Number of rates whose integrals over the run are kept. */
  readonly flowCount: number;
  /** What each step is held against; null where nothing is conserved. */
  readonly balance: Balance | null;
  /** Longest step at present: explicit functions of time must not be stepped over. */
  maxStep(): number;
  /** Derives everything from a state; `probes`, `flows` and guards then read it. */
  observe(t: number, y: Vector): void;
  probes(out: Vector): void;
  flows(out: Vector): void;
  /** Called after every change of a mode: settles what follows from the state alone. */
  reconcile(y: Vector): void;
  /** A new segment starts `elapsed` after the last start. */
  shift(elapsed: number): void;
  /** True while something explicit in time is still to come that no timer announces. */
  restless(): boolean;
}

/** Something that a system neither makes nor loses on its way through a segment. */
export interface Balance {
  /** How much of it a state holds. */
  amount(y: Vector): number;
  /** How much came in, by the integrals of all flows over a piece. */
  gain(integrals: Vector): number;
  /** By how much the two may differ over that piece; `totals` are the integrals of the flows before it. */
  allowed(integrals: Vector, totals: Vector): number;
}

/** What actions tell the loop. */
export interface Journal {
  /** Something a reader wants to know happened now. */
  log(source: number, code: string, cause: string): void;
  /** The equations get fast from here on: the first step to try, s. */
  suggestStep(step: number): void;
}

export interface LoggedEvent {
  readonly time: number;
  readonly sincePrevious: number;
  readonly source: number;
  readonly code: string;
  readonly cause: string;
}

export interface LoopOptions {
  /** Time at which the start state stands (default 0), s. */
  readonly startTime?: number;
  readonly endTime: number;
  readonly firstStep: number;
  /** Events and quiet changes together that a run may have. */
  readonly maxChanges: number;
  /** Asked after what was logged has been acted on; where it says so, `advance` comes back there. */
  readonly pausesAfter?: (events: readonly LoggedEvent[]) => boolean;
}

/** Whether a run goes on, and how it ended where it does not. */
export type LoopStatus = "running" | "finished" | "at rest" | "failed" | "stopped";
