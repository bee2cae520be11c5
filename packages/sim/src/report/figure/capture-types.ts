/** A capture as it was recorded, channel by channel. SI units, times s as recorded. */
export interface CaptureFigureData {
  /** Stands above the figure. */
  readonly title: string;
  /** The answer in one sentence. */
  readonly subtitle: string;
  /** How many samples, and where they come from. */
  readonly facts: string;
  /** First time that the axis shows, s. */
  readonly from: number;
  /** Last time that the axis shows, s. */
  readonly to: number;
  /** From top to bottom, a plot each. */
  readonly channels: readonly CaptureFigureChannel[];
}

/** One channel of a capture as a figure shows it. */
export interface CaptureFigureChannel {
  /** What the capture calls it. */
  readonly label: string;
  /** Of all its values. */
  readonly unit: "V" | "A";
  /** Unbroken stretches; nothing is known between two of them. Each at least one sample; extremes are kept where samples were left out. */
  readonly pieces: readonly CapturePiece[];
  /** Levels that the channel was held against, in its unit, with their words. */
  readonly levels: readonly { readonly value: number; readonly label: string }[];
  /** Where it is highest; `label` tells with how far that may be off. Null: not in this part of the capture. */
  readonly highest: { readonly time: number; readonly value: number; readonly label: string } | null;
  /** 0 for the one that the answer is about, then those that fare next worst: a slide without room for all leaves out the highest. */
  readonly rank: number;
}

/** Samples without a break: times in s, as many values in the channel's unit. */
export interface CapturePiece {
  /** Never falling. */
  readonly time: Float64Array;
  readonly values: Float64Array;
}
