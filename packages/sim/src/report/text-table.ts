import type { Finding, Severity } from "../verdict/types.ts";
import { show } from "../verdict/words.ts";

const WORDS: Readonly<Record<Severity, string>> = {
  ok: "ok",
  withstood: "withstood",
  "used up": "used up",
  beyond: "BEYOND",
  unknown: "UNKNOWN",
  "not rated": "not rated",
};

/** `×1.3`; a dash where nothing can be said. */
export function headroomText(headroom: number | null): string {
  if (headroom === null) return "–";
  if (headroom >= 1000) return ">×999";
  return `×${Number(headroom.toPrecision(digitsFor(headroom)))}`;
}

/** Near 1 the side matters: more digits there. */
function digitsFor(headroom: number): number {
  const off = Math.abs(headroom - 1);
  return off < 0.005 ? 5 : off < 0.1 ? 3 : 2;
}

/**
 * An aligned table grouped by part: quantity, found, limit, headroom, how it came off. Where it would be wider than `width`,
 * the quantity takes a line of its own, so that nothing is cut.
 */
export function headroomTable(findings: readonly Finding[], width: number): readonly string[] {
  const rows = findings.map((finding) => ({ part: finding.subject, cells: cellsOf(finding) }));
  const head = ["", "found", "limit", "headroom", ""];
  const widths = head.map((title, column) =>
    Math.max(title.length, ...rows.map(({ cells }) => cells[column]?.length ?? 0)),
  );
  const [what = 0, ...numbers] = widths;
  const narrow = 4 + what + numbers.reduce((sum, each) => sum + 2 + each, 0) > width;
  const name = narrow ? 4 : what;
  const lines = [line(head, name, numbers)];
  let part = "";
  for (const row of rows) {
    if (row.part !== part) lines.push(`  ${row.part}`);
    part = row.part;
    const [quantity = "", ...rest] = row.cells;
    if (narrow) lines.push(`    ${quantity}`);
    lines.push(line([narrow ? "" : quantity, ...rest], name, numbers));
  }
  return lines;
}

function cellsOf({ quantity, dimension, rating, found, headroom, severity }: Finding): readonly string[] {
  return [
    quantity,
    show(found, dimension),
    rating === null ? "–" : show(rating, dimension),
    headroomText(headroom),
    WORDS[severity],
  ];
}

function line(cells: readonly string[], name: number, numbers: readonly number[]): string {
  const [first = "", ...rest] = cells;
  const aligned = rest.map((cell, column) => (column < 3 ? cell.padStart(numbers[column] ?? 0) : cell));
  return `    ${[first.padEnd(name), ...aligned].join("  ")}`.trimEnd();
}
