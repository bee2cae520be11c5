import type { Headed } from "./chart-types.ts";
import type { Tone, WaveformData } from "./types.ts";

/** Several runs of one line side by side. */
export interface MultiplesData extends Headed {
  readonly panels: readonly MultiplesPanel[];
}

export interface MultiplesPanel {
  readonly name: string;
  /** How it came off, in a few words: `safe, 14.7 V`. */
  readonly outcome: string;
  readonly tone: Tone;
  /** Its times count from the same start as those of the others. */
  readonly data: WaveformData;
}
