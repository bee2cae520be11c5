import { textWidth, wrap } from "./text.ts";

/** A name beside a panel with a sample of how it is drawn. */
export interface LegendItem {
  readonly text: string;
  /** Where it belongs on the panel's scale; null: at the end. */
  readonly value: number | null;
  readonly color: string;
  readonly sample:
    | { readonly kind: "line"; readonly width: number; readonly dash: string }
    | { readonly kind: "area"; readonly fill: string }
    | { readonly kind: "none" };
}

export interface PlacedItem {
  readonly item: LegendItem;
  readonly lines: readonly string[];
  readonly x: number;
  /** Middle of the first line. */
  readonly y: number;
}

export const legendType = 12;
export const lineHeight = 14;
export const sampleWidth = 20;
const sampleGap = 6;
const between = 4;

/** How far right of its sample an item's text begins. */
export function legendTextLeft(item: LegendItem): number {
  return item.sample.kind === "none" ? 0 : sampleWidth + sampleGap;
}

/** Width an item takes on one line. */
export function itemWidth(item: LegendItem): number {
  return legendTextLeft(item) + textWidth(item.text, legendType);
}

/**
 * A column beside the panel: each name as near to its value as its neighbours allow.
 * `position` maps an item's value to CSS pixels.
 */
export function columnLegend(
  items: readonly LegendItem[],
  position: (value: number) => number,
  area: { readonly left: number; readonly right: number; readonly top: number; readonly bottom: number },
): PlacedItem[] {
  const wanted = items
    .map((item) => {
      const lines = wrap(item.text, legendType, area.right - area.left - legendTextLeft(item), 2);
      const y = item.value === null ? area.bottom : position(item.value);
      return { item, lines, y, height: lines.length * lineHeight + between };
    })
    .sort((a, b) => a.y - b.y);
  const tops = spread(
    wanted.map(({ y, height }) => ({ top: y - lineHeight / 2, height })),
    area.top,
    area.bottom,
  );
  return wanted.map(({ item, lines }, i) => ({ item, lines, x: area.left, y: tops[i] + lineHeight / 2 }));
}

/** Height a column of these items takes at least. */
export function columnHeight(items: readonly LegendItem[], width: number): number {
  const heights = items.map((item) => wrap(item.text, legendType, width - legendTextLeft(item), 2).length * lineHeight);
  return heights.reduce((sum, height) => sum + height + between, 0);
}

/** Pushes boxes down until none overlap, then up from the bottom where they ran out of it. */
function spread(boxes: readonly { top: number; height: number }[], top: number, bottom: number): number[] {
  const tops = boxes.map((box) => box.top);
  let end = top;
  for (const [i, box] of boxes.entries()) {
    tops[i] = Math.max(tops[i], end);
    end = tops[i] + box.height;
  }
  let limit = bottom + between;
  for (let i = boxes.length - 1; i >= 0; i--) {
    tops[i] = Math.min(tops[i], limit - boxes[i].height);
    limit = tops[i];
  }
  return tops;
}

/** Rows above the panel, for narrow figures; gives the height they take as well. */
export function flowLegend(
  items: readonly LegendItem[],
  left: number,
  right: number,
  top: number,
): { readonly placed: PlacedItem[]; readonly height: number } {
  const rowHeight = lineHeight + 3;
  const placed: PlacedItem[] = [];
  let x = left;
  let row = 0;
  for (const item of items) {
    const lines = wrap(item.text, legendType, right - left - legendTextLeft(item), 2);
    const width = legendTextLeft(item) + Math.max(0, ...lines.map((line) => textWidth(line, legendType)));
    // A name of two lines has its rows for itself.
    if (x > left && (x + width > right || lines.length > 1)) {
      x = left;
      row++;
    }
    placed.push({ item, lines, x, y: top + row * rowHeight + rowHeight / 2 });
    x = lines.length > 1 ? right : x + width + 14;
    row += Math.max(0, lines.length - 1);
  }
  return { placed, height: items.length === 0 ? 0 : (row + 1) * rowHeight };
}
