import type { Issue } from "../../issue/issue.ts";
import type { TextChange } from "../../scenario/index.ts";
import type { Dimension } from "../../units/index.ts";

/** What a part or a combination is held against before anything is run. */
export type RuleName =
  | "continuous load"
  | "switch-on pulse"
  | "breaking capacity"
  | "rated voltage"
  | "load's wire"
  | "dump"
  | "surge"
  | "surge time"
  | "current rise"
  | "holding"
  | "heat sink"
  | "wire in service"
  | "wire behind fuse"
  | "short circuit"
  | "voltage drop"
  | "file"
  | "simulation";

/** Which parts of a combination a rule speaks of. */
export type RuleSubject = "fuse" | "SCR" | "wire" | "fuse and SCR" | "fuse and wire" | "combination";

/** A change of the line that would keep a rule, in words and as a change of its file. */
export interface Mend {
  /** Ends a sentence that begins with "it would take": `an SCR of at least 1.9 kA²s`. */
  readonly words: string;
  /** As changes of the file; empty where none can say it. */
  readonly changes: readonly TextChange[];
}

/** One rule held against one part or combination. */
export interface Check {
  /** What it asks for. */
  readonly rule: RuleName;
  /** Of which parts. */
  readonly subject: RuleSubject;
  /** Whether what was found is allowed. */
  readonly kept: boolean;
  /** Of `found` and `allowed`. */
  readonly dimension: Dimension;
  /** SI units; temperatures in °C. */
  readonly found: number;
  /** Null where no limit is known, so that nobody can say that it is kept. */
  readonly allowed: number | null;
  /** What was found and what is allowed, as a whole sentence. */
  readonly sentence: string;
  /** How many times too much or too little: 1 or more where the rule is broken, infinite where nothing helps. */
  readonly shortBy: number;
  /** Null where no change of the file can mend it. */
  readonly mend: Mend | null;
}

/** One fuse, SCR or wire that takes part. */
export interface Candidate {
  /** Name of the class (`blade fuse 20 A`), of the user's own part, or a wire's size (`4 mm²`). */
  readonly name: string;
  /** True where it stands in the file already. */
  readonly yours: boolean;
  /** What puts it into the file; empty for what stands there. */
  readonly changes: readonly TextChange[];
  /** Rules that speak of it alone. */
  readonly checks: readonly Check[];
}

/** How a source's limit lets current flow into the fired SCR. */
export type FaultStyle = "steady" | "pulses" | "ends";

/** What a line asks of its fuse, SCR and wire. */
export interface LineFacts {
  /** Of the scenario; may be empty. */
  readonly title: string;
  /** Ambient temperature, °C. */
  readonly ambient: number;
  /** Where the fuse stands: `main fuse` or `in-line fuse of the battery`. */
  readonly fusePlace: string;
  /** Largest current in normal service, A, and where the figure comes from. */
  readonly service: { readonly current: number; readonly source: string };
  /** I²t of charging the loads' inputs when the line is switched on, A²s. */
  readonly switchOnI2t: number;
  /** What the sources drive through the fired SCR for good, A, with the parts that stand in the file. */
  readonly lasting: { readonly current: number; readonly style: FaultStyle };
  /** Share of the time in which the SCR conducts behind a supply that hiccups, an upper estimate; 1 for others. */
  readonly onShare: number;
  /** Largest short-circuit current by voltage over resistance, A, and the voltage behind it, V. */
  readonly prospective: { readonly current: number; readonly voltage: number };
  /** I²t of the charged capacitors into the SCR, A²s: what passes the fuse, and what does not. */
  readonly dumpI2t: { readonly throughFuse: number; readonly beside: number };
}

/** How a fault ended in a run. */
export type Ending = "fuse blown" | "held on" | "repeated tripping" | "shut off" | "not ended" | "not fired";

/** What the full run of one combination showed: plain data that may be kept and read back. */
export interface Outcome {
  /** Of the combination. */
  readonly id: string;
  /** How the fault ended. */
  readonly ending: Ending;
  /** Whether nothing speaks against it. */
  readonly sound: boolean;
  /** Why it is not sound; empty where it is. */
  readonly reasons: readonly string[];
  /** What a reader should know of a sound one. */
  readonly notes: readonly string[];
  /** Of the notes those about other parts beyond their limits, a battery for instance; left out: of an earlier version, nobody knows. */
  readonly hazards?: readonly string[];
  /** Time from the fault until the fuse was open, s; null where it did not open. */
  readonly openAfter: number | null;
  /** A²s; null where the fuse did not open. */
  readonly letThroughI2t: number | null;
  /** Largest voltage at any load, V. */
  readonly peakLoadVoltage: number;
  /** Largest current through the SCR, A. */
  readonly peakScrCurrent: number;
  /** Highest temperature of the SCR's junction, °C. */
  readonly peakJunction: number;
  /** The watched limit that came nearest, loads not counted; null where nothing was found. */
  readonly nearest: { readonly subject: string; readonly quantity: string; readonly headroom: number } | null;
}

