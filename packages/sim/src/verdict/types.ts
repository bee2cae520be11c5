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
  /** What was compared, in words: `voltage`, `junction temperature`, `time above 16 V`. */
  readonly quantity: string;
  /** Of `rating` and `found`, which are in its SI unit. */
  readonly dimension: Dimension;
  /** The limit; null where none is known. Temperatures in °C. */
  readonly rating: number | null;
  /** The worst that the run found; temperatures in °C. */
  readonly found: number;
  /** Rating over found (temperatures: as rises above ambient); null where there is no rating or nothing was found. */
  readonly headroom: number | null;
  /** `ok` up to the rating itself, else what passing it means for this part. */
  readonly severity: Severity;
  /** True where found and rating differ by less than 0.1 % and the side decides. */
  readonly close: boolean;
  /** What follows where the limit was passed, beside the part's own end; null: nothing more. */
  readonly hazard: "fire" | null;
  /** The finding in words, with its numbers. */
  readonly sentence: string;
}

/** A decisive level missed or passed by less than 0.1 %. */
export interface TooClose {
  /** The part or load, as in `Finding`. */
  readonly subject: string;
  /** What was compared, in words. */
  readonly quantity: string;
  /** Of `level` and `found`, which are in its SI unit; temperatures in °C. */
  readonly dimension: Dimension;
  /** The level that decides: a rating, a maximum, a trip level. */
  readonly level: number;
  /** What the run found, less than 0.1 % beside it. */
  readonly found: number;
  /** By how much it was missed or passed, in words. */
  readonly sentence: string;
}

/** Time a load spent below its minimum after the fault: said, not graded. */
export interface Starved {
  /** All such time together, s. */
  readonly total: number;
  /** Longest unbroken stretch, s. */
  readonly longest: number;
  /** Whether it is below its minimum or asleep when the run ends; null where the run does not tell. */
  readonly stillAtEnd: boolean | null;
  /** `came back` within the run; else whether it will once the line does, or only by somebody at the site. */
  readonly comesBack: "came back" | "by itself" | "by hand" | "not told";
  /** All this in words. */
  readonly sentence: string;
}

/** The answer for one load. */
export interface LoadVerdict {
  /** Of the load, as in the scenario. */
  readonly name: string;
  /** How it came off. */
  readonly grade: Grade;
  /** Never above its maximum. */
  readonly safe: boolean;
  /** Largest voltage at its terminals, V, and when, s. */
  readonly peak: { readonly value: number; readonly time: number };
  /** Lower end of its window, V. */
  readonly minimum: number;
  /** Upper end of its window, V. */
  readonly maximum: number;
  /** Time above the maximum, s; area in V·s. */
  readonly above: { readonly total: number; readonly longest: number; readonly area: number };
  /** Smallest allowed over found time of the withstand curve, and at which of its voltages, V; null where it was never above one. */
  readonly smallestMargin: { readonly level: number; readonly ratio: number } | null;
  /** Null where it was never below its minimum after the fault. */
  readonly starved: Starved | null;
  /** Its maximum first, then each voltage of its withstand curve that was passed. */
  readonly limits: readonly Finding[];
  /** The answer in words, with its numbers. */
  readonly sentence: string;
}

/** One step of the chain of events. */
export interface Reason {
  /** Time since the start of the run, s. */
  readonly time: number;
  /** Time since the preceding event, s. */
  readonly sincePrevious: number;
  /** What happened and why; numbers the first time only. */
  readonly sentence: string;
}

/** How long a fuse is likely to stand the pulses of repeated tripping, by the published table. */
export interface PulseFatigue {
  /** In the trade's words: `main fuse`. */
  readonly fuse: string;
  /** I²t of one cycle over the nominal melting I²t. */
  readonly share: number;
  /** Pulses it stands at least: those of the next larger share in the table; null: the share is above it, or the table does not apply. */
  readonly atLeast: number | null;
  /** Pulses it stands at most: those of the next smaller share in the table; null: the share is below it, or the table does not apply. */
  readonly atMost: number | null;
  /** Whether the pulses come at least 10 s apart, as the table asks; faster ones wear a fuse out sooner. */
  readonly insideTable: boolean;
  /** Whether the table says anything of such pulses at all; where not, the sentence says why. */
  readonly applies: boolean;
  /** The estimate in words, or why there is none. */
  readonly sentence: string;
}

