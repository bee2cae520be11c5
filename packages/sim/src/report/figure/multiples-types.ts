import type { Headed } from "./chart-types.ts";
import type { WaveformData } from "./types.ts";

/** Several runs of one line side by side. */
export interface MultiplesData extends Headed {
  /** In the order of reading. */
  readonly panels: readonly MultiplesPanel[];
}

/** One of several small figures on common axes. */
export interface MultiplesPanel {
  /** Of the variant. */
  readonly name: string;
  /** How it ended, in a few words: `safe, 14.7 V`. */
  readonly outcome: string;
  /** How its loads came off; decides the colour of the outcome. */
  readonly tone: "safe" | "withstood" | "endangered";
  /** Its place among those that are drawn even where not all find room, from 0; left out: it comes after them, in the order of reading. */
  readonly claim?: number;
  /** Its times count from the same start as those of the others. */
  readonly data: WaveformData;
}
