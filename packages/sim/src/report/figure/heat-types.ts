import type { LimitedCurve } from "./limited-panel.ts";
import type { FigureOptions, WaveformData } from "./types.ts";

/** How hot junctions grew and how near fuses came to melting, over the time of a run. */
export interface HeatData
  extends Pick<WaveformData, "title" | "subtitle" | "facts" | "time" | "faultTime" | "zero" | "events" | "restsUntil"> {
  /** °C. */
  readonly ambient: number;
  /** Junctions, °C. */
  readonly temperatures: readonly LimitedCurve[];
  /** Fuses: share of the way to melting, 1 is melting. */
  readonly melting: readonly LimitedCurve[];
}

/** How a figure of heat is drawn. */
export type HeatOptions = Omit<FigureOptions, "panels" | "axes" | "frame">;
