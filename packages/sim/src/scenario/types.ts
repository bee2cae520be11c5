import type { Fuse } from "./lead-types.ts";
import type { Load } from "./load-types.ts";
import type { Clamp, Crowbar, SeriesSwitch } from "./protector-types.ts";
import type { Source } from "./source-types.ts";

export type * from "./lead-types.ts";
export type * from "./load-types.ts";
export type * from "./protector-types.ts";
export type * from "./source-types.ts";

/**
 * A complete scenario: one 12 V line, its fault and its limits, as the model takes it.
 * SI units throughout (V, A, ohm, H, F, s, W, J, A²s); temperatures in °C unless a comment says kelvin.
 * Every default is already filled in: what a part lacks is `null`, never `undefined`.
 */
export interface Scenario {
  /** One line that names the run; empty where the file gives none. */
  readonly title: string;
  /** Ambient temperature, °C. */
  readonly ambient: number;
  /** Instant of the fault, common to all sources, s. */
  readonly faultTime: number;
  /** End of the run, s. */
  readonly endTime: number;
  /** `operating`: from the healthy operating point; `dead`: everything at zero except batteries. */
  readonly start: "operating" | "dead";
  /** What lies from each node of the line to ground: stray and filter capacitors. */
  readonly nodes: {
    /** Used only with a main fuse. */
    readonly supplySide: NodeCapacitor;
    /** Where crowbar and clamp lie; the supply side too where there is no main fuse. */
    readonly protectedSide: NodeCapacitor;
    /** Used only with a series switch. */
    readonly radioSide: NodeCapacitor;
  };
  /** Feed the supply side, in the order of the file: 1 to 20. */
  readonly sources: readonly Source[];
  /** Hang on the radio side, in the order of the file: 1 to 20. */
  readonly loads: readonly Load[];
  /** Between supply side and protected side; null: the two are one node. */
  readonly mainFuse: Fuse | null;
  /** From the protected side to ground; null where there is none. */
  readonly crowbar: Crowbar | null;
  /** From the protected side to ground; null where there is none. */
  readonly clamp: Clamp | null;
  /** Between protected side and radio side; null: the two are one node. */
  readonly seriesSwitch: SeriesSwitch | null;
}

/** A capacitor (F) with its series resistance (ohm), from a node to ground. */
export interface NodeCapacitor {
  readonly capacitance: number;
  readonly resistance: number;
}
