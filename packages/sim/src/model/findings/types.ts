import type { Excursion, Peak } from "../../trace/types.ts";
import type { Subject } from "../event-types.ts";

/** What one load went through: voltages in V, times in s, areas in V·s. */
export interface LoadFindings {
  /** Of the load, as in the scenario. */
  readonly name: string;
  /** Largest terminal voltage over the whole run. */
  readonly peak: Peak;
  /** Of the upper end of its window, over the whole run. */
  readonly aboveMaximum: Excursion;
  /** Of the lower end of its window, from the fault on. */
  readonly belowMinimum: Excursion;
  /** Above each level of the withstand curve, with the unbroken time that is allowed there. */
  readonly withstand: readonly (Excursion & { readonly allowed: number })[];
  /** Peak terminal voltage of each full cycle of repeated tripping. */
  readonly peakPerCycle: readonly number[];
  /** How often it switched itself off. */
  readonly drops: number;
  /** Off when the run ends. */
  readonly sleepingAtEnd: boolean;
}

/** What one source went through: voltages in V, currents in A, times in s. */
export interface SourceFindings {
  /** Of the source, as in the scenario. */
  readonly name: string;
  /** Largest terminal voltage. */
  readonly peak: Peak;
  /** Largest current in its lead, either way. */
  readonly peakCurrent: Peak;
  /** Largest current out of it; 0: it gave none. */
  readonly mostGiven: number;
  /** Largest current into it; 0: it took none. */
  readonly mostTaken: number;
  /** Batteries: state of charge (1: full) at the end and its extremes; null for others. */
  readonly charge: { readonly end: number; readonly lowest: number; readonly highest: number } | null;
  /** Supplies: the regulator's damping ½·sqrt(R_s·C_o/tau_s) is below 0.4. */
  readonly rings: boolean;
  /** Batteries and panels always run. */
  readonly stateAtEnd: "running" | "limiting" | "off" | "latched off" | "not switched on";
  /** When it went off at its limit, s; rounds leapt over included. */
  readonly limiterTrips: readonly number[];
  /** When its own over-voltage protection shut it down, s; rounds leapt over included. */
  readonly shutdowns: readonly number[];
  /** When it came back, s; rounds leapt over included. */
  readonly restarts: readonly number[];
  /** Where the voltage that a supply aims at stands at the end, where it goes on to (V) and how fast (V/s); null where it stays. */
  readonly movement: { readonly aim: number; readonly end: number; readonly slope: number } | null;
}

/** What one fuse went through: times in s, currents in A, voltages in V, I²t in A²s; null: it did not happen. */
export interface FuseFindings {
  /** What the user calls it. */
  readonly label: string;
  /** Which fuse of the line it is. */
  readonly subject: Subject;
  /** At the end of the run; `clearing`: melted, its arc still burns. */
  readonly state: "intact" | "clearing" | "open";
  /** Last rise of |current| through its minimum melting current before it melted. */
  readonly overloadTime: number | null;
  /** When the element melted. */
  readonly meltTime: number | null;
  /** When its arc was out. */
  readonly openTime: number | null;
  /** From `overloadTime` to melting. */
  readonly meltingI2t: number | null;
  /** From `overloadTime` to `openTime`, or to the end of the run where it still clears. */
  readonly letThroughI2t: number | null;
  /** Over the whole run. */
  readonly totalI2t: number;
  /** How far it came on its way to melting; 1 is melting. */
  readonly peakTheta: number;
  /**
   * Estimate: its current at the end, or its last round where a supply goes on and off, goes on from there and melts it after so many
   * seconds; null: never, or it has melted.
   */
  readonly meltsAfter: number | null;
  /** Largest |current|. */
  readonly peakCurrent: number;
  /** Largest voltage across it from melting on; null while intact. */
  readonly peakVoltage: number | null;
  /** Largest voltage across it since it was open; null where it is not. */
  readonly openVoltage: number | null;
}

/**
 * What one lead went through: I²t in A²s, currents in A. Its rises are those of a wire whose resistance does not go with its temperature; `copperReached` tells
 * the temperature that copper gets to.
 */
export interface LeadFindings {
  /** The source or load whose lead it is. */
  readonly owner: string;
  /** Over the whole run. */
  readonly i2t: number;
  /** I²t of the overcurrents alone. */
  readonly overcurrentI2t: number;
  /** Rise of the copper above ambient that it had settled at before the run, K. */
  readonly startRise: number;
  /** Largest rise of the copper above ambient, K. */
  readonly peakRise: number;
  /** Rise of the copper above ambient at the end, K. */
  readonly endRise: number;
  /** Largest |current|. */
  readonly peakCurrent: number;
  /** |current| above what the lead carries for ever: what in the end warms it to the continuous limit of its insulation. */
  readonly overcurrent: Excursion;
}

