import type { PictureOptions } from "@railfault/sim/figures";

/** With what a figure is drawn here; every figure of `@railfault/sim/figures` takes it. */
export type Drawing = Pick<PictureOptions, "document" | "width" | "height" | "scheme" | "id" | "size">;

/** Draws data; a picture with the places of its parts lets something lie over it. */
export type Draw<Data> = (data: Data, drawing: Drawing) => SVGSVGElement;

/** Widths are rounded down to this many pixels: a scroll bar or a hair's width more draws nothing anew. */
const widthStep = 8;

/** The width to draw at in a place of so many pixels; narrower than a phone nothing can be read. */
export function drawnWidth(room: number): number {
  return Math.max(300, Math.floor(room / widthStep) * widthStep);
}
