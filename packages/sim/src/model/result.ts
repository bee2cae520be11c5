import type { Scenario } from "../scenario/types.ts";
import type { Excursion, Peak, Trace } from "../trace/types.ts";
import type { Repetition, Sample, Work } from "./calculation.ts";

export type * from "./calculation.ts";

/** Everything a run found out, as data in SI units; temperatures in °C, times in s since the start. */
export interface Run {
  readonly scenario: Scenario;
  readonly outcome: Outcome;
  readonly events: readonly RunEvent[];
  readonly trace: Trace;
  readonly energy: Energy;
  readonly loads: readonly LoadFindings[];
  readonly sources: readonly SourceFindings[];
  /** The main fuse first, then the in-line fuses of sources and loads in their order. */
  readonly fuses: readonly FuseFindings[];
  /** Sources' leads, then loads' leads. */
  readonly leads: readonly LeadFindings[];
  readonly crowbar: CrowbarFindings | null;
  /** A supply's own SCR, by source. */
  readonly ownCrowbars: readonly { readonly source: string; readonly findings: CrowbarFindings }[];
  readonly clamp: ClampFindings | null;
  readonly loadClamps: readonly { readonly load: string; readonly findings: ClampFindings }[];
  readonly seriesSwitch: SwitchFindings | null;
  /** Every state at t = 0 by name, in its own unit (`supply.vo`, `main fuse.theta1`, `vC2` …). */
  readonly operatingPoint: Readonly<Record<string, number>>;
  /** What every column of the trace shows at the end, by its name. */
  readonly atEnd: Readonly<Record<string, number>>;
  readonly samples: readonly Sample[];
  readonly repetition: Repetition;
  readonly work: Work;
}

/** How the run ended. One that failed is no basis for a verdict, nor one that was `stopped` before the end of its scenario. */
export interface Outcome {
  readonly status: "finished" | "at rest" | "failed" | "stopped";
  /** Time reached, s; totals of a run that came to rest are continued to the end time. */
  readonly time: number;
  /** For a failure: what happened, the device responsible if known, and what to try. */
  readonly failure: { readonly reason: string; readonly device: string | null; readonly remedy: string } | null;
}

/** What happened to a part of the line. */
export type EventKind =
  | "fault"
  | "load changes"
  | "fires"
  | "stops conducting"
  | "fails short"
  | "starts to open"
  | "clears"
  | "open"
  | "recloses"
  | "limiter trips"
  | "restarts"
  | "over-voltage shutdown"
  | "melts"
  | "contact opens"
  | "contact arc ends"
  | "contact closes"
  | "switched on"
  | "drops out"
  | "comes back"
  | "repeats itself";

/** Which part of the line something is about. */
export interface Subject {
  readonly part:
    | "line"
    | "source"
    | "load"
    | "main fuse"
    | "in-line fuse"
    | "crowbar"
    | "own crowbar"
    | "clamp"
    | "load clamp"
    | "series switch";
  /** The source or load it belongs to; the empty text for parts of the line itself. */
  readonly owner: string;
}

/** One event of a run: when (s from the start), what, to which part and why. */
export interface RunEvent {
  readonly time: number;
  /** Exact time since the preceding event (or since the start), s. */
  readonly sincePrevious: number;
  readonly kind: EventKind;
  readonly subject: Subject;
  /** The cause in words, with its numbers. */
  readonly cause: string;
}

/** The run's energy balance, J: fed = dissipated + stored change + residual. */
export interface Energy {
  /** What the sources gave, less what batteries took. */
  readonly fed: number;
  readonly dissipated: number;
  readonly storedChange: number;
  readonly residual: number;
  /** Energy that the sources gave and took: what a charger feeds into a battery counts twice here and cancels in `fed`. */
  readonly turnedOver: number;
  /** |residual| over the energy turned over. */
  readonly relative: number;
  /** Energy turned into heat by device name, J. */
  readonly byDevice: Readonly<Record<string, number>>;
}

/** What one load went through: voltages in V, times in s, areas in V·s. */
export interface LoadFindings {
  readonly name: string;
  /** Largest terminal voltage over the whole run. */
  readonly peak: Peak;
  readonly aboveMaximum: Excursion;
  /** From the fault on. */
  readonly belowMinimum: Excursion;
  /** One for each level of the withstand curve. */
  readonly withstand: readonly (Excursion & { readonly allowed: number })[];
  /** Peak terminal voltage of each full cycle of repeated tripping. */
  readonly peakPerCycle: readonly number[];
  readonly drops: number;
  readonly sleepingAtEnd: boolean;
}

/** What one source went through: voltages in V, currents in A, times in s. */
export interface SourceFindings {
  readonly name: string;
  readonly peak: Peak;
  readonly peakCurrent: Peak;
  /** Batteries: state of charge at the end and its extremes; null for others. */
  readonly charge: { readonly end: number; readonly lowest: number; readonly highest: number } | null;
  /** Supplies: the regulator's damping ½·sqrt(R_s·C_o/tau_s) is below 0.4. */
  readonly rings: boolean;
  readonly stateAtEnd: "running" | "limiting" | "off" | "latched off" | "not switched on";
  /** When it went off at its limit, was shut down by its own over-voltage protection, and came back, s; rounds leapt over included. */
  readonly limiterTrips: readonly number[];
  readonly shutdowns: readonly number[];
  readonly restarts: readonly number[];
  /** Where the voltage that a supply aims at stands at the end, where it goes on to (V) and how fast (V/s); null where it stays. */
  readonly movement: { readonly aim: number; readonly end: number; readonly slope: number } | null;
}

