import type { Measured } from "../../capture/judge/types.ts";
import type { Issue } from "../../issue/issue.ts";
import type { Answered, Refused } from "../../report/run-scenario.ts";
import type { DealOptions } from "../pool/deal.ts";
import type { Varied } from "../pool/readings.ts";
import type { Alignment } from "./align.ts";

/** What is asked of a fit. */
export interface FitOptions {
  /** Values that may move, each a path, with bounds if need be: `crowbar.trip voltage`, `sources[0].limit.off time = 200…400 ms`. One to twelve. */
  readonly free: readonly string[];
  /** Which channel shows which column of the run, where the names alone do not tell: `CH1 = relay_radio_V`. */
  readonly channels: readonly string[];
  /** Lays the capture on the run by the first edge, or by the best likeness (default `threshold`). */
  readonly align?: Alignment["by"];
  /** Standard uncertainty of the instrument's zero as a share of what a channel swings through, 0 … 0.2 (default 0.01); 0: its zero is trusted. */
  readonly zero?: number;
}

/** How a fit is watched and stopped. */
export interface FitHooks extends DealOptions {
  /**
   * Waited for before each run, so that whoever raises the signal in the same thread gets a turn: `() => new Promise((done) => setTimeout(done))`. Left out: the signal
   * is heard where another thread raises it, or `progress` does.
   */
  readonly pause?: () => Promise<void>;
}

/** A channel of the capture beside the column of the run that it is held against. */
export interface FittedChannel {
  /** As the capture calls it. */
  readonly name: string;
  /** Of all its values. */
  readonly unit: "V" | "A";
  /** Of the run: `relay_radio_V`. */
  readonly column: string;
  /** Samples that were looked at. */
  readonly samples: number;
  /** Of the capture's samples each so many-th is one of them. */
  readonly every: number;
  /** Standard uncertainty of a value by the capture alone: steps and noise, V or A. */
  readonly off: number;
  /** What the instrument shows for nothing, V or A; found by the fit. */
  readonly zero: Measured;
  /** By how much later than the first channel this one shows things, s; found by the fit. */
  readonly lag: Measured;
  /** Times of the samples that were looked at, s of the run. */
  readonly time: Float64Array;
  /** Zero taken off, V or A. */
  readonly captured: Float64Array;
  /** With the fitted values, at the same times, V or A. */
  readonly simulated: Float64Array;
  /** Captured less simulated, V or A. */
  readonly residual: Float64Array;
  /** What is left, held against noise. */
  readonly misfit: Misfit;
}

/** What is left of a channel, held against what its noise explains. */
export interface Misfit {
  /** Root mean square of what is left away from edges, V or A. */
  readonly rms: number;
  /** `rms` over the capture's own uncertainty; about 1 where nothing but noise is left. */
  readonly ratio: number;
  /** Standard normal if signs follow each other by chance (Wald and Wolfowitz, 1940): far below 0, too few runs. */
  readonly runs: number;
  /** Means over eight samples, their squares' excess over what noise makes of them, in standard deviations. */
  readonly slow: number;
  /**
   * A steady oscillation (Hz; V or A) that stands out of what is left (Fisher's test, 1929, at one in ten thousand) and makes up most of that;
   * null: none.
   */
  readonly ripple: { readonly frequency: number; readonly amplitude: number } | null;
  /** The steep edge that the run has farthest from where it was captured: when it was, s of the run, and by how much later the run has it (infinite: never); null: all lie within a sample and a half. */
  readonly edge: { readonly captured: number; readonly late: number } | null;
  /** Where it is worst, s of the run. */
  readonly worst: number;
  /** Whether more than half of it lies in the seventh of all samples that is nearest to events of the run. */
  readonly isAtEvents: boolean;
  /** Whether the model lacks something that the capture shows. */
  readonly isBeyondNoise: boolean;
}

/** A fitted value, in the unit of the file. */
export interface FittedValue extends Varied {
  /** The mean of what the capture allows. */
  readonly value: number;
  /** Ends of the interval, 95 %: as much lies below as above, or all of it at one side of a bound; where it is untold, between which ends the capture still fits: the bounds, if it tells nothing. */
  readonly from: number;
  /** Upper end of the interval. */
  readonly to: number;
  /** Standard error. */
  readonly error: number;
  /** `found`; `at bound`: the capture would have it beyond one; `untold`: the capture says nothing about it. */
  readonly state: "found" | "at bound" | "untold";
}

/** Two values that the capture cannot tell apart. */
export interface Together {
  /** Label of the one value. */
  readonly a: string;
  /** Label of the other, or which channel's zero it is. */
  readonly b: string;
  /** Coefficient of correlation. */
  readonly correlation: number;
}

/** What happened when: captured, simulated with the fitted values, and the difference, s of the run. */
export interface EventRow {
  /** As the capture calls it. */
  readonly channel: string;
  /** What the channel does, and the event of the run beside it where there is one: `falls`, `SCR fires`. */
  readonly what: string;
  /** When the capture shows it. */
  readonly captured: Measured;
  /** When the run shows it; null: never. */
  readonly simulated: number | null;
  /** Captured less simulated; null with `simulated`. */
  readonly difference: number | null;
}

/** What a fit found: the values with their intervals, what stays open, and the scenario with them. */
export interface Fit {
  readonly kind: "fitted";
  /** Of the scenario; may be empty. */
  readonly title: string;
  /** Name of the scenario file. */
  readonly file: string;
  /** Name of the capture. */
  readonly captureFile: string;
  /** How the capture was laid on the run. */
  readonly alignment: Alignment;
  /** What has to be added to the capture's times to get times of the run, s; known to no end (infinite) where the capture does not tell. */
  readonly shift: Measured;
  /** In the order in which they were asked for. */
  readonly values: readonly FittedValue[];
  /** Coefficients of the fitted values among each other, in their order; 0 for what is untold. */
  readonly correlations: readonly (readonly number[])[];
  /** Pairs that the capture hardly tells apart, as far as they do. */
  readonly together: readonly Together[];
  /** Channels that took part. */
  readonly channels: readonly FittedChannel[];
  /** Channels of the capture that nothing of the run belongs to, or that never change. */
  readonly leftOut: readonly string[];
  /** In order of time. */
  readonly events: readonly EventRow[];
  /** What the capture cannot tell, a sentence each. */
  readonly untold: readonly string[];
  /** What the model lacks or does otherwise, a sentence each. */
  readonly misfits: readonly string[];
  /** Whether nothing in the capture stands out of its noise. */
  readonly isQuiet: boolean;
  /** Whether the two are so unlike that no value was found: the capture of another line or another fault. */
  readonly isAnother: boolean;
  /** Whether the search came to rest; else it was ended before. */
  readonly isConverged: boolean;
  /** Simulations that it took. */
  readonly simulations: number;
  /** The scenario as a file with the fitted values, their intervals as spreads and their origin; null where none was found. */
  readonly scenario: string | null;
  /** The run and the verdict with the fitted values; null where none was found. */
  readonly answer: Answered | Refused | null;
  /** Warnings of scenario, capture and options. */
  readonly issues: readonly Issue[];
}

/** A fit, or all reasons why there is none. */
export type FitAnswer = { readonly kind: "refused"; readonly issues: readonly Issue[] } | Fit;
