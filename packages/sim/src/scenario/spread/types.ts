import type { Dimension } from "../../units/index.ts";
import type { Path } from "../keys.ts";

/** How values lie between the two ends: evenly, in a bell that the ends cut off at three standard deviations, or at the ends alone. */
export type SpreadShape = "uniform" | "normal" | "corners";

/** A value of a scenario that is not known exactly. Numbers in `unit`, as the file has them; temperatures in °C. */
export interface Spread {
  /** Of the value in the file. */
  readonly path: Path;
  /** In the words of the file, for instance `crowbar: trip voltage`. */
  readonly label: string;
  /** What it measures. */
  readonly dimension: Dimension;
  /** The unit in which the value is written; the empty text for plain numbers. */
  readonly unit: string;
  /** The value of a plain run. */
  readonly nominal: number;
  /** Least value that it may have, at the ambient temperature of the file. */
  readonly low: number;
  /** Largest value that it may have, at the ambient temperature of the file. */
  readonly high: number;
  /** How values lie in between. */
  readonly shape: SpreadShape;
  /** What the value gains for each kelvin above `from`, °C: anything between the two. Null: nothing. */
  readonly drift: { readonly low: number; readonly high: number; readonly from: number } | null;
  /** As it was written, for instance `±2 % normal`. */
  readonly written: string;
}
