import { type Issue, inBounds } from "../issue/issue.ts";
import { visible } from "../scenario/text/characters.ts";
import { parseQuantity } from "../units/index.ts";
import type { CaptureLimits } from "./judge/types.ts";
import { isClock } from "./read/clock.ts";
import { columnUnit, plainUnit, scaleOf } from "./read/units.ts";
import type { ChannelLayout, LayoutCorrections } from "./types.ts";

/** Corrections of a layout as a person writes them. */
export interface WrittenCorrections {
  /** `1`, `t`, `1, ms`, `1, day first`, `none`. */
  readonly time?: string;
  /** `2: radio, V, 10×, inverted; 3: shunt, 100 A/V, deskew 12 ns`. */
  readonly channel?: string;
  /** A time with its unit: `2us`. */
  readonly interval?: string;
  /** `comma`, `semicolon`, `tab`. */
  readonly delimiter?: string;
  /** `point`, `comma`. */
  readonly decimal?: string;
  /** `11.7…15.9 V`, `…15.9 V`, `15.9 V`. */
  readonly limits?: string;
}

/** Words for the marks. */
const DELIMITERS = { comma: ",", semicolon: ";", tab: "\t" } as const;
const DECIMALS = { point: ".", comma: "," } as const;

/**
 * Reads corrections; every problem at once.
 *
 * @example readCorrections({ time: "1, ms", limits: "11.7…15.9 V" }).limits // { low: 11.7, high: 15.9 }
 */
export function readCorrections(written: WrittenCorrections): {
  readonly corrections: LayoutCorrections;
  readonly limits: CaptureLimits;
  readonly issues: readonly Issue[];
} {
  const issues: Issue[] = [];
  const wrong: Wrong = (path, message, received, allowed, hint = null) => {
    const problem = { severity: "error", code: "bad-correction", path, message, received, allowed } as const;
    issues.push(inBounds({ ...problem, hint, position: null }));
  };
  const { time, channel, interval, delimiter, decimal } = written;
  const seconds = interval === undefined ? null : parseQuantity(interval, "time");
  if (interval !== undefined && seconds !== null && !(seconds.ok && seconds.value > 0))
    wrong(
      "interval",
      seconds.ok ? "The sample interval is more than nothing." : seconds.message,
      interval,
      "a time with its unit, such as 2 us",
    );
  const corrections: LayoutCorrections = {
    ...(time === undefined ? {} : readTime(time, wrong)),
    ...(channel === undefined ? {} : { channels: channel.split(";").map((text) => readChannel(text, wrong)) }),
    ...(seconds?.ok === true && seconds.value > 0 ? { interval: seconds.value } : {}),
    ...(known("delimiter", DELIMITERS, delimiter, wrong) ? { delimiter: DELIMITERS[delimiter] } : {}),
    ...(known("decimal", DECIMALS, decimal, wrong) ? { decimal: DECIMALS[decimal] } : {}),
  };
  return { corrections, limits: readLimits(written.limits, wrong), issues };
}

type Wrong = (path: string, message: string, received: string, allowed: string, hint?: string | null) => void;

/** Whether a mark is given by a word of the table; a word that is none is told. */
function known<T extends object>(
  path: string,
  table: T,
  word: string | undefined,
  wrong: Wrong,
): word is string & keyof T {
  if (word === undefined) return false;
  if (Object.hasOwn(table, word)) return true;
  wrong(
    path,
    `There is no ${path === "decimal" ? "decimal mark" : path} of that name.`,
    word,
    Object.keys(table).join(", "),
  );
  return false;
}

function readTime(text: string, wrong: Wrong): LayoutCorrections {
  const [column = "", unit] = text.split(",").map((part) => part.trim());
  const time = column === "none" ? null : /^\d+$/.test(column) ? Number(column) : column;
  if (unit === undefined) return { time };
  if (columnUnit(unit)?.measures === "time" || isClock(unit)) return { time, timeUnit: plainUnit(unit) };
  wrong("time", "That is no unit of time.", unit, "s, ms, µs, ns, min, h, d, day first or month first");
  return { time };
}

const LONGEST_NAME = 80;
const SHAPE = "COLUMN: NAME, UNIT, ATTENUATION×, inverted, offset VALUE, A/V or mV/A or shunt RESISTANCE, deskew TIME";

