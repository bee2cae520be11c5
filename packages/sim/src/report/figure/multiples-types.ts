import type { Headed } from "./chart-types.ts";
import type { WaveformData } from "./types.ts";

/** Several runs of one line side by side. */
export interface MultiplesData extends Headed {
  readonly panels: readonly MultiplesPanel[];
}

/** One of several small figures on common axes. */
export interface MultiplesPanel {
  readonly name: string;
  /** How it ended, in a few words: `safe, 14.7 V`. */
  readonly outcome: string;
  readonly tone: "safe" | "withstood" | "endangered";
  /** Its times count from the same start as those of the others. */
  readonly data: WaveformData;
}
