import type { Issue } from "../../issue/issue.ts";
import type { Tone } from "../../report/state-types.ts";

/** Where a figure that a person acts on comes from. */
export type Basis =
  | "the model"
  | "the file's tolerances"
  | "the part's data sheet"
  | "the threshold's worst case"
  | "twice the simulated";

/** The same of a range that was cut where the line's own values end it. */
export type LimitBasis =
  | Basis
  | `${Basis}, cut at ${"the source's voltage" | "the radio's window" | "the source's voltage and the radio's window"}`;

/** One moment of a bench test, with what meters show. V, A; null where nothing of that kind is there. */
export interface BenchReading {
  readonly moment:
    | "before the trip"
    | "at the trip"
    | "as it begins to conduct"
    | "after the trip"
    | "while it conducts";
  readonly supply: number;
  readonly supplyCurrent: number;
  readonly protector: number;
  readonly radio: number;
  /** Where the protector trips decides about it: at the lowest and at the highest trip point that pass; null: it does not. */
  readonly protectorRange: readonly [low: number, high: number] | null;
}

/** One thing to look at in a bench test. */
export interface BenchCheck {
  readonly what: string;
  readonly pass: string;
  readonly fail: string;
  readonly basis: LimitBasis;
}

/** How to try the protector of a line safely, and what meters will show. SI units. */
export interface BenchCard {
  readonly title: string;
  /** What is tried: `SCR 55 A, set to 15.0 V`. */
  readonly protector: string;
  /** The bench source: voltage at which it begins, highest voltage, V; current limit, A; rise, V/s. */
  readonly source: {
    readonly startVoltage: number;
    readonly endVoltage: number;
    readonly currentLimit: number;
    readonly slew: number;
    /** Why the limit is what it is, in sentences. */
    readonly why: readonly string[];
  };
  /** The dummy load, ohm and W. */
  readonly dummy: { readonly resistance: number; readonly power: number };
  readonly steps: readonly string[];
  readonly readings: readonly BenchReading[];
  readonly checks: readonly BenchCheck[];
  /** What happened in the simulated test: heat of the SCR, fuses. */
  readonly strain: readonly string[];
  readonly assumptions: readonly string[];
  readonly cautions: readonly string[];
}

/** A scenario that cannot be tried on the bench, or has errors: every reason. */
export interface TalkRefused {
  readonly kind: "refused";
  readonly issues: readonly Issue[];
}

/** What state everything is in after a fault, and how to get back. */
export interface ResetSheet {
  readonly title: string;
  readonly headline: string;
  /** When the states below hold, in words. */
  readonly at: string;
  readonly states: readonly { readonly part: string; readonly state: string; readonly tone: Tone }[];
  /** What still goes on then. */
  readonly goesOn: readonly string[];
  /** In the order in which they are done; the first ones come from what is live, the last are the resets. */
  readonly steps: readonly string[];
  /** Ratings used up or passed, fuses melted: what is not what it was. */
  readonly usedUp: readonly string[];
  readonly cautions: readonly string[];
}

/**
 * What one slide shows: the line at a time of the run; a step of the fault with its picture so far and, beside it, the line at a `time` at or after
 * the `event` that is told; or a figure of the whole run. Times in s since the start of the run.
 */
export type SlideShows =
  | { readonly kind: "line"; readonly time: number }
  | {
      readonly kind: "step";
      readonly event: number;
      readonly time: number;
      readonly range: readonly [from: number, to: number];
    }
  | { readonly kind: "figure"; readonly name: string }
  | { readonly kind: "words"; readonly lines: readonly string[] };

/** One slide of a talk: plain data that may be ordered, left out and written anew. */
export interface Slide {
  /** Which scenario, counted from 0. */
  readonly part: number;
  readonly shows: SlideShows;
  readonly headline: string;
  /** One sentence. */
  readonly sentence: string;
}
