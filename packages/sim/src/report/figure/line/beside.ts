import { write } from "../canvas.ts";
import { outer, type Page } from "../chart.ts";
import { shorten } from "../text.ts";
import type { Telling } from "./block.ts";
import { fitsNarrow, placeNarrow } from "./narrow.ts";
import type { LineDiagramData } from "./types.ts";

const tellings: readonly Telling[] = ["short", "names"];

/** A place inside another picture; without a height the line takes what it needs. */
export interface Beside {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number | null;
}

/** The line from top to bottom inside another picture. */
export function placeBeside(
  page: Page,
  data: LineDiagramData,
  { left, top, width, height }: Beside,
): { readonly height: number; draw(parent: Element): void } {
  const free = height ?? Number.POSITIVE_INFINITY;
  const inside: Page = {
    ...page,
    left: left + 8,
    right: left + width - 14,
    top: top + 4,
    height: height === null ? Number.POSITIVE_INFINITY : top + free - 6,
    fixed: height !== null,
  };
  const telling = tellings.find((each) => fitsNarrow(inside, data, each)) ?? "names";
  const placed = placeNarrow(inside, data, telling);
  return {
    height: height ?? placed.height - top,
    draw: (parent) => {
      placed.draw(parent);
      if (placed.left.length === 0) return;
      const text = shorten(`Not drawn: ${placed.left.join(", ")}`, 12, inside.right - inside.left);
      write(page, parent, inside.left, top + free - outer, text, { color: page.colors.muted });
    },
  };
}
