import type { Canvas } from "./canvas.ts";
import type { Frame } from "./draw.ts";
import type { LegendItem } from "./legend.ts";
import type { ValueScale } from "./value-scale.ts";

/** Curves of one unit over the time axis, before their place on the page is known. */
export interface ValuePanel {
  /** Its class in the picture. */
  readonly name: string;
  /** What is drawn, with its unit: `Voltage, V`. */
  readonly heading: string;
  readonly legend: readonly LegendItem[];
  /** CSS pixels that its plot is high at least. */
  readonly least: { readonly wide: number; readonly narrow: number };
  /** Of the height that several panels have together, in parts. */
  readonly share: number;
  scale(frame: Frame): ValueScale;
  drawGround(canvas: Canvas, parent: Element, frame: Frame, scale: ValueScale): void;
  drawCurves(parent: Element, frame: Frame, scale: ValueScale): void;
}
