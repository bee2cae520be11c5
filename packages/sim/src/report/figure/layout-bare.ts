import type { Content, Layout } from "./layout.ts";
import { shorten, textWidth } from "./text.ts";

const titleHeight = 20;
const titleSize = 13;
const bar = 16;
const barGap = 3;
const panelGap = 8;
const axisHeight = 18;
/** Half of the topmost number stands above its plot. */
const numberRoom = 6;

/**
 * The bare form: a line with the title, the plots, the states and the axis, as low as it is asked to be.
 * @param heading what stands at the right end of the title's line
 * @param leastRows how many rows of states have room at least, where there are any
 */
export function layOutBare(content: Content, heading: string, leastRows: number): Layout {
  const { columns, panels, devices } = content;
  const top = 4 + titleHeight + (panels.length > 0 ? numberRoom : 2);
  const rowCount = devices.length === 0 ? 0 : Math.max(devices.length, leastRows);
  const states = rowCount * (bar + barGap);
  const below = states + axisHeight + 4;
  const least = panels.length * 56 + Math.max(0, panels.length - 1) * panelGap;
  const height = Math.max(content.height ?? 180, top + least + panelGap + below);
  const free = height - top - below - panels.length * panelGap;
  const parts = panels.reduce((sum, { share }) => sum + share, 0);
  let y = top;
  const places = panels.map(({ share }) => {
    const frame = { left: columns.plotLeft, right: columns.plotRight, top: y, bottom: y + (free * share) / parts };
    y = frame.bottom + panelGap;
    return { frame, headingY: 0, legend: () => [] };
  });
  const rows = devices.map((label) => {
    const place = { left: columns.plotLeft, right: columns.plotRight, top: y, bottom: y + bar };
    y += bar + barGap;
    const name = shorten(label, 12, columns.plotLeft - columns.outerLeft - 4);
    return {
      bar: place,
      nameX: columns.outerLeft,
      nameY: place.top + bar / 2,
      name,
      note: [],
      noteX: 0,
      noteEnds: false,
    };
  });
  const rowsBottom = y - devices.length * (bar + barGap) + states - barGap;
  const plotBottom = rowCount > 0 ? rowsBottom : (places.at(-1)?.frame.bottom ?? top);
  const room = columns.outerRight - columns.outerLeft - (panels.length === 0 ? 0 : textWidth(heading, 12) + 10);
  return {
    height,
    title: [{ text: shorten(content.title, titleSize, room, true), y: 4 + titleHeight / 2 }],
    subtitle: [],
    facts: [],
    titleSize,
    subtitleSize: titleSize,
    marks: { middle: top, bottom: top },
    panels: places,
    states: rows,
    axisY: plotBottom + 14,
    axisTitleY: plotBottom + 14,
    listTop: height,
  };
}
