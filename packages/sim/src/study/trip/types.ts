import type { Mark } from "../../scenario/parts/types.ts";

/**
 * What decides about a trip point beside the line itself. SI units, temperatures in °C. Null: taken from the line or from the threshold
 * device; `readTripSettings` makes one from what a person wrote.
 */
export interface TripSettings {
  /** What compares the line's voltage with the trip point: a name of `thresholdNames`. */
  readonly threshold: string;
  /** Grade of the divider's resistors: a name of `resistorGrades`. */
  readonly resistors: string;
  /** Lowest temperature at which the protector works, °C. */
  readonly coldest: number;
  /** Highest temperature at which it works, °C. */
  readonly hottest: number;
  /** Highest voltage that the supply gives in normal service without ripple, V. */
  readonly supplyMaximum: number | null;
  /** Peak of the ripple above its mean, V. */
  readonly ripple: number;
  /** Voltage to which a charger raises a battery at 25 °C, V. */
  readonly chargeVoltage: number | null;
  /** How much more the charger gives for each kelvin below 25 °C, for a whole 12 V battery, V/K. */
  readonly compensation: number | null;
  /** What radio-frequency pick-up adds at the sense input, V. */
  readonly pickup: number;
  /** What the first load draws while it transmits, A. */
  readonly transmit: number | null;
  /** Steepest rise of a supply that has lost its feedback, in place of the line's own fault, V/s. */
  readonly ramp: number | null;
  /** Delay of the threshold device itself, s. */
  readonly delay: number | null;
  /** Current through the divider, A. */
  readonly bias: number;
  /** Trip point asked for, V. */
  readonly wanted: number | null;
}

/** One share in an edge of the band or in a tolerance. */
export interface Contribution {
  /** What it is, in words. */
  readonly name: string;
  /** V at the protector, with its sign. */
  readonly value: number;
  /** True for what varies by itself and so counts as a square in the root-sum-square; what is known, or lasts, counts in full. */
  readonly spread: boolean;
  /** Where the figure comes from, as a sentence fragment. */
  readonly source: string;
  /** How well it is known. */
  readonly mark: Mark;
}

/** An edge of the band: what it is made of, V at the protector. */
export interface Edge {
  /** What it begins with, then the steps from there. */
  readonly rows: readonly Contribution[];
  /** Sum of all rows. */
  readonly worst: number;
  /** Sum of what lasts, and the root of the squares of what varies. */
  readonly rss: number;
}

/** How far from its nominal value a trip point may land, V. */
export interface Tolerance {
  /** As the parts are marked. */
  readonly nominal: number;
  /** Lowest, all deviations adding up. */
  readonly low: number;
  /** Highest, all deviations adding up. */
  readonly high: number;
  /** Lowest and highest with what varies by itself added as the root of the sum of squares. */
  readonly rss: { readonly low: number; readonly high: number };
  /** What makes `low`: rows add up to `low − nominal`. */
  readonly below: readonly Contribution[];
  /** What makes `high`: rows add up to `high − nominal`. */
  readonly above: readonly Contribution[];
}

/** Voltages between which something lies, V; where `low` is above `high` there is nothing. */
export interface Range {
  readonly low: number;
  readonly high: number;
}

/** One thing of normal service that must not trip the protector. */
export interface Nuisance {
  /** What happens, in words: `radio-frequency pick-up`. */
  readonly name: string;
  /** By a run, or from the settings alone. */
  readonly how: "simulated" | "computed";
  /** Highest voltage of the protected side, V; null where nothing could be computed. */
  readonly node: number | null;
  /** Highest voltage behind the sense filter, V; null where nothing could be computed. */
  readonly sensed: number | null;
  /** What the sense filter sees more than at rest, V. */
  readonly excess: number;
  /** Lowest voltage at which the protector may trip less what it senses, V. */
  readonly volts: number | null;
  /** Longest time of the protected side above that voltage, s. */
  readonly lasts: number;
  /** How much longer that would have to last at its peak before it trips, s; null: it may last for ever. */
  readonly timeLeft: number | null;
  /** What to know about it: why it was not computed, at which voltage it was. */
  readonly remark: string;
}

/** Where the voltages stand on the line in one state of normal service, V. */
export interface Drops {
  readonly state: "receive" | "transmit";
  /** From the highest source to the protector. */
  readonly sourceSide: number;
  /** From the protector to the lowest load. */
  readonly loadSide: number;
}

/** A divider from standard values. */
export interface DividerPair {
  /** IEC 60063, from which both values are. */
  readonly series: "E24" | "E48" | "E96";
  /** From the line to the sense input, ohm. */
  readonly upper: number;
  /** From the sense input to ground, ohm. */
  readonly lower: number;
  /** Through the lower resistor at the trip point, A. */
  readonly bias: number;
  /** Of the trip point that it makes. */
  readonly tolerance: Tolerance;
  /** Nominal trip point less the wanted one, V. */
  readonly miss: number;
  /** Whether everything it may land on lies within the band. */
  readonly fits: boolean;
  /** Whether all that it may land on by the root of the sum of squares lies within that band. */
  readonly fitsRss: boolean;
  /** At the temperatures between coldest and hottest. */
  readonly landings: readonly Landing[];
}

