import type { Issue } from "../../issue/issue.ts";
import type { Answered } from "../../report/run-scenario.ts";
import type { ScenarioResult, SchemeWord } from "../../scenario/index.ts";
import type { Grade } from "../../verdict/types.ts";

/** A line that takes part in a comparison. */
export interface CompareEntry {
  /** As the comparison calls it. */
  readonly name: string;
  /** What is different, in a line; may be empty. */
  readonly about: string;
  /** The ready-made scheme that it is or begins with; null: none. */
  readonly scheme: SchemeWord | null;
  /** The line as it stands, before any change. */
  readonly isBase: boolean;
  /** Without errors. */
  readonly parsed: ScenarioResult;
  /** Gives problems of the complete scenario their place in the file. */
  readonly place: (issues: readonly Issue[]) => readonly Issue[];
  /** The same as a scenario text that says the very same, for a run elsewhere; all on one line. */
  readonly text: () => string;
  /** As a scenario file of its own: the base file with the changes made in it, its remarks kept. */
  readonly asFile: () => string;
}

/** A scheme that was asked for and does not take part. */
export interface LeftOut {
  /** The word or name that was asked for. */
  readonly name: string;
  /** A whole sentence. */
  readonly why: string;
}

/** What is to be run: the line as it stands first, then the others in their order. */
export interface ComparePlan {
  readonly kind: "planned";
  /** Of the scenario; may be empty. */
  readonly title: string;
  /** Lines that take part. */
  readonly entries: readonly CompareEntry[];
  /** What was asked for and does not take part. */
  readonly leftOut: readonly LeftOut[];
  /** Warnings of the file; those of a variant name it. */
  readonly issues: readonly Issue[];
}

/** Why nothing can be compared: every problem with its place. */
export interface CompareRefused {
  readonly kind: "refused";
  /** In the order of the text; at least one is an error. */
  readonly issues: readonly Issue[];
}

/** A point of normal service: what the line itself takes between supply and load. */
export type ServicePoint =
  | {
      readonly kind: "found";
      /** All loads together, A. */
      readonly current: number;
      /** From the terminals of the source that gives most to those of the load that gets least, V. */
      readonly drop: number;
      /** Leads, contacts, fuses, switch and what leaks through protectors, W. */
      readonly loss: number;
    }
  | { readonly kind: "refused"; readonly why: string };

/** The healthy line without its fault. */
export interface NormalService {
  /** Loads as they receive, or as the file has them. */
  readonly receive: ServicePoint;
  /** Loads as they transmit; null where neither file nor part class tells that they ever take more. */
  readonly transmit: ServicePoint | null;
}

/** How a fuse stands at the end of a run; `none`: the line has none. */
export type FuseState = "none" | "intact" | "blown" | "arcing";

/** How the load comes by its supply again after the fault. Onto a source that is still broken nothing is reset: that is `after a repair`. */
export type Return = "never off" | "alone" | "after a reset" | "after a repair" | "not told";

/** A source that failed, and what it takes before it is switched on again. */
export interface Mended {
  /** Its name. */
  readonly source: string;
  /** What befell it, as a file calls it. */
  readonly fault: string;
  /** `set back`: somebody turned it up, and turns it down again. */
  readonly step: "repair" | "set back";
}

/** What must be done to the line before the next use, beside mending what failed. */
export interface Replaced {
  /** In the trade's words: `main fuse`. */
  readonly part: string;
  /** `check`: it may be hurt, and is looked at; `replace`: it is of no use any more. */
  readonly step: "replace" | "check";
  /** How dear that is: 1 a fuse, 2 a protector, 3 a lead or contact, 4 a load or battery. */
  readonly weight: 1 | 2 | 3 | 4;
}

