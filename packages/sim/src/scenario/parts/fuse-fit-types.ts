import type { FuseModel } from "./fuse-melting.ts";

/** A published time gate: at `multiple` × rated current it opens between `minimum` and `maximum`, s; null: no such limit. */
export interface FuseGate {
  readonly multiple: number;
  readonly minimum: number | null;
  readonly maximum: number | null;
}

/** What is published of a fuse and what its model has to meet. */
export interface FuseFitInput {
  /** A. */
  readonly ratedCurrent: number;
  /** Melting I²t at 10 × rated current, A²s; met exactly. Null where unknown. */
  readonly nominalMeltingI2t: number | null;
  /** Resistance at melting over cold resistance, ≥ 1. */
  readonly resistanceRatio: number;
  /** Published time gates; opening times of the fitted model shall lie within them. */
  readonly gates: readonly FuseGate[];
  /** Points read off a time-current curve: A, s. */
  readonly points?: readonly { readonly current: number; readonly time: number }[];
  /** Given, it is kept; null or left out: fitted. A at 25 °C. */
  readonly minimumMeltingCurrent?: number | null;
}

/** One thing the fit had to meet, and what the fitted model does there. */
export interface FuseFitPoint {
  readonly what: "gate" | "melting I²t" | "curve point";
  /** A. */
  readonly current: number;
  /** Time aimed at, s: the geometric middle of a band; null where only one side is given or the melting I²t rules. */
  readonly target: number | null;
  readonly minimum: number | null;
  readonly maximum: number | null;
  /** Melting time of the fitted model, s; Infinity: never. */
  readonly time: number;
  /** ln(time/target): 0.1 is about 10 % slower; null without a target. */
  readonly deviation: number | null;
}

/** A thermal model of a fuse and how well it meets what was published. */
export interface FuseFit extends FuseModel {
  /** What the fit had to meet, one by one. */
  readonly points: readonly FuseFitPoint[];
  /** Largest |ln(time/target)|; 0 without targets. */
  readonly worstDeviation: number;
  /** Whether the model keeps every published time gate. */
  readonly insideGates: boolean;
}
