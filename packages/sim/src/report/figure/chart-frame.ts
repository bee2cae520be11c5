import { outer, type Page } from "./chart.ts";
import type { Frame } from "./draw.ts";
import { columnLegend, flowLegend, type LegendItem, lineHeight, type PlacedItem } from "./legend.ts";

/** One plot with its legend beside it, or in the narrow form above it. */
export interface ChartFrame {
  readonly frame: Frame;
  readonly height: number;
  readonly legend: readonly PlacedItem[];
}

/** Room that the axes need. */
export interface AxisRoom {
  /** Left of the plot, for its numbers: wide and narrow form, CSS pixels. */
  readonly left: readonly [number, number];
  /** Above the plot, for the axis' name and what stands on its upper edge. */
  readonly above: readonly [number, number];
}

const legendWidth = 220;
const below = 44;

export function frameChart(page: Page, items: readonly LegendItem[], { left, above }: AxisRoom): ChartFrame {
  if (page.narrow) {
    const { placed, height } = flowLegend(items, page.left, page.right, page.top);
    const top = page.top + height + above[1];
    const bottom = Math.max(top + 300, page.height - outer - below);
    const frame = { left: page.left + left[1], right: page.right - 6, top, bottom };
    return { frame, height: Math.max(page.height, Math.ceil(bottom + below + outer)), legend: placed };
  }
  const top = page.top + above[0];
  const bottom = Math.max(top + 260, page.height - outer - below + 2);
  const frame = { left: page.left + left[0], right: page.right - legendWidth - 18, top, bottom };
  const area = { left: frame.right + 18, right: page.right, top, bottom };
  const legend = columnLegend(items, () => top + lineHeight / 2, area);
  return { frame, height: Math.max(page.height, Math.ceil(bottom + below - 2 + outer)), legend };
}
