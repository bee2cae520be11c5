import type { Guard, Timer } from "../hybrid/parts.ts";
import type { StateRole } from "../hybrid/rounds-types.ts";
import type { Journal } from "../hybrid/types.ts";
import type { Vector } from "../ode/vector.ts";

/** What else is known of a state. */
export interface StateTraits {
  /** How many times the run's absolute tolerance it may err; left out: once. */
  readonly slack?: number;
  /** What becomes of it over a round of a line that repeats itself; left out: it has to return. */
  readonly role?: StateRole;
}

/** Hands out states; they are eliminated in the order in which they are asked for. */
export interface Layout {
  /** Index of a new state; `scale` is the size below which it counts as small, in its own unit. */
  state(name: string, scale: number, traits?: StateTraits): number;
  /** Asks for a new algebraic unknown; its index is handed over when all states are known. */
  unknown(assign: (index: number) => void): void;
}

/**
 * Slack of states whose last digits nobody sees. Temperatures of copper and junctions only follow, and are read to a tenth of a kelvin. What
 * rings at megahertz between leads and small capacitors would otherwise set the pace for everything else; how far it may be loosened was
 * measured against the reference cases.
 */
export const SLACK = { temperature: 100, lead: 5, hubNode: 30, crowbarBranch: 10 } as const;

/** Hands out the slots of the Jacobian. */
export interface Pattern {
  slot(row: number, column: number): number;
}

/** What every device is given: where to log, and how far past a corner a piecewise law may run before it changes piece. */
export interface Surroundings {
  readonly journal: Journal;
  /** Ambient temperature, °C. */
  readonly ambient: number;
  /** Dead bands of corners, V and A. */
  readonly voltageBand: number;
  readonly currentBand: number;
}

/**
 * One part of the line. For a state it first stamps what it draws from its nodes (`prepare`), then, when all node voltages are
 * known, writes the rates of its own states (`rates`) and their exact partial derivatives (`jacobian`). Its modes change only
 * in the actions of its guards and timers.
 */
export abstract class Device {
  readonly guards: Guard[] = [];
  readonly timers: Timer[] = [];
  /** Energy lost in jumps so far, J. */
  loss = 0;

  declare(_layout: Layout): void {}
  pattern(_pattern: Pattern): void {}
  /** A first guess of the healthy operating point. */
  guess(_y: Vector): void {}
  /** States that keep their value while the operating point is solved. */
  held(): readonly number[] {
    return [];
  }
  /** Chooses the pieces of its laws by the state alone (only while the operating point is solved, or at the start). */
  choosePiece(_y: Vector): void {}
  prepare(_t: number, _y: Vector): void {}
  rates(_t: number, _y: Vector, _out: Vector): void {}
  timeRates(_t: number, _y: Vector, _out: Vector): void {}
  jacobian(_t: number, _y: Vector, _J: Vector): void {}
  shift(_elapsed: number): void {}
  maxStep(): number {
    return Number.POSITIVE_INFINITY;
  }
  restless(): boolean {
    return false;
  }
  /** Power turned into heat or handed to a consumer, W. */
  dissipation(): number {
    return 0;
  }
  /** Power fed into the line, W. */
  fed(): number {
    return 0;
  }
  /** What it keeps beside its states and modes and that has to come back in a line that repeats itself. */
  memory(): readonly { readonly name: string; readonly value: number }[] {
    return [];
  }
  /** Energy stored, J. */
  stored(_y: Vector): number {
    return 0;
  }
}

/** A part that conducts in one direction above a threshold: its conducting state belongs to the piecewise-linear node equation. */
export interface Rectifier {
  /** Whether the law has a corner at present. */
  readonly cornered: boolean;
  conducting: boolean;
  /** Volts above the threshold, at the node voltages of the moment. */
  excess(): number;
}
