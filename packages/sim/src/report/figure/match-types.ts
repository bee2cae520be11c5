import type { Headed } from "./chart-types.ts";

/** How a cell of the matrix came off. */
export type MatchCellState = "sound" | "kept" | "fell together" | "fell alone";

/** One fuse with one SCR, or with one wire. */
export interface MatchCell {
  /**
   * `sound`: confirmed by a full run; `kept`: keeps the rules; `fell together`: the two do not go together; `fell alone`: one of the two is ruled
   * out by itself.
   */
  readonly state: MatchCellState;
  /** At most seven characters: a wire's size, a voltage, or the short word of a reason. */
  readonly text: string;
}

/** Combinations of fuse, SCR and wire with the reasons against them: a row a fuse, a column an SCR or a wire. */
export interface MatchData extends Headed {
  /** Names, in the order of the columns. */
  readonly scrs: readonly string[];
  /** Sizes of wires, thin ones first. */
  readonly wires: readonly string[];
  /** One for each fuse. */
  readonly rows: readonly {
    readonly fuse: string;
    /** Whether it stands in the file. */
    readonly yours: boolean;
    /** One for each SCR; a sound one tells the thinnest wire. */
    readonly withScrs: readonly MatchCell[];
    /** One for each wire; a kept one tells the voltage lost. */
    readonly withWires: readonly MatchCell[];
  }[];
  /** The short words that stand in cells, with what they mean. */
  readonly words: readonly { readonly word: string; readonly meaning: string }[];
  /** What is not drawn, in a sentence; empty where nothing is. */
  readonly leftOut: string;
}
