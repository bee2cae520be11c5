import type { Headed } from "./chart-types.ts";

/** How figures of many runs are distributed, and which values matter. */
export interface TolerancesData extends Headed {
  /** From top to bottom. */
  readonly panels: readonly HistogramData[];
  /** Rank correlations with the load's peak, −1 to 1, the largest first. */
  readonly influences: readonly { readonly label: string; readonly value: number }[];
  /** Nearer to 0 than this a rank correlation may be chance. */
  readonly noise: number;
}

/** How often a figure fell into each of many narrow ranges. */
export interface HistogramData {
  /** With its unit: `Peak at the load, V`. */
  readonly title: string;
  /** Rising, each beginning where the one before ends. */
  readonly bins: readonly {
    /** In the unit of the title. */
    readonly from: number;
    readonly to: number;
    /** Samples in which every load stayed safe. */
    readonly safe: number;
    /** Of samples in which a load was endangered. */
    readonly endangered: number;
  }[];
  /** Named places on the axis: the nominal value, a limit. */
  readonly lines: readonly { readonly label: string; readonly value: number; readonly role: "limit" | "nominal" }[];
  /** What the samples that are not in the picture are: `12 samples never tripped`; empty: none. */
  readonly note: string;
}
