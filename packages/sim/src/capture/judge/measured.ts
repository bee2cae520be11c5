import { type Dimension, findSpelling, formatQuantity } from "../../units/index.ts";
import type { Measured } from "./types.ts";

/** What a channel of this unit measures. */
export function dimensionOf(unit: "V" | "A"): "voltage" | "current" {
  return unit === "V" ? "voltage" : "current";
}

/** Of a value, what no double in a file is better than. */
const DOUBLE = 1e-12;

/**
 * A figure as a person reads it, with as many digits as it has: `14.88 V ± 0.03 V`, `35.2 µs ± 0.4 µs`. The uncertainty is rounded up to one digit, to two
 * where the first is a 1; more would say nothing (JCGM 100:2008, 7.2.6). Without an uncertainty: the value alone.
 */
export function measuredText({ value, plusMinus }: Measured, dimension: Dimension): string {
  const larger = Math.max(Math.abs(value), Math.abs(plusMinus));
  // Digits beyond those of a double say nothing.
  const known = Number.isFinite(plusMinus) && plusMinus > DOUBLE * larger;
  if (!known) return formatQuantity(value, dimension, { digits: 4 });
  const unit = unitFor(larger, dimension);
  const factor = findSpelling(unit, dimension)?.factor ?? 1;
  const off = plusMinus / factor;
  const size = Math.floor(Math.log10(off));
  const places = off / 10 ** size < 1.95 ? 1 - size : -size;
  const grain = 10 ** -places;
  const up = Math.ceil(off / grain - 1e-6) * grain;
  const rounded = Math.round(value / factor / grain) * grain;
  const fixed = (number: number): string => number.toFixed(Math.max(0, places)).replace(/^-(?=[0.]*$)/, "");
  const behind = unit === "" ? "" : ` ${unit}`;
  return `${fixed(rounded)}${behind} ± ${fixed(up)}${behind}`;
}

/** An instant, with as many digits as samples so far apart have. */
export function momentText(time: number, interval: number): string {
  return measuredText({ value: time, plusMinus: interval }, "time").split(" ± ")[0] ?? "";
}

/** The unit in which a value would be written by itself; seconds stay seconds, however many. */
function unitFor(value: number, dimension: Dimension): string {
  if (dimension === "time" && value >= 59) return "s";
  return formatQuantity(value, dimension).replace(/^[-\d.e]+ ?/, "");
}
