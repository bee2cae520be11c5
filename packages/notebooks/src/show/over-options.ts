import type { WaveformData } from "@railfault/sim/figures";
import type { TimeViewStore } from "./time-view.ts";

export interface FigureOverOptions {
  readonly view: TimeViewStore;
  /** The range whose band is drawn; null: none. */
  readonly band: (data: WaveformData) => readonly [number, number] | null;
  /** A person has drawn a range, s; without it there is no brush. */
  readonly brushed: (range: readonly [number, number]) => void;
  readonly reset: () => void;
  readonly closer: (event: number) => void;
  readonly label: string;
}