/** Where a trip point lands at one temperature, V. */
export interface Landing {
  /** °C. */
  readonly temperature: number;
  /** Lowest, all deviations adding up. */
  readonly low: number;
  /** With parts as they are marked. */
  readonly nominal: number;
  /** Highest, all deviations adding up. */
  readonly high: number;
  /** Lowest and highest with what varies by itself added as the root of the sum of squares. */
  readonly rss: Range;
}

/** A change that may open the band. */
export interface TriedChange {
  /** The change in a few words. */
  readonly name: string;
  /** What it brings: how wide a window it opens, or how much is still missing. */
  readonly about: string;
  /** Place in the order of costs: 1 costs least. Two changes together cost the sum. */
  readonly cost: number;
  /** What the place in the order of costs stands for. */
  readonly why: string;
  /** Whether there is a band afterwards. */
  readonly opens: boolean;
  /** Width of the window for the nominal trip point afterwards, V; below 0 where there is none. */
  readonly width: number;
  /** How much wider the window becomes, V. */
  readonly gain: number;
}

/** What was found by full simulation with the trip point at the ends of the band. */
export interface Verified {
  /** Times the protector fired in normal service with the trip point at the lower end; null where that could not be run. */
  readonly firings: number | null;
  /** With the trip point at the upper end and the line's own fault, the load nearest its limit; null where that could not be run. */
  readonly fault: LoadPeak | null;
  /**
   * With the trip point at the upper end and a supply that creeps up, the load nearest its limit; null where that could not be run, or there is no
   * supply to creep.
   */
  readonly creep: LoadPeak | null;
}

/** The highest voltage that a load saw, and its limit, V. */
export interface LoadPeak {
  /** Its name. */
  readonly load: string;
  /** Its highest voltage. */
  readonly peak: number;
  /** The maximum of its window. */
  readonly limit: number;
}

/** Where the trip point belongs. */
export interface TripStudy {
  /** Of the scenario; may be empty. */
  readonly title: string;
  /** What protects the line, in words. */
  readonly protector: string;
  /** What was asked, open ones filled in. */
  readonly settings: TripSettings;
  /** Text of the threshold device: what it is, where its figures come from. */
  readonly threshold: string;
  /** Lowest trip voltage that never trips falsely. */
  readonly bottom: Edge;
  /** Highest trip voltage that always protects: the lower one of two. */
  readonly top: Edge;
  /** Against the line's own fault; against a voltage that creeps up and stays just below the trip point. */
  readonly tops: { readonly fast: Edge | null; readonly slow: Edge };
  /** Which of them rules. */
  readonly rules: "fast" | "slow";
  /** Between the worst cases of both edges: where a trip never is false and always protects. */
  readonly band: Range;
  /** The band from the root-sum-squares of both edges. */
  readonly bandRss: Range;
  /** Where the nominal trip point may lie once the threshold's own tolerance is taken off the band at both ends. */
  readonly window: Range;
  /** That window from the root-sum-squares. */
  readonly windowRss: Range;
  /** Whether there is a window by the worst case. */
  readonly exists: boolean;
  /** Whether there is a window by the root-sum-squares. */
  readonly existsRss: boolean;
  /** The trip point that was taken, with its tolerance: the one wanted, else the middle of the window. */
  readonly trip: Tolerance;
  /** Whether everything it may land on lies within the band. */
  readonly fits: boolean;
  /** What stands in the line's file, with the same threshold device. */
  readonly written: Tolerance & { readonly fits: boolean };
  /** The best pairs of standard values, the best of each series first; empty for a zener. */
  readonly dividers: readonly DividerPair[];
  /** Of `trip`, at the temperatures between coldest and hottest. */
  readonly landings: readonly Landing[];
  /** What happens in normal service, and what room it leaves. */
  readonly nuisances: readonly Nuisance[];
  /** What lies between source, protector and load in normal service. */
  readonly drops: readonly Drops[];
  /** Steepest rise of the protected side without the protector, where it crosses the lowest limit, V/s; null without such a fault. */
  readonly ramp: number | null;
  /** Why the line's own fault sets no upper edge; null where it does. */
  readonly noFault: string | null;
  /** What full simulations at both ends of the band showed. */
  readonly verified: Verified;
  /** One sentence. */
  readonly headline: string;
  /** Where no band exists: why, biggest share first; else empty. */
  readonly reasons: readonly string[];
  /** Where none exists: every change that was tried, those that open it first, each group the cheapest first. */
  readonly changes: readonly TriedChange[];
  /** What the answer does not cover. */
  readonly cautions: readonly string[];
  /** Simulations that were needed. */
  readonly runs: number;
}
