import type { Headed } from "./chart-types.ts";

/** How a part of a plane is painted; the kinds of outcome in the order of the legend. */
export interface PlaneKind {
  /** In the legend. */
  readonly label: string;
  /** Decides colour and hatching. */
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
  /** At the left or the lower end, in the unit of the title. */
  readonly from: number;
  /** At the other end. */
  readonly to: number;
  /** Logarithmic: equal lengths for equal ratios. */
  readonly byDecades: boolean;
  /** Where the scenario itself stands; null: outside. */
  readonly nominal: number | null;
}

/** A plane of two values painted by outcome. */
export interface PlaneData extends Headed {
  readonly x: PlaneAxis;
  readonly y: PlaneAxis;
  /** Outcomes that occur, in the order of the legend. */
  readonly kinds: readonly PlaneKind[];
  /** Squares in shares of the sides, from the lower left; each with the place of its kind. */
  readonly squares: readonly { readonly x: number; readonly y: number; readonly size: number; readonly kind: number }[];
}

/** A sweep of one value: how it ended, and figures over it. */
export interface SweepData extends Headed {
  readonly x: PlaneAxis;
  /** Outcomes that occur, in the order of the legend. */
  readonly kinds: readonly PlaneKind[];
  /** Values rising, with the place of their kind. */
  readonly points: readonly { readonly x: number; readonly kind: number }[];
  /** Curves over the points, as many values as points; null where there is no value. The title has the unit. */
  readonly curves: readonly { readonly title: string; readonly values: readonly (number | null)[] }[];
}
