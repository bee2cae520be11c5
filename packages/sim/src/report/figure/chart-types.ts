import type { Severity } from "../../verdict/types.ts";
import type { PictureOptions } from "./types.ts";

/** Options of a chart that has no time axis. */
export type ChartOptions = PictureOptions;

/** What stands above a chart. */
export interface Headed {
  /** Stands above the chart. */
  readonly title: string;
  /** The answer in one sentence. */
  readonly subtitle: string;
  /** How the run ended and on which values, in a few words; left out: nothing is written. */
  readonly facts?: string;
}

/** Every watched limit of a run. */
export interface HeadroomData extends Headed {
  /** From top to bottom; those of one part together. */
  readonly limits: readonly HeadroomLimit[];
}

/** One limit of a part, as a bar. */
export interface HeadroomLimit {
  /** The part; limits of one part stand together. */
  readonly subject: string;
  /** What is limited, in words: `junction temperature`. */
  readonly quantity: string;
  /** Rating over found, above 0; null where there is no rating or nothing was found. */
  readonly headroom: number | null;
  /** How it came off. */
  readonly severity: Severity;
  /** True where found and rating differ too little to tell the side. */
  readonly close: boolean;
  /** With its unit. */
  readonly found: string;
  /** With its unit; null where none is known. */
  readonly rating: string | null;
}

/** What went through an SCR while it conducted once. */
export interface SurgeData extends Headed {
  /** The SCR, in words. */
  readonly subject: string;
  /** What flowed while it conducted, by where it came from, in the order in which they are stacked. Shares are ≥ 0, A²s. */
  readonly parts: readonly { readonly label: string; readonly i2t: number }[];
  /** The SCR's I²t rating, A²s, and what it is for: `one half-sine of 10 ms`. */
  readonly rating: { readonly i2t: number; readonly label: string };
  /** Worst I²t over each window after a firing against what its surge rating allows there, A²s; durations in s. */
  readonly windows: readonly { readonly duration: number; readonly i2t: number; readonly allowed: number }[];
}

/** Who goes first: curves of time over current. Currents in A, times in s, all above 0. */
export interface TimeCurrentData extends Headed {
  /** One for each fuse, SCR and wire. */
  readonly curves: readonly TimeCurrentCurve[];
  /** Currents that stand for no time, A: of normal service, and what the fault can drive. */
  readonly currents: readonly {
    readonly label: string;
    readonly role: "operating" | "fault";
    readonly value: number;
  }[];
  /** What flowed, RMS, and for how long; null where nothing did. */
  readonly point: { readonly label: string; readonly current: number; readonly time: number } | null;
}

/** How long a part stands a current: A and s, both above 0. */
export interface TimeCurrentCurve {
  /** What the curve is called, at its end or in the legend. */
  readonly label: string;
  /** What the part is; decides the colour. */
  readonly role: "fuse" | "scr" | "wire";
  /** Currents rising or falling, times the other way. */
  readonly points: readonly { readonly current: number; readonly time: number }[];
  /** Published times between which a fuse opens at a current; null: no such limit. */
  readonly gates: readonly {
    readonly current: number;
    readonly minimum: number | null;
    readonly maximum: number | null;
  }[];
}
