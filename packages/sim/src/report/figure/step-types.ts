import type { Headed } from "./chart-types.ts";
import type { LineDiagramData } from "./line/types.ts";
import type { WaveformData } from "./types.ts";

/** One step of a fault: what was recorded so far beside the line as it stands. Times in s since the start of the run. */
export interface StepData extends Headed {
  /** Of the whole run; drawn up to the end of `range`. */
  readonly waveform: WaveformData;
  /** Of the run, shown so far. */
  readonly range: readonly [from: number, to: number];
  /** The line as it stands `later` than the event. */
  readonly line: LineDiagramData;
  /** How long after the event that the title tells the line stands so, s. */
  readonly later: number;
  /** When that event was; it is marked whatever else finds no room. */
  readonly event: number;
}

/** A slide of words alone. */
export interface WordsData extends Headed {
  /** A paragraph each. */
  readonly lines: readonly string[];
}
