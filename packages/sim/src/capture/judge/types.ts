import type { Excursion } from "../../trace/types.ts";
import type { Finding } from "../../verdict/types.ts";
import type { CaptureLayout } from "../types.ts";

/** A figure with how far it may be off, both in one unit: the expanded uncertainty with a coverage factor of 2 (GUM, JCGM 100:2008, 6.2). */
export interface Measured {
  readonly value: number;
  readonly plusMinus: number;
}

/** Levels that a channel is held against. */
export interface CaptureLimits {
  /** V or A; null: not asked. */
  readonly low: number | null;
  readonly high: number | null;
}

/** What the instrument alone makes of a value. */
export interface Resolution {
  /** The smallest step between two values, V or A; null: none could be told. */
  readonly quantum: number | null;
  /** Where there are only two different values: what lies between them, which may be a single step; V or A. */
  readonly between: number | null;
  /** Steps over the range seen, as a power of two. */
  readonly bits: number | null;
  /** Standard deviation from sample to sample, quantisation included, V or A. */
  readonly noise: number;
  /** Of that, what is no quantisation; where steps hide noise, as much as they may hide; V or A. */
  readonly alone: number;
  /** Standard uncertainty of a single value, V or A. */
  readonly ofValue: number;
}

/** The outermost sample, and how far below (`minus`) and above it (`plus`) the curve's own extreme may lie, at about 95 %. */
export interface Extreme {
  readonly value: number;
  readonly minus: number;
  readonly plus: number;
  readonly time: number;
  /** A spike that may be the outermost was seen in one sample only: how far it went is not known. */
  readonly alone: boolean;
}

/** The highest value, in so many samples one after the other. */
export interface FlatTop {
  readonly samples: number;
  readonly time: number;
  /** Noise elsewhere says that no voltage is held so still. */
  readonly clipped: boolean;
  /** How far above it the curve may have gone meanwhile, by how it came there and left, V or A. */
  readonly above: number;
  /** The curve breaks off there as at the end of an instrument's range, or as a line that jumps to a level and is held there: which of both cannot be told. */
  readonly abrupt: boolean;
}

/** How long a channel was beyond one limit, s. */
export interface TimeBeyond {
  readonly limit: "low" | "high";
  readonly excursion: Excursion;
  readonly total: Measured;
  readonly longest: Measured;
  readonly times: number;
  /** Time of which nothing is known, in gaps and out of the instrument's range, in which it may have been beyond as well; s. */
  readonly perhaps: { readonly unseen: number; readonly outOfRange: number };
}

/** Trips of a protection as a channel shows them. */
export interface Trips {
  /** When each began, s. */
  readonly times: readonly number[];
  /** What passed these two, one after the other, was a trip; V or A: 60 % and 25 % of the way from the lowest value to the usual one, of a current to the highest. */
  readonly from: number;
  readonly to: number;
  /** Mean of the periods, s; null for fewer than two trips. */
  readonly period: Measured | null;
  /** Rounds may have left no sample: then the period is at most that long, or a whole part of it. */
  readonly missed: boolean;
  /** Whether they repeat themselves, by the rule for simulated ones. */
  readonly cycling: boolean;
  /** Share of the time from the first to the last trip in which the channel is up; null for fewer than two, or where too little of that time was recorded. */
  readonly onShare: Measured | null;
}

/** A rate, V/s or A/s, and when, s. */
export interface Slope extends Measured {
  /** When it begins, and over how long it was taken, s. */
  readonly time: number;
  readonly over: number;
  /** The edge may be over sooner: how much steeper it is, is not known. */
  readonly atLeast: boolean;
}

/** An oscillation that dies away after an edge. */
export interface Ringing {
  readonly time: number;
  /** Hz; null: sampled too coarsely to tell. */
  readonly frequency: Measured | null;
  /** Time constant of the decay, s; null with the frequency. */
  readonly decay: Measured | null;
  readonly samplesPerPeriod: number;
  /** First swing from crest to trough, V or A. */
  readonly swing: number;
  readonly halfPeriods: number;
}

/** What one channel of a capture shows, in its own unit; times in s. */
export interface ChannelJudgement {
  readonly name: string;
  readonly unit: "V" | "A";
  readonly samples: number;
  /** Usual time between two of them, s. */
  readonly interval: number;
  /** How far an instant is left open, s. */
  readonly timing: number;
  readonly gaps: number;
  readonly outOfRange: number;
  /** Whether it may have been higher than the highest value, or lower than the lowest, by no one knows how much: out of the instrument's range, or beside a single sample. */
  readonly open: { readonly above: boolean; readonly below: boolean };
  /** Within the recording but not recorded, s. */
  readonly unseen: number;
  readonly resolution: Resolution;
  /** A flat top that may be where the instrument's range ends. */
  readonly flatTop: FlatTop | null;
  readonly highest: Extreme;
  readonly lowest: Extreme;
  readonly beyond: readonly TimeBeyond[];
  readonly trips: Trips | null;
  readonly rise: Slope | null;
  readonly fall: Slope | null;
  readonly ringing: Ringing | null;
  /** Held against the limits, voltages only. */
  readonly findings: readonly Finding[];
  readonly tooClose: boolean;
  readonly passed: boolean;
}

/** What a capture shows, judged without a model. */
export interface CaptureJudgement {
  readonly file: string;
  readonly layout: CaptureLayout;
  readonly rows: number;
  /** From the first to the last sample, usual and longest step, s. */
  readonly duration: number;
  readonly interval: number;
  readonly longestStep: number;
  readonly limits: CaptureLimits;
  readonly channels: readonly ChannelJudgement[];
  /** 0 within the limits or none given, 1 a limit passed or too close to call. */
  readonly exitStatus: 0 | 1;
}
