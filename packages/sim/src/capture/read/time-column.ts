import type { LayoutCorrections, TimeColumn } from "../types.ts";
import { dateOrderOf, isClock } from "./clock.ts";
import { type Column, INDEX_NAME, steps } from "./columns.ts";
import type { Problems } from "./problems.ts";
import { columnUnit } from "./units.ts";

const TIME_NAME = /^(?:#\s*)?(?:(?:relative |elapsed )?time(?: ?stamp)?|t|date.*|seconds?|x|clock)$/i;
const DAY = 86_400;
/** Days since 1899-12-30 of dates from 2009 to 2064, as spreadsheets count them. */
const SERIAL = { from: 40_000, to: 60_000, of1970: 25_569 } as const;
/** Seconds since any beginning that no recording reaches: three years. */
const LONG_AGO = 1e8;

/** Which column holds the time, and why; null: none does, or the one that is asked for is not there. */
export function timeColumn(
  columns: readonly Column[],
  given: LayoutCorrections,
  knowsInterval: boolean,
  understood: string[],
  problems: Problems,
): TimeColumn | null {
  const chosen = chosenColumn(columns, given, knowsInterval, understood, problems);
  if (chosen === null) return null;
  const { column, name, clock } = chosen;
  const dates = clock === "time" ? (columns.find((each) => each.clock === "date") ?? null) : null;
  const unit = unitOf(chosen, dates, given, understood);
  const from = beginningOf(chosen, dates, unit);
  if (dates !== null) understood.push(`Its dates stand in column ${dates.column}.`);
  if (from !== null) understood.push(`Times count from the first sample, by the file's own clock ${from}.`);
  return { column, name: name === "" ? "time" : name, unit, date: dates?.column ?? null, from };
}

function unitOf(chosen: Column, dates: Column | null, given: LayoutCorrections, understood: string[]): string {
  const { unit, clock, numbers, column } = chosen;
  const { timeUnit } = given;
  if (clock !== null) {
    if (timeUnit !== undefined && isClock(timeUnit) && timeUnit !== "clock") return timeUnit;
    const order = dateOrderOf((dates ?? chosen).cells);
    if (order !== "clock") understood.push(`Its dates have the ${order}: another part goes above 12.`);
    return order;
  }
  if (timeUnit !== undefined || unit !== "" || !countDays(numbers)) return timeUnit ?? unit;
  understood.push(`The numbers of column ${column} count days, as spreadsheets do: their steps are whole seconds.`);
  return "d";
}

/** Whether unnamed numbers are dates of a spreadsheet: steps of whole seconds, and not all of them round numbers of days. */
function countDays(numbers: readonly number[]): boolean {
  const isWhole = (value: number, by: number): boolean => Math.abs(value / by - Math.round(value / by)) < 0.02;
  const all = steps(numbers);
  return (
    numbers.length > 1 &&
    numbers.every((value) => value >= SERIAL.from && value <= SERIAL.to) &&
    all.every((step) => isWhole(step, 1 / DAY)) &&
    !all.every((step) => isWhole(step, 1e-4))
  );
}

/** What the file's clock says at the first sample; null where times are small numbers that count from where a person set it. */
function beginningOf({ clock, cells, numbers }: Column, dates: Column | null, unit: string): string | null {
  const written = (cells[0] ?? "").trim();
  if (clock !== null) return dates === null ? written : `${(dates.cells[0] ?? "").trim()} ${written}`;
  const first = numbers[0] ?? Number.NaN;
  const seconds = (columnUnit(unit)?.factor ?? 1) * first;
  if (unit === "d" && first >= SERIAL.from && first <= SERIAL.to) {
    const date = new Date(1000 * Math.round(DAY * (first - SERIAL.of1970)));
    return date.toISOString().slice(0, 19).replace("T", " ");
  }
  return Math.abs(seconds) >= LONG_AGO ? `${written} ${unit || "s"}` : null;
}

function chosenColumn(
  columns: readonly Column[],
  given: LayoutCorrections,
  knowsInterval: boolean,
  understood: string[],
  problems: Problems,
): Column | null {
  if (given.time !== undefined) {
    const { time } = given;
    if (time === null) return null;
    const named = typeof time === "string" ? time.trim().toLowerCase() : null;
    const chosen = columns.find(({ column, name }) =>
      named === null ? column === time : name.toLowerCase() === named,
    );
    if (chosen !== undefined) return chosen;
    problems.add({
      code: "no-such-column",
      message: "There is no such column for the time.",
      received: String(time),
      allowed: columns.map(({ column, name }) => (name === "" ? String(column) : `${column} (${name})`)).join(", "),
    });
    return null;
  }
  const clock = columns.find((each) => each.clock === "both") ?? columns.find((each) => each.clock === "time");
  const byUnit = columns.find(({ unit }) => columnUnit(unit)?.measures === "time");
  const byName = columns.find((each) => each.clock === null && !each.text && TIME_NAME.test(each.name.trim()));
  const found = clock ?? byUnit ?? byName ?? columns.find((each) => each.clock === "date");
  if (found !== undefined) {
    const why =
      found.clock !== null
        ? "it holds dates or times of day"
        : byUnit !== undefined
          ? `its unit is ${found.unit}`
          : `it is called "${found.name}"`;
    understood.push(`Column ${found.column} is the time: ${why}.`);
    return found;
  }
  const [first] = columns;
  const counts = steps(first.numbers).every((step) => step === 1);
  if (knowsInterval && (columns.length === 1 || !rises(first.numbers) || counts)) return null;
  if (columns.length < 2 || !rises(first.numbers) || columnUnit(first.unit) !== null) return null;
  if (counts && INDEX_NAME.test(first.name)) return null;
  understood.push("Column 1 is the time: its numbers rise from line to line and no unit says otherwise.");
  return first;
}

/** Never falls but for a few, and gets somewhere. */
function rises(numbers: readonly number[]): boolean {
  const all = steps(numbers);
  return all.filter((step) => step < 0).length <= 0.02 * all.length && (numbers.at(-1) ?? 0) > numbers[0];
}