/** What one fuse went through: times in s, currents in A, voltages in V, I²t in A²s; null: it did not happen. */
export interface FuseFindings {
  readonly label: string;
  readonly subject: Subject;
  readonly state: "intact" | "clearing" | "open";
  readonly overloadTime: number | null;
  readonly meltTime: number | null;
  readonly openTime: number | null;
  readonly meltingI2t: number | null;
  readonly letThroughI2t: number | null;
  readonly totalI2t: number;
  /** 1 is melting. */
  readonly peakTheta: number;
  /**
   * Estimate: its current at the end, or its last round where a supply goes on and off, goes on from there and melts it after so many
   * seconds; null: never, or it has melted.
   */
  readonly meltsAfter: number | null;
  readonly peakCurrent: number;
  /** Largest voltage across it from melting on; null while intact. */
  readonly peakVoltage: number | null;
  /** Largest voltage across it since it was open; null where it is not. */
  readonly openVoltage: number | null;
}

/** What one lead went through: I²t in A²s, currents in A. */
export interface LeadFindings {
  readonly owner: string;
  readonly i2t: number;
  /** Rise of the copper above ambient, K: what it had settled at before the run, its most, and at the end. */
  readonly startRise: number;
  readonly peakRise: number;
  readonly endRise: number;
  readonly peakCurrent: number;
  /** |current| above what the lead carries for ever. */
  readonly overcurrent: Excursion;
}

/** What one SCR went through: times in s, currents in A, I²t in A²s, energy in J, temperatures in °C. */
export interface CrowbarFindings {
  readonly firings: readonly number[];
  readonly stops: readonly number[];
  readonly conductingAtEnd: boolean;
  readonly failedShort: boolean;
  readonly peakCurrent: Peak;
  /** Largest di/dt, A/s. */
  readonly peakRise: Peak;
  /** Largest current within the first microsecond after a firing, over that microsecond, A/s. */
  readonly firstMicrosecondRise: number;
  /** Worst I²t (A²s) over the windows of the ratings after a firing, in their order. */
  readonly worstWindows: readonly { readonly duration: number; readonly i2t: number; readonly rms: number }[];
  readonly worst10msI2t: number;
  readonly totalI2t: number;
  readonly junctionEnergy: number;
  readonly peakTemperature: Peak;
  /** When the junction first passed its rated temperature, s since the start of the run; null: it did not. */
  readonly junctionLimitTime: number | null;
  readonly endTemperature: number;
  /** Largest filtered sense voltage (tells how nearly it tripped). */
  readonly peakSense: Peak;
  readonly cycling: Cycling | null;
}

/** Repeated tripping. */
export interface Cycling {
  readonly period: number;
  /** Conducting time over period; null for a series switch. */
  readonly onShare: number | null;
  readonly longRun: LongRun | null;
}

/** Estimate: the last full cycle's means held from the last firing on. */
export interface LongRun {
  readonly meanPower: number;
  readonly restTemperature: number;
  /** Time from the last firing until the junction passes its limit, s; null: never. */
  readonly timeToJunctionLimit: number | null;
  /** How far the junction's peak stands above its mean in the last full cycle, K. */
  readonly swing: number;
  /** Time from the last firing until such peaks pass the junction's limit, s; null: never. */
  readonly timeToPeakLimit: number | null;
  readonly fuses: readonly {
    readonly label: string;
    readonly subject: Subject;
    readonly meanLoad: number;
    readonly restTheta: number | null;
    /** Time of melting since the start of the run by the mean load alone, s; null: that never melts it. */
    readonly meltTime: number | null;
    /** Where its peaks settle when the last full cycle repeats itself; null where they pass 1, or it melted in this run. */
    readonly restPeak: number | null;
    /** Time since the start of the run at which such a peak melts it, s; null: never. */
    readonly peakMeltTime: number | null;
  }[];
}

/** What one clamp went through: current in A, energy in J, rises of its junction above ambient in K, times in s. */
export interface ClampFindings {
  readonly peakCurrent: Peak;
  readonly energy: number;
  readonly peakRise: number;
  readonly endRise: number;
  readonly failedShort: boolean;
  readonly failTime: number | null;
  /** Current and rise at the failure; null while whole. */
  readonly atFailure: { readonly current: number; readonly rise: number } | null;
}

/** What the series switch went through: times in s, current in A, voltages in V. */
export interface SwitchFindings {
  readonly state: "closed" | "opening" | "clearing" | "open";
  readonly starts: readonly number[];
  readonly opens: readonly number[];
  readonly recloses: readonly number[];
  readonly peakCurrent: number;
  readonly peakVoltage: number;
  /** Largest voltage across it while it was open; null where it never was. */
  readonly openVoltage: number | null;
  /** Most time above its rated current, and above nearly that much, within any `window` seconds; null where it has no rating. */
  readonly overload: { readonly window: number; readonly most: number; readonly mostNear: number } | null;
  readonly peakSense: Peak;
  readonly cycling: Cycling | null;
}