/** One line of a comparison that ended with a verdict. */
export interface JudgedRow {
  readonly kind: "judged";
  /** Of the line, as in `CompareEntry`. */
  readonly name: string;
  /** What is different, in a line; may be empty. */
  readonly about: string;
  /** The line as it stands. */
  readonly isBase: boolean;
  /** The worst load's. */
  readonly grade: Grade;
  /** No load was ever above its maximum. */
  readonly safe: boolean;
  /** Whether a decisive level was missed or passed by less than 0.1 %. */
  readonly tooClose: boolean;
  /** Status that the command `run` would end with. */
  readonly exitStatus: 0 | 1 | 3 | 4;
  /** The verdict's. */
  readonly headline: string;
  /** Name of the load that fares worst. */
  readonly load: string;
  /** Highest voltage at `load`, V, and when, s after the fault. */
  readonly peak: { readonly value: number; readonly after: number };
  /** Time of `load` above its maximum (`level`, V), in all and at the longest, s. */
  readonly above: { readonly total: number; readonly longest: number; readonly level: number };
  /** Of the fuse that came nearest to melting, or melted first. */
  readonly fuse: {
    readonly state: FuseState;
    /** What the user calls it; empty without one. */
    readonly label: string;
    /** How far it came on its way to melting; 1 is melting. */
    readonly share: number;
    /** When it was open, or melted where it arcs, s after the fault; null: it is whole. */
    readonly after: number | null;
  };
  /** Trips in the run, the period at the end, s, and whether nothing ended it; null: none that repeats itself. */
  readonly tripping: { readonly count: number; readonly period: number; readonly goesOn: boolean } | null;
  /** Of the line's SCR; null: there is none, or it did not fire. */
  readonly scr: {
    /** Highest temperature of its junction, °C. */
    readonly peak: number;
    /** Rated temperature of its junction, °C. */
    readonly limit: number;
    readonly failedShort: boolean;
    /** How it came off. */
    readonly state: "ok" | "used up" | "unknown" | "failed short";
  } | null;
  /** The sources that failed, the same for every line that has them; no part of what a scheme costs. */
  readonly mended: readonly Mended[];
  /** Parts that the fault hurt: what a scheme costs. */
  readonly replaced: readonly Replaced[];
  /** What to do before the next use, as the verdict has it. */
  readonly steps: readonly string[];
  /** How the load comes by its supply again. */
  readonly comesBack: Return;
  /** `heats up`: nothing has happened yet, but somebody must switch off in time (an estimate). */
  readonly hazard: "none" | "heats up" | "beyond rating" | "fire";
  /** Why a protector of a load that was not safe never acts on this fault, each a phrase. */
  readonly idle: readonly string[];
  /** What is left to fear, each a phrase; empty: nothing that the run tells of. */
  readonly risks: readonly string[];
  /** The line in normal service; null where that was not computed. */
  readonly service: NormalService | null;
}

/** One line of a comparison that has no verdict. */
export interface UnjudgedRow {
  readonly kind: "no verdict";
  /** Of the line, as in `CompareEntry`. */
  readonly name: string;
  /** What is different, in a line; may be empty. */
  readonly about: string;
  /** The line as it stands. */
  readonly isBase: boolean;
  /** A whole sentence. */
  readonly why: string;
}

/** One line of a comparison: with a verdict, or with the reason why there is none. */
export type CompareRow = JudgedRow | UnjudgedRow;

/** A finished comparison. */
export interface Comparison {
  readonly kind: "compared";
  /** Of the scenario; may be empty. */
  readonly title: string;
  /** The safest and least costly first; see `inOrder`. At least the line as it stands. */
  readonly rows: readonly CompareRow[];
  /** What was asked for and does not take part. */
  readonly leftOut: readonly LeftOut[];
  /** Warnings of the file; those of a variant name it. */
  readonly issues: readonly Issue[];
  /** The runs by the names of their lines, in the order of the file; those without a verdict or waveforms included. */
  readonly runs: ReadonlyMap<string, Answered>;
  /** Whether somebody ended it early: rows that are missing were not run. */
  readonly stopped: boolean;
  /** What no verdict of this model covers. */
  readonly cautions: readonly string[];
}
