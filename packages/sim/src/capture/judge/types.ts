import type { Excursion } from "../../trace/types.ts";
import type { Finding } from "../../verdict/types.ts";
import type { CaptureLayout } from "../types.ts";

/** A figure with how far it may be off, both in one unit: the expanded uncertainty with a coverage factor of 2 (GUM, JCGM 100:2008, 6.2). */
export interface Measured {
  readonly value: number;
  readonly plusMinus: number;
}

/** Levels that channels in volts are held against, V; null: not asked. */
export interface CaptureLimits {
  /** Lower limit: time below it is told and decides nothing. */
  readonly low: number | null;
  /** Upper limit: passing it counts. */
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
  /** The sample, V or A. */
  readonly value: number;
  readonly minus: number;
  readonly plus: number;
  /** When it was taken, s. */
  readonly time: number;
  /** A spike that may be the outermost was seen in one sample only: how far it went is not known. */
  readonly alone: boolean;
}

/** The highest value, in so many samples one after the other. */
export interface FlatTop {
  /** How many in a row are equal. */
  readonly samples: number;
  /** When the first of them was taken, s. */
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
  /** Which of the two. */
  readonly limit: "low" | "high";
  /** By straight lines from sample to sample; what is told is `total` and `longest`. */
  readonly excursion: Excursion;
  /** All such time together. */
  readonly total: Measured;
  /** Longest unbroken stretch. */
  readonly longest: Measured;
  /** How many stretches there are. */
  readonly times: number;
  /** Time of which nothing is known, in gaps and out of the instrument's range, in which it may have been beyond as well; s. */
  readonly perhaps: { readonly unseen: number; readonly outOfRange: number };
}

/** Trips of a protection as a channel shows them. */
export interface Trips {
  /** When each began, s. */
  readonly times: readonly number[];
  /** Level that a trip passes first, V or A: 60 % of the way from the lowest value to the usual one; of a current 25 % to the highest. */
  readonly from: number;
  /** Level that a trip passes next, V or A: 25 % of the way from the lowest value to the usual one; of a current 60 % to the highest. */
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
  /** When it begins, s. */
  readonly time: number;
  /** Over how long it was taken, s. */
  readonly over: number;
  /** The edge may be over sooner: how much steeper it is, is not known. */
  readonly atLeast: boolean;
}

/** An oscillation that dies away after an edge. */
export interface Ringing {
  /** Of its first crest or trough, s. */
  readonly time: number;
  /** Hz; null: sampled too coarsely to tell. */
  readonly frequency: Measured | null;
  /** Time constant of the decay, s; null with the frequency. */
  readonly decay: Measured | null;
  /** Below five, frequency and decay are not told. */
  readonly samplesPerPeriod: number;
  /** First swing from crest to trough, V or A. */
  readonly swing: number;
  /** How many swings were seen. */
  readonly halfPeriods: number;
}

/** What one channel of a capture shows, in its own unit; times in s. */
export interface ChannelJudgement {
  /** As the capture calls it. */
  readonly name: string;
  /** Of all its figures. */
  readonly unit: "V" | "A";
  /** With a value: neither gap nor out of range. */
  readonly samples: number;
  /** Usual time between two of them, s. */
  readonly interval: number;
  /** How far an instant is left open, s. */
  readonly timing: number;
  /** Cells that were empty. */
  readonly gaps: number;
  /** Cells that say that the instrument was out of its range. */
  readonly outOfRange: number;
  /** Whether it may have been higher than the highest value, or lower than the lowest, by no one knows how much: out of the instrument's range, or beside a single sample. */
  readonly open: { readonly above: boolean; readonly below: boolean };
  /** Within the recording but not recorded, s. */
  readonly unseen: number;
  /** What the instrument's steps and noise leave open. */
  readonly resolution: Resolution;
  /** A flat top that may be where the instrument's range ends. */
  readonly flatTop: FlatTop | null;
  /** The peak. */
  readonly highest: Extreme;
  /** The lowest value. */
  readonly lowest: Extreme;
  /** For each limit that was asked, the upper one first. */
  readonly beyond: readonly TimeBeyond[];
  /** Null where there are none. */
  readonly trips: Trips | null;
  /** The steepest; null where noise may have made it. */
  readonly rise: Slope | null;
  /** The steepest, a negative rate; null where noise may have made it. */
  readonly fall: Slope | null;
  /** After the steepest edge; null where none is seen or instants are too coarse. */
  readonly ringing: Ringing | null;
  /** The highest value against the upper limit; empty without one and for currents. */
  readonly findings: readonly Finding[];
  /** The capture cannot tell on which side of the upper limit the peak lies. */
  readonly tooClose: boolean;
  /** The peak passes the upper limit. */
  readonly passed: boolean;
}

/** What a capture shows, judged without a model. */
export interface CaptureJudgement {
  /** Name of the file. */
  readonly file: string;
  /** How it was read. */
  readonly layout: CaptureLayout;
  /** How many rows of samples. */
  readonly rows: number;
  /** From the first to the last sample, s. */
  readonly duration: number;
  /** Usual step between two samples, s. */
  readonly interval: number;
  /** Longest step between two samples, s. */
  readonly longestStep: number;
  /** What the voltages were held against. */
  readonly limits: CaptureLimits;
  /** In the order of the capture. */
  readonly channels: readonly ChannelJudgement[];
  /** 0 within the limits or none given, 1 a limit passed or too close to call. */
  readonly exitStatus: 0 | 1;
}
