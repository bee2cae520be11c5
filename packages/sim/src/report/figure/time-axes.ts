import { write } from "./canvas.ts";
import type { Page } from "./chart.ts";
import type { Frame } from "./draw.ts";
import { textWidth } from "./text.ts";
import { formatNumber } from "./time-format.ts";

interface Axis {
  readonly position: (value: number) => number;
  readonly ticks: readonly number[];
}

/** Where an axis of numbers and one of times stand, with their titles. */
export interface TimeAxes {
  readonly frame: Frame;
  readonly x: Axis & { readonly title: string };
  readonly y: Axis & { readonly title: string; readonly format: (seconds: number) => string };
}

/** Numbers and titles beside a frame whose times run upwards; a number that finds no room is left out. */
export function writeTimeAxes(page: Page, parent: Element, { frame, x, y }: TimeAxes): void {
  const { muted: color } = page.colors;
  let end = -Infinity;
  for (const tick of x.ticks) {
    const text = formatNumber(tick, 6);
    const half = textWidth(text, 12) / 2;
    const at = x.position(tick);
    if (at - half < end + 8 || at + half > page.right) continue;
    write(page, parent, at, frame.bottom + 13, text, { anchor: "middle", color });
    end = at + half;
  }
  for (const tick of y.ticks)
    write(page, parent, frame.left - 8, y.position(tick), y.format(tick), { anchor: "end", color });
  write(page, parent, frame.left, frame.bottom + 32, x.title, { bold: true });
  write(page, parent, page.left, frame.top - 31, y.title, { bold: true });
}
