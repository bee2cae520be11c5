import { type Dimension, findSpelling, formatQuantity } from "../../units/index.ts";
import type { Extreme, Measured } from "./types.ts";

/** What a channel of this unit measures. */
export function dimensionOf(unit: "V" | "A"): "voltage" | "current" {
  return unit === "V" ? "voltage" : "current";
}

/** Of a value, what no double in a file is better than. */
const DOUBLE = 1e-12;

/** Behind the point of the smallest unit; what is finer than that was never measured. */
const MOST_PLACES = 20;

/** Intervals that differ by less to both sides are told as one ±. */
const EVEN = 0.05;

/**
 * A figure as a person reads it, with as many digits as it has: `14.88 V ± 0.03 V`, `35.2 µs ± 0.4 µs`. The uncertainty is rounded up to one digit, to two
 * where the first is a 1; more would say nothing (JCGM 100:2008, 7.2.6). A time that is less than it may be off by: `within ± 0.6 ms`. Without an uncertainty: the
 * value alone.
 */
export function measuredText({ value, plusMinus }: Measured, dimension: Dimension): string {
  if (!isKnown(value, plusMinus)) return formatQuantity(value, dimension, { digits: 4 });
  if (dimension === "time" && Math.abs(value) < plusMinus)
    return `within ± ${upTo(Math.abs(value) + plusMinus, "time")}`;
  const { behind, fixed, up } = written(Math.max(Math.abs(value), plusMinus), plusMinus, dimension);
  return `${fixed(value)}${behind} ± ${up(plusMinus)}${behind}`;
}

/** How long something lasted, which is never less than nothing: `35.2 µs ± 0.4 µs`, `up to 0.6 ms`. */
export function lengthText(length: Measured): string {
  const { value, plusMinus } = length;
  if (!isKnown(value, plusMinus) || value >= plusMinus) return measuredText(length, "time");
  return `up to ${upTo(value + plusMinus, "time")}`;
}

/**
 * An extreme: `14.88 V ± 0.03 V`, or where that differs to both sides `14.88 V (true peak 14.85…15.02 V)`; where nobody knows how far it went, `at least 14.88 V
 * ± 0.03 V`.
 *
 * @param side which of both extremes it is
 * @param truth what to call the curve's own extreme; empty where there is no room
 */
export function extremeText(
  { value, minus, plus }: Omit<Extreme, "time" | "alone">,
  dimension: Dimension,
  side: "highest" | "lowest",
  { open, truth }: { readonly open: boolean; readonly truth: boolean },
): string {
  const high = side === "highest";
  if (open)
    return `${high ? "at least" : "at most"} ${measuredText({ value, plusMinus: high ? minus : plus }, dimension)}`;
  const larger = Math.max(minus, plus);
  if (Math.abs(minus - plus) <= EVEN * larger || !isKnown(value, larger))
    return measuredText({ value, plusMinus: larger }, dimension);
  const { behind, fixed, up, down } = written(Math.max(Math.abs(value), larger), 0.1 * (minus + plus), dimension);
  const name = !truth ? "" : high ? "true peak " : "true lowest ";
  return `${fixed(value)}${behind} (${name}${down(value - minus)}…${up(value + plus)}${behind})`;
}

/** An instant, with as many digits as samples so far apart have. */
export function momentText(time: number, interval: number): string {
  if (isKnown(time, interval) && Math.abs(time) < interval) return `0 s ± ${upTo(interval, "time")}`;
  return measuredText({ value: time, plusMinus: interval }, "time").split(" ± ")[0] ?? "";
}

function isKnown(value: number, plusMinus: number): boolean {
  // Digits beyond those of a double say nothing.
  return Number.isFinite(plusMinus) && plusMinus > DOUBLE * Math.max(Math.abs(value), Math.abs(plusMinus));
}

function upTo(value: number, dimension: Dimension): string {
  const { behind, up, factor } = written(value, value, dimension);
  const text = up(value);
  // Rounded up it may have reached the next unit: 970 µs are told as 1.0 ms.
  const rounded = Number(text) * factor;
  const next = written(rounded, rounded, dimension);
  return next.behind === behind ? `${text}${behind}` : `${next.up(rounded)}${next.behind}`;
}

/** How values near `size` are written that may be off by `off`. */
function written(size: number, off: number, dimension: Dimension) {
  const unit = unitFor(size, dimension);
  const factor = findSpelling(unit, dimension)?.factor ?? 1;
  const digit = Math.floor(Math.log10(off / factor));
  const places = Math.min(MOST_PLACES, off / factor / 10 ** digit < 1.95 ? 1 - digit : -digit);
  const grain = 10 ** -places;
  const text = (number: number): string => (number * grain).toFixed(Math.max(0, places)).replace(/^-(?=[0.]*$)/, "");
  return {
    factor,
    behind: unit === "" ? "" : ` ${unit}`,
    fixed: (value: number): string => text(Math.round(value / factor / grain)),
    up: (value: number): string => text(Math.ceil(value / factor / grain - 1e-6)),
    down: (value: number): string => text(Math.floor(value / factor / grain + 1e-6)),
  };
}

/** The unit in which a value would be written by itself; seconds stay seconds, however many. */
function unitFor(value: number, dimension: Dimension): string {
  if (dimension === "time" && value >= 59) return "s";
  return formatQuantity(value, dimension).replace(/^[-\d.e]+ ?/, "");
}
