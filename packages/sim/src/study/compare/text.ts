import { wrap } from "../../report/text-wrap.ts";
import { differenceOf } from "./difference.ts";
import type { CompareRow, Comparison } from "./types.ts";
import { COMPARE_HEADINGS, type CompareCells, compareCells, isSafe, safeWords } from "./words.ts";

const FAULT = ["name", "load", "peak", "above", "fuse", "trips", "scr"] as const;
const SERVICE = ["name", "receive", "transmit"] as const;

/**
 * The comparison as it is printed: a table of what the fault did, what it costs afterwards, what each scheme takes in normal service, and what
 * sets each apart from the first, in a sentence.
 *
 * @param options characters a line, 80 unless told; below 60 counts as 60
 * @example process.stdout.write(renderComparison(found, { width: 100 }))
 */
export function renderComparison(comparison: Comparison, options: { readonly width?: number } = {}): string {
  const width = Math.max(60, options.width ?? 80);
  const { rows, title, leftOut, stopped, cautions } = comparison;
  const [first, ...others] = rows;
  const judged = others.filter(({ kind }) => kind === "judged");
  const differences =
    first.kind === "judged" ? judged.map(({ name }) => `${name}: ${differenceOf(comparison, first.name, name)}`) : [];
  const parts = [
    wrap(title === "" ? "Schemes side by side" : `${title}: schemes side by side`, width),
    stopped ? "Stopped early: what is missing was not run." : "",
    headline(rows, width),
    section("The same fault, the best first", table(rows, FAULT, width)),
    section("Afterwards", bullets(rows.map(afterwards), width)),
    section(
      "In normal service: voltage lost between supply and load, and watts on the way",
      table(rows, SERVICE, width),
    ),
    section(`Beside ${first.name}`, bullets(differences, width)),
    section(
      "Does not take part",
      bullets(
        leftOut.map(({ name, why }) => `${name}: ${why}`),
        width,
      ),
    ),
    section("Cautions", bullets(cautions, width)),
  ];
  return `${parts.filter((part) => part !== "").join("\n\n")}\n`.replaceAll("\u202f", " ");
}

/**
 * How many of the lines keep the load safe, how many of those leave a hazard behind, and which comes first, in a sentence.
 *
 * @example comparisonHeadline(found.rows) // "The load is safe in 5 of 9 schemes, 1 of them with a hazard left; by the rule of this table, …"
 */
export function comparisonHeadline(rows: readonly CompareRow[]): string {
  const judged = rows.filter((row) => row.kind === "judged");
  if (judged.length === 0) return "None of the lines has a verdict.";
  const [best] = judged;
  return judged.some(isSafe)
    ? `The ${safeWords(judged, "schemes")}; by the rule of this table, ${best.name} comes first.`
    : "None of these schemes keeps the load within its limit.";
}

function headline(rows: readonly CompareRow[], width: number): string {
  const says = comparisonHeadline(rows);
  const isJudged = rows.some(({ kind }) => kind === "judged");
  return wrap(
    isJudged ? `${says} The order weighs what the runs tell; it knows no prices, no space and no people.` : says,
    width,
  );
}

function afterwards(row: CompareRow): string {
  const { name, replaced, comesBack, risk } = compareCells(row);
  if (row.kind === "no verdict") return `${name}: ${risk}`;
  return `${name}: ${replaced}; comes back: ${comesBack}; left to fear: ${risk}.`;
}

const section = (title: string, body: string): string => (body === "" ? "" : `${title}\n${body}`);

const bullets = (items: readonly string[], width: number): string =>
  items.map((item) => wrap(item, width, "  - ", "    ")).join("\n");

/** Aligned columns; where they would be wider than the line, names take a line of their own. */
function table(rows: readonly CompareRow[], keys: readonly (keyof CompareCells)[], width: number): string {
  const cells = [COMPARE_HEADINGS, ...rows.map(compareCells)].map((row, line) =>
    keys.map((key) => (line === 0 && key === "name" ? "" : row[key])),
  );
  const wide = keys.map((_, column) => Math.max(...cells.map((row) => row[column].length)));
  const room = (from: number): number => wide.slice(from).reduce((sum, each) => sum + each + 2, 0);
  const stacked = 2 + room(0) > width;
  const padded = (row: readonly string[], from: number): string =>
    row
      .slice(from)
      .map((cell, k) => cell.padEnd(wide[k + from]))
      .join("  ");
  return cells
    .flatMap((row, line) => {
      if (!stacked) return [`  ${padded(row, 0)}`];
      return line === 0 ? [`    ${padded(row, 1)}`] : [`  ${row[0]}`, `    ${padded(row, 1)}`];
    })
    .map((text) => text.trimEnd())
    .join("\n");
}
