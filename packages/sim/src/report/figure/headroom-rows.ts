import { nearness } from "../../verdict/finding.ts";
import type { Page } from "./chart.ts";
import { outer } from "./chart.ts";
import type { HeadroomData, HeadroomLimit } from "./chart-types.ts";
import type { Frame } from "./draw.ts";
import { textWidth } from "./text.ts";

export interface HeadroomRow {
  readonly limit: HeadroomLimit;
  /** Middle of the dot. */
  readonly y: number;
  /** Middle of the text: the dot's own in the wide form, above it in the narrow one. */
  readonly textY: number;
}

export interface HeadroomLayout {
  readonly height: number;
  readonly frame: Frame;
  readonly headings: readonly { readonly text: string; readonly y: number; readonly top: number }[];
  readonly rows: readonly HeadroomRow[];
  /** What of the frame has ground and grid: all of it, or in the narrow form what lies between the texts. */
  readonly strips: readonly { readonly top: number; readonly bottom: number }[];
  readonly tagWidth: number;
  /** Right end of the column of found values. */
  readonly valueRight: number;
  /** How many limits found no room: those with the most headroom. */
  readonly leftOut: number;
}

const smallest = 17;
const largest = 30;
const pillPadding = 7;

/** The parts of one subject stand together; the one that came nearest its limit stands first. */
function grouped(limits: readonly HeadroomLimit[]): { subject: string; limits: HeadroomLimit[] }[] {
  const groups = new Map<string, HeadroomLimit[]>();
  for (const limit of limits) {
    const group = groups.get(limit.subject);
    if (group === undefined) groups.set(limit.subject, [limit]);
    else group.push(limit);
  }
  const least = (group: readonly HeadroomLimit[]) => Math.min(...group.map(nearness));
  return [...groups]
    .map(([subject, group]) => ({ subject, limits: group }))
    .sort((a, b) => order(least(a.limits), least(b.limits)));
}

/** Two groups without a number keep their order: Infinity − Infinity would be none. */
function order(a: number, b: number): number {
  return a === b ? 0 : a - b;
}

export const tagOf = ({ severity, close }: HeadroomLimit): string => (close ? `${severity}, too close` : severity);

export const valuesOf = ({ found, rating }: HeadroomLimit): string =>
  rating === null ? found : `${found} of ${rating}`;

/** As many limits as lines allow with the headings of their parts, those nearest to their limits first; in their own order. */
function nearest(limits: readonly HeadroomLimit[], lines: number): readonly HeadroomLimit[] {
  const byNeed = [...limits].sort((a, b) => order(nearness(a), nearness(b)));
  for (let most = limits.length; most > 1; most--) {
    const kept = new Set(byNeed.slice(0, most));
    if (most + new Set([...kept].map(({ subject }) => subject)).size <= lines) {
      return limits.filter((limit) => kept.has(limit));
    }
  }
  return byNeed.slice(0, 1);
}

/** Places headings, rows and the plot; the figure grows where the rows need more than the height asked for. */
export function layOutHeadroom(page: Page, data: HeadroomData): HeadroomLayout {
  const axisHeight = 44;
  const top = page.top + 22;
  const room = page.height - top - axisHeight - outer;
  const limits = page.fixed && !page.narrow ? nearest(data.limits, Math.floor(room / smallest)) : data.limits;
  const groups = grouped(limits);
  const lines = limits.length + groups.length;
  const pitch = page.narrow ? 19 : Math.min(largest, Math.max(smallest, room / Math.max(1, lines)));
  const headings: { text: string; y: number; top: number }[] = [];
  const rows: HeadroomRow[] = [];
  let y = top;
  for (const { subject, limits } of groups) {
    headings.push({ text: subject, y: y + pitch / 2, top: y });
    y += pitch;
    for (const limit of limits) {
      rows.push({ limit, textY: y + pitch / 2, y: y + (page.narrow ? 1.5 : 0.5) * pitch });
      y += page.narrow ? 2 * pitch + 2 : pitch;
    }
  }
  const tagWidth = 2 * pillPadding + Math.max(...limits.map((limit) => textWidth(tagOf(limit), 12)));
  const valueWidth = Math.max(...limits.map((limit) => textWidth(valuesOf(limit), 12)));
  const nameWidth = Math.max(
    ...limits.map(({ quantity }) => 14 + textWidth(quantity, 12)),
    ...groups.map(({ subject }) => textWidth(subject, 12, true)),
  );
  const valueRight = page.right - tagWidth - 12;
  const frame = page.narrow
    ? { left: page.left, right: page.right - tagWidth - 10, top, bottom: y }
    : { left: page.left + Math.min(260, nameWidth) + 14, right: valueRight - valueWidth - 14, top, bottom: y };
  const height = Math.max(page.height, Math.ceil(y + axisHeight + outer - 1e-6));
  const strips = page.narrow ? rows.map((row) => ({ top: row.y - 10, bottom: row.y + 10 })) : [frame];
  return { height, frame, strips, headings, rows, tagWidth, valueRight, leftOut: data.limits.length - limits.length };
}
