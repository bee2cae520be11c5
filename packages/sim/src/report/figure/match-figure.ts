import { write } from "./canvas.ts";
import { openPage, outer, type Page, planPage } from "./chart.ts";
import type { ChartOptions } from "./chart-types.ts";
import { add } from "./draw.ts";
import type { MatchCell, MatchCellState, MatchData } from "./match-types.ts";
import { shorten, textWidth, wrap } from "./text.ts";
import type { Tone } from "./types.ts";

const cellHeight = 24;
const headHeight = 60;
const nameWidth = 206;
const gap = 14;
const wordHeight = 17;

const tones: Readonly<Record<MatchCellState, Tone>> = {
  sound: "active",
  kept: "off",
  "fell together": "alarm",
  "fell alone": "idle",
};

const meanings: readonly (readonly [MatchCellState, string])[] = [
  ["sound", "sound, confirmed by a full run; the thinnest wire with it"],
  ["kept", "keeps the rules; volts lost in service"],
  ["fell together", "the two do not go together"],
  ["fell alone", "one of the two fell out by itself"],
];

/**
 * Which fuse goes with which SCR and which wire, and what is against the others: a row a fuse, a column an SCR or a wire, in each cell the
 * thinnest sound wire, the voltage lost, or the short word of the reason.
 *
 * @param data cells in the order of the columns
 * @param options the document to draw in, size in CSS pixels, colours
 * @returns an element that is not yet part of the document; its `<title>` and `<desc>` tell what it shows
 * @throws RangeError where there is no row, or a row has another number of cells than there are columns
 * @example container.append(matchFigure(matchData(answer), { document }));
 */
export function matchFigure(data: MatchData, options: ChartOptions): SVGSVGElement {
  check(data);
  const page = planPage(data, options, "match-figure");
  const blocks = blocksOf(page, data);
  const legend = legendOf(page, data);
  const bottom = blocks.at(-1)?.bottom ?? page.top;
  const height = Math.max(page.height, Math.ceil(bottom + 14 + legend.height + outer));
  const svg = openPage(page, height, description(data));
  const body = add(svg, "g", { class: "panel match" });
  for (const block of blocks) drawBlock(page, body, data, block);
  drawLegend(page, add(svg, "g", { class: "legend" }), legend.items, bottom + 14);
  return svg;
}

function check({ rows, scrs, wires }: MatchData): void {
  const problems = rows.length === 0 ? ["there is no fuse"] : [];
  for (const { fuse, withScrs, withWires } of rows) {
    if (withScrs.length !== scrs.length) problems.push(`${fuse} has ${withScrs.length} cells for ${scrs.length} SCRs`);
    if (withWires.length !== wires.length)
      problems.push(`${fuse} has ${withWires.length} cells for ${wires.length} wires`);
  }
  if (problems.length > 0) throw new RangeError(`the matrix cannot be drawn: ${problems.join("; ")}`);
}

function description({ subtitle, rows, scrs, wires, words, leftOut }: MatchData): string {
  const cells = (names: readonly string[], list: readonly MatchCell[]): string =>
    names.map((name, i) => `${name}: ${list[i].state === "sound" ? "sound from " : ""}${list[i].text}`).join(", ");
  const told = rows.map(
    ({ fuse, yours, withScrs, withWires }) =>
      `${fuse}${yours ? " (yours)" : ""}. With SCRs: ${cells(scrs, withScrs)}. With wires: ${cells(wires, withWires)}.`,
  );
  return [subtitle, ...told, ...words.map(({ word, meaning }) => `${word}: ${meaning}.`), leftOut].join(" ").trim();
}

interface Block {
  readonly title: string;
  readonly columns: readonly string[];
  readonly pick: "withScrs" | "withWires";
  readonly left: number;
  readonly cell: number;
  readonly top: number;
  readonly bottom: number;
  /** Height of one row, with its fuse's name where that stands above the cells. */
  readonly pitch: number;
  readonly named: boolean;
}

/** Columns so narrow that words would be cut off. */
const least = { withScrs: 44, withWires: 32 } as const;

/** Side by side with one column of names; one below the other where columns would be too narrow; on a phone with each name above its cells too. */
function blocksOf(page: Page, { rows, scrs, wires }: MatchData): Block[] {
  const both = [
    { title: "with the SCR", columns: scrs, pick: "withScrs" },
    { title: "with the wire", columns: wires, pick: "withWires" },
  ] as const;
  const room = page.right - page.left - nameWidth - gap;
  // A wire's size takes less room than an SCR's name.
  const share = 1.35;
  const unit = room / (share * scrs.length + wires.length);
  if (page.narrow || share * unit < least.withScrs || unit < least.withWires) {
    let top = page.top;
    return both.map((block) => {
      const left = page.narrow ? page.left : page.left + nameWidth;
      const cell = Math.min(56, (page.right - left) / block.columns.length);
      const pitch = page.narrow ? cellHeight + 18 : cellHeight;
      const bottom = top + headHeight + rows.length * pitch;
      const placed = { ...block, left, cell, top, bottom, pitch, named: true };
      top = bottom + gap;
      return placed;
    });
  }
  const bottom = page.top + headHeight + rows.length * cellHeight;
  const [first, second] = both;
  const left = page.left + nameWidth;
  const common = { top: page.top, bottom, pitch: cellHeight };
  return [
    { ...first, ...common, left, cell: Math.min(70, share * unit), named: true },
    {
      ...second,
      ...common,
      left: left + scrs.length * Math.min(70, share * unit) + gap,
      cell: Math.min(60, unit),
      named: false,
    },
  ];
}

