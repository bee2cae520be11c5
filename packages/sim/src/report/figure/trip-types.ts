import type { Headed } from "./chart-types.ts";

/** A band of trip voltages with what it is made of. Voltages in V at the protector. */
export interface TripData extends Headed {
  /** What makes the lower edge and the upper one: the first share is where to start, the others are steps from there. */
  readonly below: TripSide;
  readonly above: TripSide;
  /** Where `low` is above `high` there is no band. */
  readonly band: TripRange;
  readonly bandRss: TripRange;
  /** Where the nominal trip point may lie; there, too, `low` may be above `high`. */
  readonly window: TripRange;
  readonly points: readonly TripPoint[];
}

/** From the lowest to the highest, V. */
export interface TripRange {
  readonly low: number;
  readonly high: number;
}

/** What takes the room on one side of the band: shares in V. */
export interface TripSide {
  /** What pushes there: `normal service`. */
  readonly title: string;
  /** What its last line says: `never trips falsely from`. */
  readonly edge: string;
  readonly shares: readonly { readonly name: string; readonly value: number; readonly spread: boolean }[];
}

/** One trip voltage and where real parts may put it, V. */
export interface TripPoint {
  readonly label: string;
  readonly nominal: number;
  readonly low: number;
  readonly high: number;
  readonly rss: TripRange;
  /** Whether all it may land on lies within the band. */
  readonly fits: boolean;
}
