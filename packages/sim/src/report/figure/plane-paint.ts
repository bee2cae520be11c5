import { scaleLinear, scaleLog } from "d3";
import { percentTexts } from "../percents.ts";
import { write } from "./canvas.ts";
import type { Page } from "./chart.ts";
import { add, type Frame, rounded } from "./draw.ts";
import type { Palette } from "./palette.ts";
import type { PlaneAxis, PlaneKind, PlaneTone } from "./plane-types.ts";
import { shorten, textWidth } from "./text.ts";
import { formatNumber } from "./time-format.ts";

/** Fill of a kind, and what is written on it. */
export interface Paint {
  readonly fill: string;
  readonly ink: string;
}

/** Letters in the picture and in the legend: nobody has to tell colours apart. */
export const letterOf = (kind: number): string => String.fromCharCode(65 + kind);

export function paintOf(colors: Palette, tone: PlaneTone): Paint {
  const dark = (fill: string): Paint => ({ fill, ink: colors.ground });
  const pale = (fill: string): Paint => ({ fill, ink: colors.ink });
  const paints: Readonly<Record<PlaneTone, Paint>> = {
    endangered: dark(colors.currents[1]),
    withstood: pale(colors.exceedance),
    scr: dark(colors.currents[3]),
    damage: dark(colors.loads[2]),
    tripping: pale(colors.tones.active.fill),
    held: dark(colors.tones.active.edge),
    blown: pale(colors.band),
    off: dark(colors.bandEdge),
    over: pale(colors.tones.idle.fill),
    quiet: pale(colors.tones.off.fill),
    unknown: dark(colors.muted),
    impossible: pale(colors.grid),
  };
  return paints[tone];
}

/** Rows of the legend: a sample with its letter, what it means, how much of the whole it is. */
export function drawKinds(
  page: Page,
  svg: Element,
  kinds: readonly PlaneKind[],
  { left, right, top }: Pick<Frame, "left" | "right" | "top">,
): void {
  const group = add(svg, "g", { class: "kinds" });
  const percents = percentTexts(kinds.map(({ share }) => share));
  for (const [k, { label, tone }] of kinds.entries()) {
    const y = top + k * KIND_HEIGHT + 10;
    const { fill, ink } = paintOf(page.colors, tone);
    add(group, "rect", { x: left, y: y - 9, width: 22, height: 18, fill, stroke: page.colors.axis });
    write(page, group, left + 11, y, letterOf(k), { anchor: "middle", bold: true, color: ink });
    const percent = percents[k];
    const room = right - left - 30 - textWidth(percent, 12) - 8;
    write(page, group, left + 30, y, shorten(label, 12, room));
    write(page, group, right, y, percent, { anchor: "end", color: page.colors.muted });
  }
}

export const KIND_HEIGHT = 24;

/** Position of a value along an axis, CSS pixels. */
export interface AxisScale {
  (value: number): number;
  ticks(count: number): number[];
}

export function scaleOf({ from, to, byDecades }: PlaneAxis, range: readonly [number, number]): AxisScale {
  const scale = (byDecades ? scaleLog() : scaleLinear()).domain([from, to]).range([...range]);
  return Object.assign((value: number) => scale(value), {
    ticks: (count: number) => scale.ticks(count).filter((tick) => !byDecades || isRound(tick)),
  });
}

/** 1, 2 and 5 of each decade: the others stand too near to each other. */
const isRound = (tick: number): boolean => [1, 2, 5].includes(Number(tick.toExponential(6).split("e")[0]));

/** Numbers and title below a frame. */
export function drawBelow(page: Page, parent: Element, axis: PlaneAxis, frame: Frame, scale: AxisScale): void {
  const { colors } = page;
  let end = -Infinity;
  for (const tick of scale.ticks(page.narrow ? 4 : 7)) {
    const text = formatNumber(tick, 6);
    const half = textWidth(text, 12) / 2;
    const x = scale(tick);
    if (x - half < end + 8 || x + half > page.right + 4) continue;
    add(parent, "path", { d: `M${rounded(x)},${rounded(frame.bottom)}v4`, stroke: colors.axis });
    write(page, parent, x, frame.bottom + 14, text, { anchor: "middle", color: colors.muted });
    end = x + half;
  }
  const title = shorten(axis.title, 12, frame.right - page.left, true);
  write(page, parent, frame.right, frame.bottom + 32, title, { anchor: "end", bold: true });
}
