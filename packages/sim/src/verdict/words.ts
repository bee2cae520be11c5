import type { Subject } from "../model/result.ts";
import { apart, type Dimension, formatQuantity, groupDigits, the } from "../units/index.ts";

export { capital, the } from "../units/index.ts";

/** Below this nothing that a verdict speaks of can be told from zero, in SI units. */
const NOTHING = 1e-15;

/** A value with its unit, as a person reads it; `digits`: significant digits. */
export function show(value: number, dimension: Dimension, digits = 3): string {
  // What is left of a decay to zero would read like a measurement.
  return groupDigits(formatQuantity(Math.abs(value) < NOTHING ? 0 : value, dimension, { digits }));
}

/** Two values with as many digits as keep them apart (at most 6): a peak of 15.91 V beside a maximum of 15.9 V. */
export const showApart = (a: number, b: number, dimension: Dimension): readonly [string, string] =>
  apart(a, b, (value, digits) => show(value, dimension, digits));

/** A time from µs to hours: `33.7 µs`, `3.2 s`, `4 min 12 s`, `2 h 14 min`. */
export function duration(seconds: number, digits = 3): string {
  return formatQuantity(seconds, "time", { digits });
}

/** A long time said twice, so that nobody has to convert: `48 s (0.8 min)`, `4 min (240 s)`, `12 min (0.2 h)`; a short one once, and one of hours and minutes: `2 h 14 min`. */
export function longTime(seconds: number): string {
  const rough = (value: number, digits: number): string => groupDigits(String(Number(value.toPrecision(digits))));
  if (seconds < 10) return duration(seconds, 2);
  if (seconds < 120) return `${rough(seconds, 2)} s (${rough(seconds / 60, 2)} min)`;
  if (seconds < 360) return `${rough(seconds / 60, 2)} min (${Math.round(seconds)} s)`;
  // From here on it would read as 60 minutes.
  if (seconds < 59.5 * 60) return `${rough(seconds / 60, 2)} min (${rough(seconds / 3600, 2)} h)`;
  if (seconds < 1e5) return duration(Math.max(seconds, 3600));
  return `${rough(seconds / 3600, 2)} h (${rough(seconds / 86400, 2)} days)`;
}

/** `once`, `twice`, `17 times`. */
export function times(count: number): string {
  return count === 1 ? "once" : count === 2 ? "twice" : `${groupDigits(String(count))} times`;
}

/** `1 trip`, `2 trips`. */
export function counted(count: number, noun: string, plural = `${noun}s`): string {
  return `${groupDigits(String(count))} ${count === 1 ? noun : plural}`;
}

/** The part in the trade's words, without article: `main fuse`, `in-line fuse of the battery`. */
export function partName(subject: Subject): string {
  const owner = subject.owner === "" ? "" : the(subject.owner);
  switch (subject.part) {
    case "line":
      return "line";
    case "source":
    case "load":
      return subject.owner;
    case "in-line fuse":
      return `in-line fuse of ${owner}`;
    case "own crowbar":
      return `own crowbar of ${owner}`;
    case "load clamp":
      return `clamp at ${owner}`;
    default:
      return subject.part;
  }
}
