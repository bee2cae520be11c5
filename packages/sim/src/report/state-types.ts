/** Spans in order of time, without overlap. */
export interface StateRow {
  readonly label: string;
  readonly spans: readonly StateSpan[];
}

export interface StateSpan {
  readonly from: number;
  readonly to: number;
  readonly tag: string;
  readonly tone: Tone;
}

export type Tone = "idle" | "active" | "alarm" | "off";

export interface VoltageCurve {
  readonly label: string;
  readonly role: "load" | "protector" | "supply";
  readonly values: Float64Array;
}
