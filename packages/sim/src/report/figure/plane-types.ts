import type { Headed } from "./chart-types.ts";

/** How a part of a plane is painted; the kinds of outcome in the order of the legend. */
export interface PlaneKind {
  readonly label: string;
  readonly tone: PlaneTone;
  /** Share of the plane, 0 to 1. */
  readonly share: number;
}

/** What an outcome means for whoever looks. */
export type PlaneTone =
  | "endangered"
  | "withstood"
  | "scr"
  | "damage"
  | "tripping"
  | "held"
  | "blown"
  | "off"
  | "over"
  | "quiet"
  | "unknown"
  | "impossible";

/** An axis of a plane or of a sweep. */
export interface PlaneAxis {
  /** With its unit: `crowbar: trip voltage, V`. */
  readonly title: string;
  readonly from: number;
  readonly to: number;
  readonly byDecades: boolean;
  /** Where the scenario itself stands; null: outside. */
  readonly nominal: number | null;
}

/** A plane of two values painted by outcome. */
export interface PlaneData extends Headed {
  readonly x: PlaneAxis;
  readonly y: PlaneAxis;
  readonly kinds: readonly PlaneKind[];
  /** Squares in shares of the sides, from the lower left; each with the place of its kind. */
  readonly squares: readonly { readonly x: number; readonly y: number; readonly size: number; readonly kind: number }[];
}

/** A sweep of one value: how it ended, and figures over it. */
export interface SweepData extends Headed {
  readonly x: PlaneAxis;
  readonly kinds: readonly PlaneKind[];
  /** Values rising, with the place of their kind. */
  readonly points: readonly { readonly x: number; readonly kind: number }[];
  /** Curves over the points; null where there is no value. */
  readonly curves: readonly { readonly title: string; readonly values: readonly (number | null)[] }[];
}
