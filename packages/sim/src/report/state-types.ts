/** What one device did. Spans in order of time, without overlap. */
export interface StateRow {
  /** The device: `main fuse`, `SCR`, the name of a source. */
  readonly label: string;
  readonly spans: readonly StateSpan[];
  /** What it did decided how the fault ended: its states are told before others' where room is short. Left out: no. */
  readonly decisive?: boolean;
}

/** How long a device is in one state, s since the start of the run. */
export interface StateSpan {
  readonly from: number;
  readonly to: number;
  /** The state in a word or two: `conducting`. */
  readonly tag: string;
  /** What it means. */
  readonly tone: Tone;
}

/** What a state means: nothing, at work, something is wrong, dead. */
export type Tone = "idle" | "active" | "alarm" | "off";

/** A voltage, V: as many values as the figure has times. */
export interface VoltageCurve {
  /** What the curve is called in the legend. */
  readonly label: string;
  /** At whose terminals; decides colour and dashes. */
  readonly role: "load" | "protector" | "supply";
  /** One for each of the figure's times, V. */
  readonly values: Float64Array;
}