/** A protection that trips again and again: how often (period in s), and what that does to the parts. */
export interface RepeatedTripping {
  /** What trips: a crowbar, a supply's own crowbar, the series switch. */
  readonly subject: string;
  /** Trips in this run, rounds leapt over included. */
  readonly count: number;
  /** From one trip to the next at the end, s. */
  readonly period: number;
  /** Conducting time per cycle, s; null for a series switch. */
  readonly onTime: number | null;
  /** Conducting time over period, 0 to 1; null for a series switch. */
  readonly onShare: number | null;
  /** True where something ended it within the run. */
  readonly ended: boolean;
  /** How often, how long it conducts, and what ended it. */
  readonly sentence: string;
  /** What becomes of fuses and SCR if it goes on: an estimate; empty where it ended. */
  readonly longRun: readonly string[];
  /** Of each fuse that is whole and whose melting I²t is known; empty where the tripping ended. */
  readonly fatigue: readonly PulseFatigue[];
}

/** Something that the end of the run cuts off, and what becomes of it by estimate. */
export interface Pending {
  /** The part or source, in the trade's words. */
  readonly subject: string;
  /** What goes on; `still to come`: something that the scenario has set for later. */
  readonly kind:
    | "held on"
    | "repeated tripping"
    | "going on and off"
    | "clamp conducting"
    | "overcurrent in a lead"
    | "above its maximum"
    | "charging"
    | "voltage rising with charge"
    | "set voltage moving"
    | "still to come";
  /** What goes on, and the estimate of what becomes of it. */
  readonly sentence: string;
  /** By that estimate a part passes what it is rated for, unless somebody acts. */
  readonly passesRating: boolean;
  /** The fuse whose melting ends it, by that estimate, in the trade's words; null where none does. */
  readonly endedBy: string | null;
}

/** A value that nobody gave and no publication backs. */
export interface AssumedValue {
  /** Path of the value in the scenario file: `sources[0].lead.insulation`. */
  readonly path: string;
  /** What the value is, in words. */
  readonly label: string;
  /** As text with its unit. */
  readonly value: string;
  /** What the assumption rests on. */
  readonly source: string;
}

interface Common {
  /** Of the scenario; may be empty. */
  readonly title: string;
  /** The answer in a sentence or two: the worst load's, what is too close to call before it. */
  readonly headline: string;
  /** The balance that every verdict rests on: J fed, J unaccounted for, and their share of the energy turned over. */
  readonly energy: {
    readonly fed: number;
    readonly residual: number;
    readonly relative: number;
    /** |relative| ≤ 1e-6; else there is no verdict. */
    readonly closes: boolean;
  };
  /** Of the scenario and of how it was run; no error is among them. */
  readonly warnings: readonly Issue[];
  /** Every value of the scenario that is marked as assumed. */
  readonly assumptions: readonly AssumedValue[];
  /** What no verdict of this model covers; the same for all. */
  readonly cautions: readonly string[];
  /** Of the command: 0 safe, 1 above its maximum (withstood or beyond) or too close, 3 no verdict, 4 radio safe but something else beyond its rating. */
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
  /** In the order of the scenario. */
  readonly loads: readonly LoadVerdict[];
  /** What the protectors did, in sentences. */
  readonly done: readonly string[];
  /** The chain of events, repetitions beyond the second gathered. */
  readonly reasons: readonly Reason[];
  /** Every watched limit outside the loads. */
  readonly findings: readonly Finding[];
  /** What is still going on when the run ends. */
  readonly pending: readonly Pending[];
  /** What the reader should know and no limit tells. */
  readonly notes: readonly string[];
  /** Any of them may turn the answer; empty where all is clear. */
  readonly tooClose: readonly TooClose[];
  /** Protections that trip again and again, ended or not. */
  readonly tripping: readonly RepeatedTripping[];
  /** What to do before the next use, in this order. */
  readonly replace: readonly string[];
}

/** A run that is no basis for a verdict: it has no grade, so that nobody can take it for one. */
export interface NotJudged extends Common {
  readonly kind: "not a verdict";
  /** Why, as the end of a sentence. */
  readonly reason: string;
  /** Time reached, s. */
  readonly timeReached: number;
  /** What it is about: a load, or the state that the solver could not follow; null where nothing in particular. */
  readonly device: string | null;
  /** What to try. */
  readonly remedy: string;
  /** No verdict. */
  readonly exitStatus: 3;
}

/** What a run means: a judgement, or the reason why there is none. */
export type Verdict = Judged | NotJudged;
