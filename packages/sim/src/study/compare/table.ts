import { csvTable } from "../../report/csv.ts";
import { differenceOf } from "./difference.ts";
import type { CompareRow, Comparison, ServicePoint } from "./types.ts";
import { COMPARE_HEADINGS, type CompareCells, compareCells } from "./words.ts";

/** Version of the form of `comparisonData`; the number goes up whenever a reader of the old form could stumble. */
export const COMPARISON_FORMAT = "railfault-compare 1";

/**
 * The comparison as a table in Markdown, with what sets each line apart from the first below it.
 *
 * @example writeFileSync("schemes.md", comparisonMarkdown(found))
 */
export function comparisonMarkdown(comparison: Comparison): string {
  const { title, rows, leftOut, cautions } = comparison;
  const keys = Object.keys(COMPARE_HEADINGS) as (keyof CompareCells)[];
  const line = (cells: CompareCells): string => `| ${keys.map((key) => escaped(cells[key])).join(" | ")} |`;
  const [first, ...others] = rows;
  const differences =
    first.kind === "judged"
      ? others.map(({ name }) => `- **${escaped(name)}**: ${escaped(differenceOf(comparison, first.name, name))}`)
      : [];
  const list = (items: readonly string[]): string[] => items.map((item) => `- ${escaped(item)}`);
  return [
    `# ${escaped(title === "" ? "Schemes side by side" : `${title}: schemes side by side`)}`,
    "",
    line(COMPARE_HEADINGS),
    `|${keys.map(() => "---|").join("")}`,
    ...rows.map((row) => line(compareCells(row))),
    "",
    ...(differences.length === 0 ? [] : [`Beside ${escaped(first.name)}:`, "", ...differences, ""]),
    ...(leftOut.length === 0
      ? []
      : ["Does not take part:", "", ...list(leftOut.map(({ name, why }) => `${name}: ${why}`)), ""]),
    "Cautions:",
    "",
    ...list(cautions),
    "",
  ].join("\n");
}

const escaped = (text: string): string => text.replace(/[\\|*_`<>[\]]/g, "\\$&");

const HEADER = [
  "scheme",
  "as_it_stands",
  "grade",
  "too_close",
  "load",
  "peak_V",
  "peak_after_s",
  "limit_V",
  "above_total_s",
  "above_longest_s",
  "fuse",
  "fuse_state",
  "fuse_after_s",
  "fuse_melt_share",
  "trips",
  "trip_period_s",
  "scr_state",
  "scr_peak_degC",
  "scr_limit_degC",
  "repair",
  "replace",
  "check",
  "comes_back",
  "hazard",
  "receive_drop_V",
  "receive_loss_W",
  "transmit_drop_V",
  "transmit_loss_W",
  "risk",
] as const;

/**
 * The comparison as comma-separated values, SI units in the headings; lines without a verdict have only their name and, as the risk, the
 * reason.
 */
export function comparisonCsv({ rows }: Comparison): Generator<string> {
  return csvTable(HEADER, rows.map(csvRow));
}

function csvRow(row: CompareRow): readonly (string | number | null)[] {
  const { name, isBase } = row;
  const start = [name, isBase ? "yes" : "no"];
  if (row.kind === "no verdict")
    return [...start, "no verdict", ...HEADER.slice(start.length + 2).map(() => null), row.why];
  const { peak, above, fuse, tripping, scr, mended, replaced, service } = row;
  const parts = (step: "replace" | "check"): string =>
    replaced
      .filter((each) => each.step === step)
      .map(({ part }) => part)
      .join("; ");
  return [
    ...start,
    row.grade,
    row.tooClose ? "yes" : "no",
    row.load,
    peak.value,
    peak.after,
    above.level,
    above.total,
    above.longest,
    fuse.label,
    fuse.state,
    fuse.after,
    fuse.state === "none" ? null : fuse.share,
    tripping?.count ?? null,
    tripping?.period ?? null,
    scr?.state ?? null,
    scr?.peak ?? null,
    scr?.limit ?? null,
    mended.map(({ source, step }) => (step === "repair" ? source : `${source} (set back)`)).join("; "),
    parts("replace"),
    parts("check"),
    row.comesBack,
    row.hazard,
    ...point(service?.receive),
    ...point(service?.transmit),
    [...row.risks, ...row.idle].join("; "),
  ];
}

const point = (found: ServicePoint | null | undefined): readonly (number | null)[] =>
  found?.kind === "found" ? [found.drop, found.loss] : [null, null];

/**
 * The comparison as plain data, ready for JSON: rows in SI units, times after the fault; differences beside the first row; without waveforms.
 *
 * @param origin name of the file and version of the program
 */
export function comparisonData(
  comparison: Comparison,
  origin: { readonly file: string; readonly version: string },
): Record<string, unknown> {
  const { title, rows, leftOut, issues, stopped, cautions } = comparison;
  const [first] = rows;
  const differences = rows.slice(1).map(({ name }) => ({
    name,
    beside: first.name,
    sentence: differenceOf(comparison, first.name, name),
  }));
  return { format: COMPARISON_FORMAT, ...origin, title, stopped, rows, differences, leftOut, issues, cautions };
}
