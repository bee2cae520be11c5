import { type Dimension, formatQuantity, groupDigits, type Issue, type Run } from "@railfault/sim";
import { unbroken } from "../../show/words.ts";

/** A time with its unit, as a person reads it. */
export const time = (value: number, digits = 3): string => formatQuantity(value, "time", { digits });

/** How long after the fault an instant of a run is, as a person reads it. */
export const since = (run: Run, instant: number): string => time(instant - run.scenario.faultTime);

const DIGITS = 3;
const MOST_DIGITS = 6;

/** Two values with as many digits as it takes to tell them apart. */
export function apart(a: number, b: number, dimension: Dimension): readonly [string, string] {
  for (let digits = DIGITS; ; digits++) {
    const [one, other] = [a, b].map((value) => formatQuantity(value, dimension, { digits }));
    if (one !== other || digits === MOST_DIGITS || a === b) return [one, other];
  }
}

const MINUTE = 60;
const HOUR = 3600;
const DAY = 24 * HOUR;

/** A time known to two digits, in one unit: `20 s`, `13 min`, `8.8 h`. */
export function roughTime(value: number): string {
  const rough = (part: number): string => String(Number(part.toPrecision(2)));
  const seconds = Number(rough(value));
  if (seconds < MINUTE) return time(seconds, 2);
  if (seconds <= 2 * MINUTE) return `${rough(value)} s`;
  if (seconds < 2 * HOUR) return `${rough(value / MINUTE)} min`;
  return seconds < 2 * DAY ? `${rough(value / HOUR)} h` : `${rough(value / DAY)} days`;
}

/** Thousands are set apart by a thin blank that breaks no line, from five digits on, as verdicts do. */
export const grouped = (value: number): string => groupDigits(String(value));

/** The same text, with numbers, their thousands and their units kept on one line. */
export function whole(text: string): string {
  const thousands = text.replace(/(\d) (?=\d{3}(?!\d))/g, "$1\u202f");
  return unbroken(thousands.replace(/(\d) (?=days\b)/g, "$1\u00a0").replace(/(\d h) (?=\d\d? min\b)/g, "$1\u00a0"));
}

export { capital, the } from "../../show/beside.ts";

/** In the middle of a sentence; what begins with several capitals keeps them. */
export const small = (text: string): string => text.replace(/^\p{Lu}(?!\p{Lu})/u, (first) => first.toLowerCase());

/** Why there is no run: what forbids it, not what is only warned of beside it. */
export function whyRefused(issues: readonly Issue[]): string {
  const issue = issues.find(({ severity }) => severity === "error") ?? issues[0];
  return issue?.message ?? "not possible in this line.";
}

export const counted = (count: number): string => (count === 1 ? "once" : `${count} times`);

export function listed(words: readonly string[]): string {
  return words.length < 2 ? words.join("") : `${words.slice(0, -1).join(", ")} and ${words.at(-1)}`;
}