/** What one SCR went through: times in s, currents in A, I²t in A²s, energy in J, temperatures in °C. */
export interface CrowbarFindings {
  /** Each time that it fired, rounds leapt over included. */
  readonly firings: readonly number[];
  /** Each time that it let go, rounds leapt over included. */
  readonly stops: readonly number[];
  /** On when the run ends. */
  readonly conductingAtEnd: boolean;
  /** Its junction has passed the temperature at which it counts as failed. */
  readonly failedShort: boolean;
  /** Largest anode current. */
  readonly peakCurrent: Peak;
  /** Largest di/dt, A/s. */
  readonly peakRise: Peak;
  /** Largest current within the first microsecond after a firing, over that microsecond, A/s. */
  readonly firstMicrosecondRise: number;
  /** Worst I²t (A²s), and the RMS current (A) that it makes, over the windows of the ratings after a firing, in their order. */
  readonly worstWindows: readonly { readonly duration: number; readonly i2t: number; readonly rms: number }[];
  /** Over 10 ms after a firing, the time that surge ratings speak of. */
  readonly worst10msI2t: number;
  /** Over the whole run. */
  readonly totalI2t: number;
  /** Turned into heat in the junction over the whole run. */
  readonly junctionEnergy: number;
  /** Of the junction. */
  readonly peakTemperature: Peak;
  /** When the junction first passed its rated temperature, s since the start of the run; null: it did not. */
  readonly junctionLimitTime: number | null;
  /** Of the junction at the end of the run. */
  readonly endTemperature: number;
  /** Largest filtered sense voltage (tells how nearly it tripped). */
  readonly peakSense: Peak;
  /** Null where it did not trip again and again: three firings at least, the last two periods alike within 5 %. */
  readonly cycling: Cycling | null;
}

/** Repeated tripping. */
export interface Cycling {
  /** From the last firing (or opening) but one to the last, s. */
  readonly period: number;
  /** Conducting time over period; null for a series switch. */
  readonly onShare: number | null;
  /** What becomes of junction and fuses if it goes on; null for a series switch. */
  readonly longRun: LongRun | null;
}

/** Estimate: the last full cycle's means held from the last firing on. */
export interface LongRun {
  /** Of the junction over the last full cycle, W. */
  readonly meanPower: number;
  /** Where the junction's mean settles, °C. */
  readonly restTemperature: number;
  /** Time from the last firing until the junction passes its limit, s; null: never. */
  readonly timeToJunctionLimit: number | null;
  /** How far the junction's peak stands above its mean in the last full cycle, K. */
  readonly swing: number;
  /** Time from the last firing until such peaks pass the junction's limit, s; null: never. */
  readonly timeToPeakLimit: number | null;
  /** What becomes of each fuse of the line. */
  readonly fuses: readonly {
    readonly label: string;
    readonly subject: Subject;
    /** Mean of (i/I_∞)², I_∞ the minimum melting current; from 1 on it melts. */
    readonly meanLoad: number;
    /** Where its way to melting settles by the mean load; null where it melts. */
    readonly restTheta: number | null;
    /** Time of melting since the start of the run by the mean load alone, s; null: that never melts it. */
    readonly meltTime: number | null;
    /** Where its peaks settle when the last full cycle repeats itself; null where they pass 1, or it melted in this run. */
    readonly restPeak: number | null;
    /** Time since the start of the run at which such a peak melts it, s; null: never. */
    readonly peakMeltTime: number | null;
  }[];
  /** What each clamp of the line takes on average, W. */
  readonly clamps: readonly { readonly subject: Subject; readonly meanPower: number }[];
  /** The mean of the squared current in the lead of each source and load, A². */
  readonly leads: readonly { readonly owner: string; readonly meanSquare: number }[];
}

/** What one clamp went through: current in A, energy in J, rises of its junction above ambient in K, times in s. */
export interface ClampFindings {
  /** Largest current. */
  readonly peakCurrent: Peak;
  /** Taken in all, also after it failed short. */
  readonly energy: number;
  /** Largest rise. */
  readonly peakRise: number;
  /** Rise at the end of the run. */
  readonly endRise: number;
  /** Whether it took its rated energy and became a short. */
  readonly failedShort: boolean;
  /** When it failed short; null: it did not. */
  readonly failTime: number | null;
  /** Current and rise at the failure; null while whole. */
  readonly atFailure: { readonly current: number; readonly rise: number } | null;
}

/** What the series switch went through: times in s, current in A, voltages in V. */
export interface SwitchFindings {
  /** At the end of the run; `opening`: decided, contacts still closed; `clearing`: its arc still burns or it avalanches. */
  readonly state: "closed" | "opening" | "clearing" | "open";
  /** When it decided to open, rounds leapt over included. */
  readonly starts: readonly number[];
  /** When its arc was out, rounds leapt over included. */
  readonly opens: readonly number[];
  /** When it closed again, rounds leapt over included. */
  readonly recloses: readonly number[];
  /** Largest |current|. */
  readonly peakCurrent: number;
  /** Largest voltage across it, whatever its state. */
  readonly peakVoltage: number;
  /** Largest voltage across it while it was open; null where it never was. */
  readonly openVoltage: number | null;
  /** Most time above its rated current, and above nearly that much, within any `window` seconds; null where it has no rating. */
  readonly overload: { readonly window: number; readonly most: number; readonly mostNear: number } | null;
  /** Largest filtered sense voltage. */
  readonly peakSense: Peak;
  /** Null where it did not open again and again. */
  readonly cycling: Cycling | null;
}
