import type { Issue } from "../issue/issue.ts";
import type { Dimension } from "../units/index.ts";

/** How a load came off: inside its window; above it but within what it stands; beyond what it stands. */
export type Grade = "inside" | "withstood" | "beyond";

/**
 * How a watched limit came off. `withstood`: above a load's maximum, within what it stands; `used up`: a rating that may be used only so often was used; `unknown`: beyond what is published, so that
 * nobody can say how the part ends; `not rated`: the part names no limit.
 */
export type Severity = "ok" | "withstood" | "used up" | "beyond" | "unknown" | "not rated";

/** One watched limit with what was found beside it. */
export interface Finding {
  /** The part, in the trade's words: `crowbar`, `main fuse`, `lead of the battery`. */
  readonly subject: string;
  readonly quantity: string;
  readonly dimension: Dimension;
  /** Null where no limit is known. Temperatures in °C. */
  readonly rating: number | null;
  readonly found: number;
  /** Rating over found (temperatures: as rises above ambient); null where there is no rating or nothing was found. */
  readonly headroom: number | null;
  readonly severity: Severity;
  /** True where found and rating differ by less than 0.1 % and the side decides. */
  readonly close: boolean;
  /** What follows where the limit was passed, beside the part's own end. */
  readonly hazard: "fire" | null;
  readonly sentence: string;
}

/** A decisive level missed or passed by less than 0.1 %. */
export interface TooClose {
  readonly subject: string;
  readonly quantity: string;
  readonly dimension: Dimension;
  readonly level: number;
  readonly found: number;
  readonly sentence: string;
}

/** Time a load spent below its minimum after the fault: said, not graded. */
export interface Starved {
  readonly total: number;
  readonly longest: number;
  /** Null where the run does not tell. */
  readonly stillAtEnd: boolean | null;
  readonly comesBack: "came back" | "by itself" | "by hand" | "not told";
  readonly sentence: string;
}

/** The answer for one load. */
export interface LoadVerdict {
  readonly name: string;
  readonly grade: Grade;
  /** Never above its maximum. */
  readonly safe: boolean;
  /** Largest voltage at its terminals, V, and when, s. */
  readonly peak: { readonly value: number; readonly time: number };
  readonly minimum: number;
  readonly maximum: number;
  /** Time above the maximum, s; area in V·s. */
  readonly above: { readonly total: number; readonly longest: number; readonly area: number };
  /** Smallest allowed over found time of the withstand curve; null where it was never above one of its voltages. */
  readonly smallestMargin: { readonly level: number; readonly ratio: number } | null;
  readonly starved: Starved | null;
  readonly limits: readonly Finding[];
  readonly sentence: string;
}

/** One step of the chain of events. */
export interface Reason {
  /** Time since the start of the run and since the preceding event, s. */
  readonly time: number;
  readonly sincePrevious: number;
  readonly sentence: string;
}

/** How long a fuse is likely to stand the pulses of repeated tripping, by the published table. */
export interface PulseFatigue {
  readonly fuse: string;
  /** I²t of one cycle over the nominal melting I²t. */
  readonly share: number;
  /** Pulses it stands: the bracket of the published points around that share; null: beyond the table on that side. */
  readonly atLeast: number | null;
  readonly atMost: number | null;
  /** The table speaks of pulses at least 10 s apart. */
  readonly insideTable: boolean;
  /** Whether the table says anything of such pulses at all; where not, the sentence says why. */
  readonly applies: boolean;
  readonly sentence: string;
}

/** A protection that trips again and again: how often (period in s), and what that does to the parts. */
export interface RepeatedTripping {
  readonly subject: string;
  /** Trips in this run. */
  readonly count: number;
  readonly period: number;
  /** Conducting time per cycle, s, and its share; null for a series switch. */
  readonly onTime: number | null;
  readonly onShare: number | null;
  /** True where something ended it within the run. */
  readonly ended: boolean;
  readonly sentence: string;
  /** What becomes of fuses and SCR if it goes on: an estimate; empty where it ended. */
  readonly longRun: readonly string[];
  readonly fatigue: readonly PulseFatigue[];
}

/** Something that the end of the run cuts off, and what becomes of it by estimate. */
export interface Pending {
  readonly subject: string;
  readonly kind:
    | "held on"
    | "repeated tripping"
    | "going on and off"
    | "charging"
    | "set voltage moving"
    | "still to come";
  readonly sentence: string;
  /** By that estimate a part passes what it is rated for, unless somebody acts. */
  readonly passesRating: boolean;
}

/** A value that nobody gave and no publication backs. */
export interface AssumedValue {
  readonly path: string;
  readonly label: string;
  /** As text with its unit. */
  readonly value: string;
  readonly source: string;
}

interface Common {
  readonly title: string;
  readonly headline: string;
  readonly energy: {
    readonly fed: number;
    readonly residual: number;
    readonly relative: number;
    readonly closes: boolean;
  };
  readonly warnings: readonly Issue[];
  readonly assumptions: readonly AssumedValue[];
  readonly cautions: readonly string[];
  /** Of the command: 0 safe, 1 endangered or too close, 3 no verdict, 4 radio safe but something else beyond its rating. */
  readonly exitStatus: 0 | 1 | 3 | 4;
}

/** A verdict on a finished run. */
export interface Judged extends Common {
  readonly kind: "verdict";
  /** When somebody stopped the run before its end, s: grade and safety tell of it up to there; null where it ran to its end. */
  readonly stoppedAt: number | null;
  /** The worst load's grade. */
  readonly grade: Grade;
  /** No load was ever above its maximum. */
  readonly safe: boolean;
  readonly loads: readonly LoadVerdict[];
  /** What the protectors did, in sentences. */
  readonly done: readonly string[];
  readonly reasons: readonly Reason[];
  /** Every watched limit outside the loads. */
  readonly findings: readonly Finding[];
  /** What is still going on when the run ends. */
  readonly pending: readonly Pending[];
  /** What the reader should know and no limit tells. */
  readonly notes: readonly string[];
  readonly tooClose: readonly TooClose[];
  readonly tripping: readonly RepeatedTripping[];
  /** What to do before the next use, in this order. */
  readonly replace: readonly string[];
}

/** A run that is no basis for a verdict: it has no grade, so that nobody can take it for one. */
export interface NotJudged extends Common {
  readonly kind: "not a verdict";
  readonly reason: string;
  /** Time reached, s. */
  readonly timeReached: number;
  readonly device: string | null;
  readonly remedy: string;
  readonly exitStatus: 3;
}

/** What a run means: a judgement, or the reason why there is none. */
export type Verdict = Judged | NotJudged;
