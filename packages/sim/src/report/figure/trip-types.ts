import type { Headed } from "./chart-types.ts";

/** A band of trip voltages with what it is made of. Voltages in V at the protector. */
export interface TripData extends Headed {
  /** What makes the lower edge: the first share is where to start, the others are steps from there. */
  readonly below: TripSide;
  /** What makes the upper edge: the first share is where to start, the others are steps from there. */
  readonly above: TripSide;
  /** Where `low` is above `high` there is no band. */
  readonly band: TripRange;
  /** The band where independent shares are added as the root of the sum of squares. */
  readonly bandRss: TripRange;
  /** Where the nominal trip point may lie; there, too, `low` may be above `high`. */
  readonly window: TripRange;
  /** Trip points to show beside the band, from top to bottom. */
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
  /** In their order from the edge on; `spread`: what real parts may be off. */
  readonly shares: readonly { readonly name: string; readonly value: number; readonly spread: boolean }[];
}

/** One trip voltage and where real parts may put it, V. */
export interface TripPoint {
  /** Whose trip voltage it is. */
  readonly label: string;
  /** As the parts are marked. */
  readonly nominal: number;
  /** Lowest at which real parts may trip, all deviations adding up. */
  readonly low: number;
  /** Highest at which real parts may trip, all deviations adding up. */
  readonly high: number;
  /** Where real parts may trip, independent deviations added as the root of the sum of squares. */
  readonly rss: TripRange;
  /** Whether all it may land on lies within the band. */
  readonly fits: boolean;
}
