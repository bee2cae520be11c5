import { counted } from "../../verdict/words.ts";
import type { CaptureLayout, ChannelLayout, LayoutCorrections, TimeColumn } from "../types.ts";
import { type Column, columnsOf, INDEX_NAME, steps } from "./columns.ts";
import { findDialect, waysOf } from "./head.ts";
import { heading, withIncrement } from "./heading.ts";
import { tellEither, tellNearest } from "./nearly.ts";
import { intervalIn, preambleOf } from "./preamble.ts";
import type { Problems } from "./problems.ts";
import { timeColumn } from "./time-column.ts";
import { columnUnit } from "./units.ts";

export const MOST_CHANNELS = 8;

export interface Recognised {
  readonly layout: CaptureLayout;
  /** A sentence each, with its reason. */
  readonly understood: readonly string[];
}

/**
 * How a file of samples is written, by its beginning.
 *
 * @param head the first kilobytes, line feeds at the line ends
 * @returns null where no table of numbers is there; the problems say why
 */
export function recognise(head: string, problems: Problems, given: LayoutCorrections = {}): Recognised | null {
  const ways = waysOf(head, given);
  const dialect = findDialect(ways, given);
  if (dialect === null) {
    if (tellNearest(ways, problems)) return null;
    const first = head.split("\n").findIndex((line) => line.trim() !== "");
    const text = head.split("\n")[Math.max(0, first)] ?? "";
    problems.add(
      {
        code: "no-table",
        message: "There is no table of numbers in this text.",
        received: text === "" ? null : text,
        allowed: "lines of numbers, cells apart by commas, semicolons or tabs",
        hint: "export the samples as CSV",
      },
      problems.at(Math.max(0, first) + 1, text),
    );
    return null;
  }
  const understood: string[] = [];
  const mark = dialect.delimiter === "\t" ? "tabs" : dialect.delimiter === "," ? "commas" : "semicolons";
  understood.push(
    `Cells apart by ${mark}, decimal ${dialect.decimal === "." ? "point" : "comma"}: that way ${dialect.table.length} lines looked at are numbers in ${counted(dialect.columns, "column")}.`,
  );
  if (dialect.either !== null) tellEither(dialect.either, dialect, problems);
  const { names, units, above, increment } = withIncrement(heading(dialect));
  const preamble = [...preambleOf(above), ...increment];
  if (preamble.length > 0)
    understood.push(
      `Above the table: ${preamble
        .map(({ key, value }) => (value === "" ? key : `${key}: ${value}`))
        .join("; ")
        .slice(0, 300)}.`,
    );
  const columns = columnsOf(dialect, names, units);
  const told = intervalIn(preamble, dialect.decimal);
  const time = timeColumn(columns, given, told !== null || given.interval !== undefined, understood, problems);
  const interval = given.interval ?? (time === null ? (told?.interval ?? null) : null);
  if (given.interval !== undefined) understood.push("The sample interval was given.");
  else if (interval !== null && told !== null)
    understood.push(`The sample interval is that of line ${told.line.line}, "${told.line.key}".`);
  const channels = channelsOf(columns, time, given, understood, problems);
  const attenuation = preamble.find(({ key }) => /\b(?:attenuation|probe)\b/i.test(key));
  if (attenuation !== undefined)
    understood.push(
      `Line ${attenuation.line} names "${attenuation.key}", ${attenuation.value}: the numbers are taken to have it in them already.`,
    );
  return {
    layout: {
      delimiter: dialect.delimiter,
      decimal: dialect.decimal,
      preamble,
      headerLine: names?.line ?? null,
      unitsLine: units?.line ?? null,
      firstLine: dialect.table[0].line,
      columns: dialect.columns,
      time,
      interval,
      channels,
    },
    understood,
  };
}

function channelsOf(
  columns: readonly Column[],
  time: TimeColumn | null,
  given: LayoutCorrections,
  understood: string[],
  problems: Problems,
): ChannelLayout[] {
  const usable = columns.filter(({ column, clock, text }) => {
    if (column === time?.column) return false;
    if (text) understood.push(`Column ${column}, "${nameOf(columns, column)}", holds words and is left out.`);
    else if (clock !== null && column !== time?.date)
      understood.push(`Column ${column} holds dates or times of day and is left out: another one is the time.`);
    return !text && clock === null;
  });
  const bareCount = ({ column, name, unit, numbers }: Column): boolean =>
    time === null && column === 1 && name === "" && unit === "" && usable.length > 1 && numbers.length > 2;
  if (given.channels !== undefined)
    return given.channels.map((wish) => channelOf(columns[wish.column - 1], wish, problems));
  return usable
    .filter((each) => {
      const { column, name, numbers } = each;
      const index = (INDEX_NAME.test(name) || bareCount(each)) && steps(numbers).every((step) => step === 1);
      const bare = numbers.length === 0 && name === "";
      if (index) understood.push(`Column ${column} counts lines and is left out.`);
      else if (bare) understood.push(`Column ${column} has neither a name nor numbers and is left out.`);
      return !index && !bare;
    })
    .map((each) => {
      const channel = channelOf(each, { column: each.column }, problems);
      understood.push(
        `Column ${each.column}, "${channel.name}", is a channel in ${each.unit === "" ? "volts: no unit is named, so that is assumed" : each.unit}${clampText(each, channel)}.`,
      );
      return channel;
    });
}

function clampText({ amperesPerVolt }: Column, channel: ChannelLayout): string {
  if (amperesPerVolt === null) return "";
  return channel.amperesPerVolt === null
    ? "; the clamp that its heading names is taken to be in the numbers already"
    : `; the clamp that its heading names makes amperes of them, ${Number(amperesPerVolt.toPrecision(6))} A/V`;
}

function nameOf(columns: readonly Column[], column: number): string {
  return columns[column - 1].name || `column ${column}`;
}

type Wish = NonNullable<LayoutCorrections["channels"]>[number];

function channelOf(found: Column | undefined, wish: Wish, problems: Problems): ChannelLayout {
  const { column } = wish;
  const name = found?.name || `column ${column}`;
  const unit = wish.unit ?? (found?.unit || "V");
  // What is in amperes already has its clamp's scale in it.
  const amperesPerVolt = columnUnit(unit)?.measures === "voltage" ? (found?.amperesPerVolt ?? null) : null;
  const plain = { name, unit, attenuation: 1, offset: 0, inverted: false, amperesPerVolt, deskew: 0 };
  if (amperesPerVolt !== null && found?.unit === "" && wish.unit === undefined && wish.amperesPerVolt === undefined) {
    const scale = `${Number(amperesPerVolt.toPrecision(6))} A/V`;
    problems.add({
      severity: "warning",
      code: "clamp-in-heading",
      path: `column ${column}`,
      message: `The heading of "${name}" names a clamp, ${scale}, and no unit of its numbers: volts are assumed, before the clamp.`,
      hint: `say what they are (--channel "${column}: ${name}, mV, ${scale}", or "${column}: ${name}, A" where they are amperes already)`,
    });
  }
  return { ...plain, ...wish };
}