function drawBlock(page: Page, parent: Element, data: MatchData, block: Block): void {
  const { colors, narrow } = page;
  const unit = unitOf(block.columns);
  write(page, parent, block.left, block.top + 7, unit === "" ? block.title : `${block.title}, ${unit}`, { bold: true });
  // Numbers with units where all of them have room, else none.
  const bare = data.rows.some((row) => row[block.pick].some((cell) => textWidth(cell.text, 12, true) > block.cell - 4));
  const heads = block.columns.map((name) => fittingName(shortName(name, unit), block.cell + 2));
  for (const [i, name] of heads.entries()) {
    const lines = wrap(name, 12, block.cell + 2, 3);
    for (const [line, text] of lines.entries())
      write(
        page,
        parent,
        block.left + (i + 0.5) * block.cell,
        block.top + headHeight - 10 - (lines.length - 1 - line) * 14,
        text,
        {
          anchor: "middle",
          color: colors.muted,
        },
      );
  }
  for (const [i, row] of data.rows.entries()) {
    const y = block.top + headHeight + i * block.pitch;
    const cellTop = narrow ? y + 18 : y;
    const name = row.yours ? `Yours: ${row.fuse}` : row.fuse;
    if (block.named)
      write(
        page,
        parent,
        page.left,
        narrow ? y + 9 : y + cellHeight / 2,
        shorten(name, 12, narrow ? 360 : nameWidth - 8, row.yours),
        {
          bold: row.yours,
        },
      );
    for (const [k, cell] of row[block.pick].entries())
      drawCell(page, parent, block.left + k * block.cell, cellTop, block.cell, cell, bare);
  }
}

/** The unit that all names of a block end with, for its head; empty where they differ. */
function unitOf(names: readonly string[]): string {
  return ["mm²", "AWG"].find((unit) => names.every((name) => name.endsWith(` ${unit}`))) ?? "";
}

const shortName = (name: string, unit: string): string =>
  (unit === "" ? name : name.slice(0, -unit.length - 1)).replace(/^SCR /, "");

/** A word that is wider than its column is parted, for what is cut off tells nothing. */
const fittingName = (name: string, room: number): string =>
  textWidth("crowbar", 12) <= room ? name : name.replace("crowbar grade", "crow- bar");

function drawCell(
  page: Page,
  parent: Element,
  x: number,
  y: number,
  width: number,
  { state, text }: MatchCell,
  bare: boolean,
): void {
  const { fill, edge } = page.colors.tones[tones[state]];
  add(parent, "rect", {
    class: `cell ${state.replace(" ", "-")}`,
    x: x + 1,
    y: y + 1,
    width: width - 2,
    height: cellHeight - 2,
    rx: state === "sound" ? 9 : 2,
    fill,
    stroke: edge,
    "stroke-width": (state === "sound" ? 1.6 : 0.8) * page.weight,
  });
  const bold = state === "sound";
  const fitting = bare ? text.replace(/ ?(mm²|AWG|V)$/, "") : text;
  write(page, parent, x + width / 2, y + cellHeight / 2, shorten(fitting, 12, width - 2, bold), {
    anchor: "middle",
    bold,
    color: state === "fell alone" ? page.colors.muted : page.colors.ink,
  });
}

interface Item {
  readonly state: MatchCellState | null;
  readonly lines: readonly string[];
  readonly column: number;
  readonly y: number;
}

/** What shapes and words mean, in two columns where there is room. */
function legendOf(page: Page, data: MatchData): { readonly items: readonly Item[]; readonly height: number } {
  const columns = page.narrow ? 1 : 2;
  const room = (page.right - page.left - (columns - 1) * 24) / columns;
  const used = new Set(
    data.rows.flatMap(({ withScrs, withWires }) => [...withScrs, ...withWires].map(({ state }) => state)),
  );
  const texts = [
    ...meanings.filter(([state]) => used.has(state)).map(([state, text]) => ({ state, text })),
    ...data.words.map(({ word, meaning }) => ({ state: null, text: `${word}: ${meaning}` })),
    ...(data.leftOut === "" ? [] : [{ state: null, text: data.leftOut }]),
  ];
  const perColumn = Math.ceil(texts.length / columns);
  const heights = Array.from({ length: columns }, () => 0);
  const items = texts.map(({ state, text }, i): Item => {
    const column = Math.floor(i / perColumn);
    const lines = wrap(text, 12, room - (state === null ? 0 : 30), page.narrow ? 3 : 2);
    const y = heights[column];
    heights[column] += lines.length * wordHeight;
    return { state, lines, column, y };
  });
  return { items, height: Math.max(...heights) };
}

function drawLegend(page: Page, parent: Element, items: readonly Item[], top: number): void {
  const width = (page.right - page.left + 24) / 2;
  for (const { state, lines, column, y } of items) {
    const x = page.left + column * width;
    const middle = top + y + wordHeight / 2;
    if (state !== null) {
      const { fill, edge } = page.colors.tones[tones[state]];
      const rx = state === "sound" ? 6 : 2;
      add(parent, "rect", {
        x,
        y: middle - 6,
        width: 22,
        height: 12,
        rx,
        fill,
        stroke: edge,
        "stroke-width": state === "sound" ? 1.6 : 0.8,
      });
    }
    for (const [i, text] of lines.entries()) {
      write(page, parent, x + (state === null ? 0 : 30), middle + i * wordHeight, text, { color: page.colors.muted });
    }
  }
}
