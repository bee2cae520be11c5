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
  /** When the meters are read. */
  readonly moment:
    | "before the trip"
    | "at the trip"
    | "as it begins to conduct"
    | "after the trip"
    | "while it conducts";
  /** Voltage at the bench source. */
  readonly supply: number;
  /** Current of the bench source. */
  readonly supplyCurrent: number;
  /** Voltage across the protector. */
  readonly protector: number;
  /** Voltage at the dummy load, where the radio would be. */
  readonly radio: number;
  /** Where the protector trips decides about it: at the lowest and at the highest trip point that pass; null: it does not. */
  readonly protectorRange: readonly [low: number, high: number] | null;
}

/** One thing to look at in a bench test. */
export interface BenchCheck {
  /** What is looked at. */
  readonly what: string;
  /** What it shows where the protector is sound. */
  readonly pass: string;
  /** What it shows where it is not, and what that means. */
  readonly fail: string;
  /** Where the figures come from. */
  readonly basis: LimitBasis;
}

/** How to try the protector of a line safely, and what meters will show. SI units. */
export interface BenchCard {
  /** Of the scenario. */
  readonly title: string;
  /** What is tried: `SCR 55 A, set to 15.0 V`. */
  readonly protector: string;
  /** The bench source. */
  readonly source: {
    /** At which it begins, V. */
    readonly startVoltage: number;
    /** Highest to which it is turned, V. */
    readonly endVoltage: number;
    /** Set beforehand, A. */
    readonly currentLimit: number;
    /** How fast it is turned up, V/s. */
    readonly slew: number;
    /** Why the limit is what it is, in sentences. */
    readonly why: readonly string[];
  };
  /** The dummy load, ohm and W. */
  readonly dummy: { readonly resistance: number; readonly power: number };
  /** In order, each a sentence or two. */
  readonly steps: readonly string[];
  /** What meters show by simulation, in order of time. */
  readonly readings: readonly BenchReading[];
  /** What tells pass from fail. */
  readonly checks: readonly BenchCheck[];
  /** What happened in the simulated test: heat of the SCR, fuses. */
  readonly strain: readonly string[];
  /** What the figures rest on, in sentences. */
  readonly assumptions: readonly string[];
  /** What to take care of, first of all. */
  readonly cautions: readonly string[];
}

/** A scenario that cannot be tried on the bench, or has errors: every reason. */
export interface TalkRefused {
  readonly kind: "refused";
  /** At least one is an error. */
  readonly issues: readonly Issue[];
}

/** What state everything is in after a fault, and how to get back. */
export interface ResetSheet {
  /** Of the scenario. */
  readonly title: string;
  /** How the fault came out, in a few sentences. */
  readonly headline: string;
  /** When the states below hold, in words. */
  readonly at: string;
  /** Every part's state in a word or two, and what that means. */
  readonly states: readonly { readonly part: string; readonly state: string; readonly tone: Tone }[];
  /** What still goes on then. */
  readonly goesOn: readonly string[];
  /** In the order in which they are done; the first ones come from what is live, the last are the resets. */
  readonly steps: readonly string[];
  /** Ratings used up or passed, fuses melted: what is not what it was. */
  readonly usedUp: readonly string[];
  /** What to take care of, first of all. */
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
  /** Its picture. */
  readonly shows: SlideShows;
  /** Above the picture; a sentence or less. */
  readonly headline: string;
  /** One sentence. */
  readonly sentence: string;
}
