const NUMBER = /^[+-]?(?:\d+(?:\.\d*)?|\.\d+)(?:[eE][+-]?\d+)?$/;
const NOTHING = /^(?:|-+|n\/?a|nan|null|none)$/i;
const BEYOND = /^(?:[+-]?inf(?:inity)?|[+-]?∞|ol|o\.l\.?|over(?:load|flow|range)|clip(?:ped|ping)?)$/i;

/** What a cell says: a number, nothing at all, that the instrument was out of its range, or what is no value. */
export type CellMeaning = number | "nothing" | "beyond" | "text";

/** Reads a cell of numbers with the decimal mark of its file. */
export function cellMeaning(cell: string, decimal: "." | ","): CellMeaning {
  const text = cell.trim();
  if (NOTHING.test(text)) return "nothing";
  const plain = decimal === "," ? text.replace(",", ".") : text;
  if (NUMBER.test(plain) && !(decimal === "," && text.includes("."))) {
    const value = Number(plain);
    return Number.isFinite(value) ? value : "beyond";
  }
  return BEYOND.test(text) ? "beyond" : "text";
}

const CLOCK = /^(?:(\d{4})-(\d{1,2})-(\d{1,2})[T ]+)?(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d*)?))?Z?$/;

/** A date with a time of day, or a time of day alone, as seconds; null where it is none. Written from the largest part to the smallest. */
export function clockSeconds(cell: string): number | null {
  const match = CLOCK.exec(cell.trim());
  if (match === null) return null;
  const [year, month, day, hour, minute, second] = match
    .slice(1)
    .map((part) => (part === undefined ? null : Number(part.replace(",", "."))));
  const days = year === null || year === undefined ? 0 : Date.UTC(year, (month ?? 1) - 1, day ?? 1) / 86_400_000;
  const ofDay = 3600 * (hour ?? 0) + 60 * (minute ?? 0) + (second ?? 0);
  return (hour ?? 0) > 23 || (minute ?? 0) > 59 || ofDay >= 86_401 ? null : 86_400 * days + ofDay;
}
