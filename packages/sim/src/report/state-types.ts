/** Spans in order of time, without overlap. */
export interface StateRow {
  readonly label: string;
  readonly spans: readonly StateSpan[];
}

/** How long a device is in one state, s. */
export interface StateSpan {
  readonly from: number;
  readonly to: number;
  readonly tag: string;
  readonly tone: Tone;
}

/** What a state means: nothing, at work, something is wrong, dead. */
export type Tone = "idle" | "active" | "alarm" | "off";

/** A voltage, V: as many values as the figure has times. */
export interface VoltageCurve {
  readonly label: string;
  readonly role: "load" | "protector" | "supply";
  readonly values: Float64Array;
}
