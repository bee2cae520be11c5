import { wrap } from "../../report/text-wrap.ts";
import { amperes, volts } from "./meter.ts";
import type { BenchCard, BenchReading, ResetSheet } from "./types.ts";

/** What a meter does not tell apart, V. */
const APART = 0.01;

/** The rows of the table of readings: where, and what a meter shows before, at and after the trip, with the range of what passes or without. */
export function readingRows(
  { readings }: Pick<BenchCard, "readings">,
  withRange: boolean,
): readonly (readonly string[])[] {
  const row = (where: string, cell: (reading: BenchReading) => string): string[] => [where, ...readings.map(cell)];
  return [
    row("source, voltage", ({ supply }) => volts(supply)),
    row("source, current", ({ supplyCurrent }) => amperes(supplyCurrent)),
    row("protector", ({ protector, protectorRange: range }) => {
      if (range === null) return volts(protector);
      // As the file sets it: what passes stands in the checks.
      if (protector < range[0] - APART || protector > range[1] + APART) return `${volts(protector)} (fails)`;
      return withRange ? `${volts(protector)} (${volts(range[0])} to ${volts(range[1])})` : volts(protector);
    }),
    row("radio side", ({ radio }) => volts(radio)),
  ];
}

/** Head of the same table. */
export const readingHeadings = ({ readings }: Pick<BenchCard, "readings">): readonly string[] => [
  "Meter at",
  ...readings.map(({ moment }) => moment),
];

/** The bench source in one line. */
export function sourceLine({ source }: BenchCard): string {
  const { startVoltage, endVoltage, currentLimit, slew } = source;
  return `${volts(startVoltage)} to ${volts(endVoltage)}, current limit ${amperes(currentLimit)}, turned up by ${volts(slew)} a second`;
}

/**
 * A bench test card as it is printed.
 *
 * @param options characters a line, 80 unless told; below 60 counts as 60
 * @example process.stdout.write(renderCard(card))
 */
export function renderCard(card: BenchCard, options: { readonly width?: number } = {}): string {
  const width = Math.max(60, options.width ?? 80);
  return sections([
    wrap(`Bench test card: ${card.title}`, width),
    section("Cautions", bullets(card.cautions, width)),
    wrap(`Tried: ${card.protector}`, width),
    section(`Source: ${sourceLine(card)}`, bullets(card.source.why, width)),
    section("In this order", numbered(card.steps, width)),
    section("What the meters show, by simulation", table([readingHeadings(card), ...readingRows(card, true)])),
    section(
      "Pass and fail",
      bullets(
        card.checks.map(({ what, pass, fail, basis }) => `${what}: pass ${pass}. Fail: ${fail}. (${basis})`),
        width,
      ),
    ),
    section("What stands behind it", bullets([...card.strain, ...card.assumptions], width)),
  ]);
}

/**
 * A reset sheet as it is printed.
 *
 * @param options characters a line, 80 unless told; below 60 counts as 60
 * @example process.stdout.write(renderReset(sheet))
 */
export function renderReset(sheet: ResetSheet, options: { readonly width?: number } = {}): string {
  const width = Math.max(60, options.width ?? 80);
  return sections([
    `${wrap(`Reset sheet: ${sheet.title}`, width)}\n${wrap(sheet.headline, width)}`,
    section("Cautions", bullets(sheet.cautions, width)),
    section(`How everything stands, ${sheet.at}`, table(sheet.states.map(({ part, state }) => [part, state]))),
    section("What still goes on", bullets(sheet.goesOn, width)),
    section("In this order", numbered(sheet.steps, width)),
    section("What was used up", bullets(sheet.usedUp.length === 0 ? ["Nothing."] : sheet.usedUp, width)),
  ]);
}

const sections = (parts: readonly string[]): string =>
  `${parts.filter((part) => part !== "").join("\n\n")}\n`.replaceAll("\u202f", " ");

const section = (title: string, body: string): string => (body === "" ? "" : `${title}\n${body}`);

const bullets = (lines: readonly string[], width: number): string =>
  lines.map((line) => wrap(line, width, "  - ", "    ")).join("\n");

const numbered = (lines: readonly string[], width: number): string =>
  lines.map((line, i) => wrap(line, width, `${String(i + 1).padStart(3)}. `, "     ")).join("\n");

function table(rows: readonly (readonly string[])[]): string {
  const widths = (rows[0] ?? []).map((_, column) => Math.max(...rows.map((row) => row[column].length)));
  const line = (row: readonly string[]) => `  ${row.map((cell, i) => cell.padEnd(widths[i])).join("  ")}`.trimEnd();
  return rows.map(line).join("\n");
}
