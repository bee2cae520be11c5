import type { StateRow, VoltageCurve } from "../state-types.ts";

export type { StateRow, StateSpan, Tone, VoltageCurve } from "../state-types.ts";

/** Plain data of one run, ready to be drawn. SI units; all times in s since the start of the run. */
export interface WaveformData {
  /** Stands above the figure. */
  readonly title: string;
  /** The verdict in one sentence. */
  readonly subtitle: string;
  /** How the run ended and on which values, in a few words; left out: nothing is written. */
  readonly facts?: string;
  /** Never falling; an instant may stand twice, just before and just after an event. At least two. */
  readonly time: Float64Array;
  /** Times are counted after this instant. */
  readonly faultTime: number;
  /** What happens at that instant; `fault` when left out. */
  readonly zero?: "fault" | "start" | "trip";
  /** In the order of the legend. */
  readonly voltages: readonly VoltageCurve[];
  /** What the radio is allowed to see, V; with several radios the narrowest. */
  readonly window: { readonly minimum: number; readonly maximum: number };
  /** In the order of the legend. */
  readonly currents: readonly CurrentCurve[];
  /** From top to bottom. */
  readonly states: readonly StateRow[];
  /** In order of time. */
  readonly events: readonly FigureEvent[];
  /** Where the run came to rest before its end: the last values hold until then, s. Null or left out: the data end where they end. */
  readonly restsUntil?: number | null;
}

/** A current, A: as many values as the figure has times. */
export interface CurrentCurve {
  /** What the curve is called in the legend. */
  readonly label: string;
  /** One for each of the figure's times, A. */
  readonly values: Float64Array;
  /** A current that it should not pass, A; `label` without the value: `main fuse melts above`. */
  readonly limit?: { readonly value: number; readonly label: string };
}

/** A mark at an event. */
export interface FigureEvent {
  /** s since the start of the run. */
  readonly time: number;
  /** The cause in words: `SCR fires`. Repetitions carry the same words. */
  readonly label: string;
  /** Unimportant ones are left out first where room is short. */
  readonly important: boolean;
  /** A trip, a fuse, a failure, a load beyond its limit: told before all others where room is short. Left out: no. */
  readonly decisive?: boolean;
  /** The picture is about this one: it is never left out. */
  readonly subject?: boolean;
  /** What happened, why, and what it means, in one or two sentences; never drawn, for a page to tell. Empty: nothing more to say. */
  readonly explanation: string;
}

/** How large a picture is: see `sizes`. */
export type SizeName = "page" | "slide" | "phone";

/** Options that every figure takes. */
export interface PictureOptions {
  /** The browser's document, or one of jsdom's. */
  readonly document: Document;
  /** A named size; `width` and `height` beside it take precedence. Default `page`. */
  readonly size?: SizeName;
  /** CSS pixels; default that of the size. Below 620 the figure takes its narrow form. */
  readonly width?: number;
  /** CSS pixels; default that of the size, in the narrow form what the content needs. Grows where the content needs more, but on a slide. */
  readonly height?: number;
  /** Colours for a light or a dark page; default `light`. */
  readonly scheme?: "light" | "dark";
  /** Prefix of the ids inside; figures on one page need different ones. Default: the figure's own name. */
  readonly id?: string;
}

/** Parts of a figure over time, from top to bottom. */
export type PanelName = "voltage" | "current" | "states";

/** What several figures share, so that the eye may compare them; see `sharedAxes`. */
export interface SharedAxes {
  /** Of the run, s since its start; shown whole even where a figure's own data end earlier. */
  readonly range: readonly [number, number];
  /** Of all of them. */
  readonly timeScale: "linear" | "logarithmic";
  /** Delay after the fault at which a logarithmic axis begins, s. */
  readonly firstDelay: number;
  /** Share of the width that a logarithmic axis gives the time before its zero, with ticks of its own; left out: a short lead-in. */
  readonly leadIn?: number;
  /** Lowest and highest value to make room for, V; null where there are no such curves. */
  readonly voltage: readonly [number, number] | null;
  /** Lowest and highest value to make room for, A; null where there are no such curves. */
  readonly current: readonly [number, number] | null;
  /** Names of all devices whose states are drawn: they decide how wide the column left of the plots is. */
  readonly devices: readonly string[];
  /** How many states the figure with the most of them has: others keep that room, so that plots stand equally high. */
  readonly rows: number;
}

/** How a figure over time is drawn. */
export interface FigureOptions extends PictureOptions {
  /**
   * `bare`: a line with the title, plots and axis, nothing else; for several small figures side by side, from 300 CSS pixels
   * wide and about 180 high. Default `full`.
   */
  readonly frame?: "full" | "bare";
  /** Scales in common with other figures; `range` and `timeScale` beside it take precedence. */
  readonly axes?: SharedAxes;
  /** Default `auto`: logarithmic when what happens spans more than three decades. */
  readonly timeScale?: "linear" | "logarithmic" | "auto";
  /** Part of the run to show, s since its start; default all of it. */
  readonly range?: readonly [number, number];
  /** Default all three, always drawn in the order voltage, current, states. */
  readonly panels?: readonly PanelName[];
}