/** A fuse, an SCR and a wire together. */
export interface Combination {
  /** The three names with ` + ` between them. */
  readonly id: string;
  /** Name of the candidate. */
  readonly fuse: string;
  /** Name of the candidate. */
  readonly scr: string;
  /** Size of the wire. */
  readonly wire: string;
  /** Whether the wire is the one in the file. */
  readonly yoursWire: boolean;
  /** How many of the three differ from the file. */
  readonly changed: number;
  /** Everything that makes the line one with these parts: parts, inductance, heat sink, a run long enough. */
  readonly changes: readonly TextChange[];
  /** Rules of pairs and of the three together. */
  readonly checks: readonly Check[];
  /** What the sources drive through the fuse for good once the SCR has fired, A. */
  readonly lasting: number;
  /** Estimated time in which the lasting current melts the fuse, s; null: it never does. */
  readonly meltsIn: number | null;
  /** Voltage lost between source and the worst load in normal service, V. */
  readonly drop: number;
  /** Largest heat sink that would do, case to ambient, K/W, where the SCR is held on; null where it is not. Texts name `heatSinkToTake` of it. */
  readonly heatSink: number | null;
  /** Inductance in the SCR's branch, H, where the one in the file lets its current rise too fast; null where it does not. */
  readonly inductance: number | null;
  /** What the full run showed; null where none was made. */
  readonly outcome: Outcome | null;
}

/** A change that opens a line for which no combination is sound. */
export interface Remedy {
  /** The `id` of the combination that it begins with. */
  readonly combination: string;
  /** What it would take, in one sentence. */
  readonly sentence: string;
  /** All of it as changes of the file, the combination's own parts included. */
  readonly changes: readonly TextChange[];
  /** True where a full run of the changed line was sound. */
  readonly verified: boolean;
}

/** The whole answer. */
export interface MatchAnswer {
  readonly kind: "answered";
  /** What the line asks of them. */
  readonly facts: LineFacts;
  /** All that took part, with the rules that they keep or break. */
  readonly fuses: readonly Candidate[];
  /** All that took part, with the rules that they keep or break. */
  readonly scrs: readonly Candidate[];
  /** All that took part, thin ones first, with the rules that they keep or break. */
  readonly wires: readonly Candidate[];
  /** Verified by a full run, the most advisable first. */
  readonly sound: readonly Combination[];
  /** That kept every rule and fell in the run. */
  readonly fellInRun: readonly Combination[];
  /** That kept every rule but for which no run was made: the bound was reached, or somebody stopped. */
  readonly notRun: readonly Combination[];
  /** Every combination of parts that keep their own rules, for the matrix: also those that break one together. */
  readonly all: readonly Combination[];
  /** Only where nothing is sound. */
  readonly remedy: Remedy | null;
  /** Full runs made. */
  readonly runs: number;
  /** Whether somebody stopped before the end. */
  readonly stopped: boolean;
  /** The answer in a sentence or two. */
  readonly headline: string;
  /** What no verdict of this model covers. */
  readonly cautions: readonly string[];
}

/** A file or options that cannot be used. */
export interface MatchRefused {
  readonly kind: "refused";
  /** At least one is an error. */
  readonly issues: readonly Issue[];
}

/** What may be chosen from, and what it has to carry. */
export interface MatchOptions {
  /** Largest current in normal service, A; left out: what the loads draw, on transmit where their class tells. */
  readonly load?: number;
  /** Largest voltage that may be lost between source and load in normal service, V; left out: only the load's minimum counts. */
  readonly drop?: number;
  /** Names of classes of fuses that take part; left out: all. What stands in the file always takes part. */
  readonly fuses?: readonly string[];
  /** Names of classes of SCRs that take part; left out: all. What stands in the file always takes part. */
  readonly scrs?: readonly string[];
  /** Sizes of wires that take part, as a file has them: `4 mm2`, `12 AWG`; left out: all on sale. The one in the file always takes part. */
  readonly wires?: readonly string[];
  /** Largest number of full runs, 1 to 1000; 40 if left out. */
  readonly most?: number;
  /** Outcomes of an earlier study of the same file with the same options, from `saved`. */
  readonly resume?: SavedMatch;
}

/** What a study has found so far, as plain data. */
export interface SavedMatch {
  readonly format: "railfault match 1";
  /** Of file and options: another file's outcomes are refused. */
  readonly key: string;
  /** Of the full runs made so far. */
  readonly outcomes: readonly Outcome[];
}
