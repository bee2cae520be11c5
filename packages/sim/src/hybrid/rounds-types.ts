import type { Ledger } from "./course.ts";
import type { Journal } from "./types.ts";

/**
 * What becomes of a state over one round of a system that repeats itself, whatever else goes on in it:
 * - `returns`: it comes back to where it was, held there by the others
 * - `keeps`: it is where it is because nothing moved it, and nothing brings it back: no jump unless it stands still
 * - `relaxes`: x' = drive − x/τ, and no equation reads x, so a round is x → a·x + b; where `feedsBack`, others do read it, and b moves with x
 * - `adds up`: x' = drive, and no equation reads x: x → x + b
 */
export type StateRole =
  | { readonly kind: "returns" }
  | { readonly kind: "keeps" }
  | { readonly kind: "relaxes"; readonly timeConstant: number; readonly feedsBack: boolean }
  | { readonly kind: "adds up" };

/** A sum of states that is watched, as a probe, for its peak within a round: no jump passes one of its levels. */
export interface Gauge {
  readonly probe: number;
  readonly states: readonly number[];
  /** Levels of the sum of the states. */
  readonly levels: readonly number[];
  /** Probe less the sum of the states. */
  readonly offset: number;
}

/** What a hybrid system tells of itself to one that looks for rounds in it. */
export interface Repeating {
  readonly names: readonly string[];
  readonly roles: readonly StateRole[];
  readonly gauges: readonly Gauge[];
  /** Sums that actions keep beside the state. */
  tallies(): readonly number[];
  addToTallies(gains: ArrayLike<number>): void;
  /** Numbers kept beside the state that have to come back to where they were, with their names. */
  memory(): readonly { readonly name: string; readonly value: number }[];
  /** Notes every mode; the function returned brings them back. */
  remember(): () => void;
  /** Whom actions tell what happened. */
  tell(journal: Journal): void;
}

/** An event of a round: `offset` after the start of the round whose `period` is given. */
export interface RoundEvent {
  readonly source: number;
  readonly code: string;
  readonly offset: number;
}

/** Whole rounds that were worked out instead of integrated. */
export interface Leap {
  readonly from: number;
  readonly to: number;
  readonly rounds: number;
  /** Length of the last of them, s. */
  readonly period: number;
  /** When each round ended, s. */
  readonly ends: readonly number[];
  /** What happens in a round, the event that ends it last. */
  readonly events: readonly RoundEvent[];
  /** What the flows that windows look at added up to on the way. */
  readonly ledger: Ledger;
  /** Largest value of each gauge's probe on the way, and when. */
  readonly peaks: readonly { readonly probe: number; readonly value: number; readonly time: number }[];
}

/** What leaps added to everything that is summed up: it stands beside the watcher's own sums, which know only what was integrated. */
export interface Carried {
  /** Of each flow. */
  readonly flows: Float64Array;
  /** Of each excursion: time beyond, and the integrals of its excess and of its square. */
  readonly excursions: { total: number; area: number; squared: number }[];
}
