import { groupDigits } from "../../units/index.ts";
import { blocksOf, placeTags } from "./state-tags.ts";
import { keepUnits, textWidth, wrap } from "./text.ts";
import type { TimeAxis } from "./time-axis.ts";
import { formatTime } from "./time-format.ts";
import type { StateRow } from "./types.ts";

/** The states of a row that found no room in its bar, in words. */
export interface RowNote {
  readonly lines: readonly string[];
  /** Whether it stands on the line of the device's name. */
  readonly beside: boolean;
}

export const noNote: RowNote = { lines: [], beside: true };

const typeSize = 12;
const gap = 14;

interface Unwritten {
  readonly tag: string;
  /** When it began each time, s; null: it stood when the picture begins. */
  readonly from: readonly (number | null)[];
}

/** What the bar does not say, in order of time. */
function unwritten(axis: TimeAxis, { spans }: StateRow): Unwritten[] {
  const written = new Set(placeTags(blocksOf(axis, spans)).map(({ text }) => text));
  const seen = spans.filter(({ from, to }) => to > axis.from && from < axis.to);
  const tags = [...new Set(seen.map(({ tag }) => tag))].filter((tag) => !written.has(tag));
  return tags.map((tag) => {
    const own = seen.filter((span) => span.tag === tag);
    return { tag, from: own.map(({ from }) => (from <= axis.from ? null : from)) };
  });
}

/** From this many on their times are no longer told. */
const often = 4;

/** The wordings of a note, the one that tells most first. */
function wordings(states: readonly Unwritten[], zero: number): string[] {
  const at = (from: number | null) =>
    from === null ? "at first" : `at ${from < zero ? "−" : ""}${formatTime(Math.abs(from - zero))}`;
  const told = states.map(({ tag, from }) =>
    from.length < often ? `${tag} ${from.map(at).join(" and ")}` : `${tag} ${groupDigits(String(from.length))} times`,
  );
  const counted = states.map(({ tag, from }) =>
    from.length > 1 ? `${tag}\u00a0×${groupDigits(String(from.length))}` : tag,
  );
  return [told.join(", "), counted.join(", ")].map(keepUnits);
}

/**
 * Where the bar has no room for a state, a note beside it (wide) or at the device's name (narrow) tells it.
 *
 * @param zero the instant after which times are counted, s
 * @param room of a line, CSS pixels
 * @param form whether it stands at the name, and below it where it does not fit there; `close`: one line, of the latest states where not all find room
 */
export function rowNote(
  axis: TimeAxis,
  row: StateRow,
  zero: number,
  room: number,
  form: "wide" | "narrow" | "close",
): RowNote {
  const states = unwritten(axis, row);
  if (states.length === 0) return noNote;
  const texts = wordings(states, zero);
  const narrow = form === "narrow";
  const rest = narrow ? room - textWidth(row.label, typeSize) - gap : room;
  const inOne = texts.find((text) => textWidth(text, typeSize) <= rest);
  if (inOne !== undefined) return { lines: [inOne], beside: true };
  if (form === "close") return { lines: latest(states, zero, room), beside: true };
  for (const text of texts) {
    const lines = wrap(text, typeSize, room, 3);
    const whole = !lines.some((line) => line.includes("…"));
    if (whole && lines.length <= 2) return { lines, beside: !narrow };
  }
  return { lines: wrap(texts[1], typeSize, room, 2), beside: !narrow };
}

function latest(states: readonly Unwritten[], zero: number, room: number): string[] {
  const shorter = states.map((_, i) => wordings(states.slice(i), zero)[1]);
  return shorter.filter((text) => textWidth(text, typeSize) <= room).slice(0, 1);
}
