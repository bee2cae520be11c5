import { parseQuantity } from "../../units/index.ts";
import type { PreambleLine } from "../types.ts";
import type { HeadLine } from "./head.ts";

/** Lines above a table as keys with their values: `key,value,unit`, `key: value`, `key = value`. */
export function preambleOf(lines: readonly HeadLine[]): PreambleLine[] {
  return lines.flatMap(({ line, cells }) => {
    const filled = cells.map((cell) => cell.trim()).filter((cell) => cell !== "");
    if (filled.length === 0) return [];
    const [first = "", ...rest] = filled;
    const key = first.replace(/^[#%;]\s*/, "");
    if (rest.length > 0) return [{ line, key: key.replace(/[:=]$/, "").trim(), value: rest.join(" ") }];
    const match = /^([^:=]+)[:=](.*)$/s.exec(key);
    return match === null
      ? [{ line, key: key.trim(), value: "" }]
      : [{ line, key: (match[1] ?? "").trim(), value: (match[2] ?? "").trim() }];
  });
}

/** What is surely the time between samples, and what may be if nothing else is; a trigger has intervals of its own. */
const SAMPLES = /\bsampl(?:e[drs]?|ing) (?:interval|period|spacing|time)\b|\b(?:increment|time step|dt)\b|Δt/i;
const INTERVAL = /\b(?:interval|period)\b/i;
const OTHERS = /\b(?:trigger|horizontal|display|timebase)\b/i;
const RATE = /\bsampl(?:e[drs]?|ing) (?:rate|frequency)\b/i;
const FREQUENCY = /^([+-]?[\d.]+(?:e[+-]?\d+)?)\s*(?:([kMG])\s*)?(?:Hz|S\/s|Sa\/s|samples\/s|1\/s)?$/i;
const PREFIX: Readonly<Record<string, number>> = { "": 1, k: 1e3, K: 1e3, M: 1e6, G: 1e9 };

/** The sample interval that a preamble tells, s, and the line that does; a number without a unit is taken for seconds. */
export function intervalIn(
  preamble: readonly PreambleLine[],
  decimal: "." | ",",
): { readonly interval: number; readonly line: PreambleLine } | null {
  const told = preamble.flatMap((line) => {
    const written = decimal === "," ? line.value.replace(",", ".") : line.value;
    const sure = SAMPLES.test(line.key) || RATE.test(line.key);
    if (!sure && (!INTERVAL.test(line.key) || OTHERS.test(line.key))) return [];
    const interval = RATE.test(line.key) ? perRate(written, line.key) : seconds(written, line.key);
    return interval === null ? [] : [{ interval, line, sure }];
  });
  return told.find(({ sure }) => sure) ?? told[0] ?? null;
}

function unitOfKey(key: string): string {
  return /[([]([^()[\]]+)[)\]]\s*$/.exec(key)?.[1] ?? "";
}

function seconds(written: string, key: string): number | null {
  const number = Number(written);
  const text = written !== "" && Number.isFinite(number) ? `${written} ${unitOfKey(key) || "s"}` : written;
  const parsed = parseQuantity(text, "time");
  return parsed.ok && parsed.value > 0 ? parsed.value : null;
}

function perRate(written: string, key: string): number | null {
  const match = FREQUENCY.exec(Number.isFinite(Number(written)) ? `${written} ${unitOfKey(key)}`.trim() : written);
  const rate = Number(match?.[1] ?? Number.NaN) * (PREFIX[match?.[2] ?? ""] ?? Number.NaN);
  return rate > 0 && Number.isFinite(rate) ? 1 / rate : null;
}
