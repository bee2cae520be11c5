import { groupDigits } from "../../units/index.ts";

interface TimeUnit {
  readonly name: string;
  readonly seconds: number;
}

const units: readonly TimeUnit[] = [
  { name: "h", seconds: 3600 },
  { name: "min", seconds: 60 },
  { name: "s", seconds: 1 },
  { name: "ms", seconds: 1e-3 },
  { name: "µs", seconds: 1e-6 },
  { name: "ns", seconds: 1e-9 },
];

/** The largest unit that people would use: minutes and hours from two on or for exactly one. */
export function timeUnit(seconds: number): TimeUnit {
  const size = Math.abs(seconds) * (1 + 1e-9);
  const exactlyOne = (unit: TimeUnit) => Math.abs(size - unit.seconds) < 1e-6 * unit.seconds;
  const found = units.find((u) => size >= u.seconds * (u.seconds >= 60 ? 2 : 1) || exactlyOne(u));
  return found ?? (size === 0 ? units[2] : units[units.length - 1]);
}

function withoutTrailingZeros(text: string): string {
  if (!text.includes(".")) return text;
  let end = text.length;
  while (text[end - 1] === "0") end -= 1;
  return text.slice(0, text[end - 1] === "." ? end - 1 : end);
}

/** Significant digits without an exponent: 1.03, 12.5, 1234. */
export function formatNumber(value: number, digits = 3): string {
  if (value === 0) return "0";
  const decimals = Math.max(0, digits - 1 - Math.floor(Math.log10(Math.abs(value))));
  const text = withoutTrailingZeros(value.toFixed(Math.min(decimals, 12)));
  return groupDigits(text.replace(/^-/, "−").replace(/^−0$/, "0"));
}

/** A time span in words people use: `1.03 ms`, `12.5 s`, `2.5 h`. */
export function formatTime(seconds: number, digits = 3): string {
  if (seconds === 0) return "0 s";
  const unit = timeUnit(seconds);
  return `${formatNumber(seconds / unit.seconds, digits)} ${unit.name}`;
}

/** A tick of a linear axis whose steps are `step`; all ticks of an axis share a unit. */
export function formatTick(seconds: number, unit: TimeUnit, step: number): string {
  const decimals = Math.max(0, Math.ceil(-Math.log10(step / unit.seconds) - 1e-9));
  const text = withoutTrailingZeros((seconds / unit.seconds).toFixed(Math.min(decimals, 12)));
  return /^-?0$/.test(text) ? "0" : `${text.replace(/^-/, "−")} ${unit.name}`;
}