function readChannel(text: string, wrong: Wrong): Partial<ChannelLayout> & { readonly column: number } {
  const match = /^\s*(\d+)\s*(?::(.*))?$/s.exec(text);
  if (match === null) {
    wrong("channel", "A channel begins with the number of its column.", text.trim(), SHAPE);
    return { column: 1 };
  }
  let channel: Partial<ChannelLayout> & { readonly column: number } = { column: Number(match[1]) };
  for (const part of (match[2] ?? "").split(",").map((each) => each.trim())) {
    if (part === "") continue;
    const found = channelPart(part);
    if (found === "no shunt") wrong("channel", "The resistance of a shunt is more than nothing.", part, SHAPE);
    else if (found !== null) channel = { ...channel, ...found };
    else if (channel.name !== undefined || !/^[^\d.+-]/.test(part))
      wrong("channel", "This says nothing about a channel.", part, SHAPE);
    else if (part.length <= LONGEST_NAME && visible(part) === part) channel = { ...channel, name: part };
    else
      wrong("channel", "A channel cannot be called that.", part, `up to ${LONGEST_NAME} characters that can be seen`);
  }
  return channel;
}

/** What one word or value says; null: nothing that is known. */
function channelPart(part: string): Partial<ChannelLayout> | "no shunt" | null {
  if (part === "inverted") return { inverted: true };
  const times = /^(?:(\d+(?:\.\d+)?)\s*[×x]|[×x]\s*(\d+(?:\.\d+)?))$/i.exec(part);
  const attenuation = Number(times?.[1] ?? times?.[2] ?? 0);
  if (attenuation > 0) return { attenuation };
  const [, word = "", rest = ""] = /^(offset|deskew|shunt)\s+(\S.*)$/s.exec(part) ?? [];
  if (word === "deskew")
    return quantity(rest.replace(/^-\s*/, ""), "time", (value) => ({ deskew: rest.startsWith("-") ? -value : value }));
  if (word === "shunt")
    return quantity(rest, "resistance", (value) => (value > 0 ? { amperesPerVolt: 1 / value } : ("no shunt" as const)));
  if (word === "offset")
    return quantity(rest, "voltage", (offset) => ({ offset })) ?? quantity(rest, "current", (offset) => ({ offset }));
  const amperesPerVolt = scaleOf(part);
  if (amperesPerVolt !== null) return { amperesPerVolt };
  const unit = columnUnit(part);
  return unit === null || unit.measures === "time" ? null : { unit: plainUnit(part) };
}

function quantity<T>(
  text: string,
  dimension: "time" | "voltage" | "current" | "resistance",
  use: (value: number) => T,
): T | null {
  const parsed = parseQuantity(text, dimension);
  return parsed.ok ? use(parsed.value) : null;
}

function readLimits(text: string | undefined, wrong: Wrong): CaptureLimits {
  if (text === undefined) return { low: null, high: null };
  const allowed = "11.7…15.9 V, …15.9 V or 15.9 V";
  const parts = text.split(/…|\.{2,3}|\bto\b|–/).map((part) => part.trim());
  const upper = parts[parts.length - 1];
  const high = parseQuantity(upper, "voltage");
  const unit = /[^\d.\s+-].*$/s.exec(upper)?.[0] ?? "V";
  const lower = parts.length > 1 ? parts[0] : "";
  const low = lower === "" ? null : parseQuantity(/\d$/.test(lower) ? `${lower} ${unit}` : lower, "voltage");
  if (parts.length > 2 || !high.ok || low?.ok === false) {
    const unread = parts.length > 2 ? null : [high, low].find((end) => end?.ok === false);
    const why = unread?.ok === false ? ` ${unread.message}` : "";
    const hint = unread?.ok === false && unread.code === "missing-unit" ? `write \`${text.trim()} V\`` : null;
    wrong("limits", `These are no limits of a voltage.${why}`, text, allowed, hint);
    return { low: null, high: null };
  }
  if (low?.ok === true && low.value >= high.value)
    wrong("limits", "The lower limit is not below the upper one.", text, "the lower one first: 11.7…15.9 V");
  return { low: low?.ok === true ? low.value : null, high: high.value };
}
