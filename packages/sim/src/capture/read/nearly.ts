import type { EitherMark } from "./decimal-mark.ts";
import type { Cut, Dialect } from "./head.ts";
import type { Problems } from "./problems.ts";

/** Tells of the first line that is nearly one of a table which cell spoils it; false where there is none. */
export function tellNearest(ways: readonly Cut[], problems: Problems): boolean {
  const counted = ways.map(({ lines, delimiter }) => {
    const near = lines.filter(
      ({ meanings }) => meanings.length > 1 && meanings.some((each) => typeof each === "number"),
    );
    const numbers = near.flatMap(({ meanings }) => meanings.filter((each) => typeof each === "number"));
    return { near, delimiter, numbers: near.length < 2 ? 0 : numbers.length };
  });
  const { near, delimiter } = counted.reduce((a, b) => (b.numbers > a.numbers ? b : a));
  const first = near.find(({ meanings }) => meanings.includes("text"));
  if (near.length < 2 || first === undefined) return false;
  const { line, cells, meanings } = first;
  const at = meanings.indexOf("text");
  const cell = cells[at] ?? "";
  const before = cells.slice(0, at).reduce((sum, each) => sum + each.length + 1, 1);
  problems.add(
    {
      code: "no-table",
      message: `There is no table of numbers in this text. Line ${line} comes near to one, but its cell ${at + 1} is neither a number nor a time.`,
      received: cell.trim(),
      allowed: "lines of numbers, cells apart by commas, semicolons or tabs",
      hint: "say what stands between cells and in numbers (--delimiter semicolon --decimal comma), or leave such cells empty",
    },
    problems.at(line, cells.join(delimiter), before, cell.length),
  );
  return true;
}

/** Refuses a table whose numbers may be read two ways. */
export function tellEither({ cell, grouped, decimal }: EitherMark, { table }: Dialect, problems: Problems): void {
  const line = table.find(({ cells }) => cells.some((each) => each.includes(cell)));
  problems.add(
    {
      code: "either-mark",
      message: `"${cell}" may be ${grouped} or ${decimal}: nothing in this table tells whether its commas part thousands or decimals.`,
      received: cell,
      allowed: "numbers that can be read one way only, or a decimal mark that is told",
      hint: `say which mark is the decimal one (--decimal point: ${grouped}; --decimal comma: ${decimal})`,
    },
    line === undefined ? null : problems.at(line.line, line.text, line.text.indexOf(cell) + 1, cell.length),
  );
}
