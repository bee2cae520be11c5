/** Plain data of one run, ready to be drawn. SI units; all times in s since the start of the run. */
export interface WaveformData {
  readonly title: string;
  /** The verdict in one sentence. */
  readonly subtitle: string;
  /** Never falling; an instant may stand twice, just before and just after an event. At least two. */
  readonly time: Float64Array;
  /** Times are counted after this instant. */
  readonly faultTime: number;
  /** What happens at that instant; `fault` when left out. */
  readonly zero?: "fault" | "start";
  readonly voltages: readonly VoltageCurve[];
  /** What the radio is allowed to see, V; with several radios the narrowest. */
  readonly window: { readonly minimum: number; readonly maximum: number };
  readonly currents: readonly CurrentCurve[];
  readonly states: readonly StateRow[];
  /** In order of time. */
  readonly events: readonly FigureEvent[];
}

export interface VoltageCurve {
  readonly label: string;
  readonly role: "load" | "protector" | "supply";
  readonly values: Float64Array;
}

export interface CurrentCurve {
  readonly label: string;
  readonly values: Float64Array;
  /** `label` without the value: `main fuse melts above`. */
  readonly limit?: { readonly value: number; readonly label: string };
}

export type Tone = "idle" | "active" | "alarm" | "off";

export interface StateSpan {
  readonly from: number;
  readonly to: number;
  readonly tag: string;
  readonly tone: Tone;
}

/** Spans in order of time, without overlap. */
export interface StateRow {
  readonly label: string;
  readonly spans: readonly StateSpan[];
}

export interface FigureEvent {
  readonly time: number;
  /** The cause in words: `SCR fires`. Repetitions carry the same words. */
  readonly label: string;
  /** Unimportant ones are left out first where room is short. */
  readonly important: boolean;
}

export type PanelName = "voltage" | "current" | "states";

export interface FigureOptions {
  /** The browser's document, or one of jsdom's. */
  readonly document: Document;
  /** CSS pixels; default 960. Below 620 the figure takes its narrow form. */
  readonly width?: number;
  /** CSS pixels; default 540, in the narrow form what the content needs. Grows where the content needs more. */
  readonly height?: number;
  readonly scheme?: "light" | "dark";
  /** Default `auto`: logarithmic when what happens spans more than three decades. */
  readonly timeScale?: "linear" | "logarithmic" | "auto";
  /** Part of the run to show, s since its start; default all of it. */
  readonly range?: readonly [number, number];
  /** Default all three, always drawn in the order voltage, current, states. */
  readonly panels?: readonly PanelName[];
  /** Prefix of the ids inside; figures on one page need different ones. Default `fault-figure`. */
  readonly id?: string;
}
