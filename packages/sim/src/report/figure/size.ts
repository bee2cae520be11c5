import type { PictureOptions, SizeName } from "./types.ts";

/** A named size of a picture. Type is 12 CSS pixels at least: with `scale` 2 it is 24 pixels of the exported picture. */
export interface PictureSize {
  /** CSS pixels. */
  readonly width: number;
  /** CSS pixels; null: what the content needs. */
  readonly height: number | null;
  /** Pixels of the picture per CSS pixel of the layout. */
  readonly scale: number;
  /** How much thicker lines are drawn: from the back of a room a thin line is none. */
  readonly weight: number;
  /** Whether the height is kept whatever the content: what finds no room is told as left out. */
  readonly fixed: boolean;
}

/** `page`: beside text; `slide`: 1920 × 1080 pixels with type of 24 pixels and more; `phone`: one hand. */
export const sizes: Readonly<Record<SizeName, PictureSize>> = {
  page: { width: 960, height: 540, scale: 1, weight: 1, fixed: false },
  slide: { width: 960, height: 540, scale: 2, weight: 1.35, fixed: true },
  phone: { width: 390, height: null, scale: 1, weight: 1, fixed: false },
};

/** Narrower than this a figure stands on a phone. */
const narrowBelow = 620;

/** What was asked for, with what a size leaves open filled in. */
export interface Extent extends PictureSize {
  readonly narrow: boolean;
}

export function extentOf(options: Pick<PictureOptions, "size" | "width" | "height">): Extent {
  const size = sizes[options.size ?? "page"];
  const width = options.width ?? size.width;
  const narrow = width < narrowBelow;
  const height = options.height ?? (narrow ? null : (size.height ?? sizes.page.height));
  return { ...size, width, narrow, height };
}
