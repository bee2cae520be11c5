const DATE =
  /^(?:(\d{4})([-/.])(\d{1,2})\2(\d{1,2})|(\d{1,2})(?:([-/.])(\d{1,2})\6(\d{4})|([/.])(\d{1,2})\9(\d{2})))(?:[T ,]+|$)/;
const OF_DAY = /^(\d{1,2}):(\d{2})(?::(\d{2}(?:[.,]\d*)?))?(?:\s*([AaPp])\.?[Mm]\.?|Z)?$/;
const DAY = 86_400;

/** How dates are written that begin with neither the year nor, by their dots, the day; `clock` leaves that open. */
export type DateOrder = "clock" | "day first" | "month first";

/** Whether a time column holds dates or times of day. */
export function isClock(unit: string): unit is DateOrder {
  return unit === "clock" || unit === "day first" || unit === "month first";
}

/** A cell with a date, a time of day or both. */
export interface Clock {
  readonly holds: "date" | "time" | "both";
  /** s; of a date since 1970, of a time of day alone since midnight. */
  readonly seconds: number;
  /** How finely it is written, s. */
  readonly step: number;
  /** A date that may begin with the day or the month. */
  readonly open: string | null;
}

/** Reads dates with their largest or smallest part first, times of day of 24 or 12 hours; null where a cell holds neither. */
export function clockOf(cell: string, order: DateOrder = "clock"): Clock | null {
  const text = cell.trim();
  // Nearly every cell is a number.
  if (!/^\d{1,4}[-/.:]\d/.test(text)) return null;
  const match = DATE.exec(text);
  const date = match === null ? null : dateOf(match, order);
  if (match !== null && date === null) return null;
  const rest = text.slice(match?.[0].length ?? 0);
  if (rest === "") return date === null ? null : { ...date, holds: "date", step: DAY };
  const [, hour, minute, second, half] = OF_DAY.exec(rest) ?? [];
  if (hour === undefined || minute === undefined) return null;
  const hours = half === undefined ? Number(hour) : (Number(hour) % 12) + (half.toLowerCase() === "p" ? 12 : 0);
  const ofDay = 3600 * hours + 60 * Number(minute) + Number((second ?? "0").replace(",", "."));
  if (hours > 23 || Number(minute) > 59 || ofDay >= DAY + 1 || (half !== undefined && Number(hour) > 12)) return null;
  return {
    holds: date === null ? "time" : "both",
    seconds: (date?.seconds ?? 0) + ofDay,
    step: second === undefined ? 60 : 10 ** -Math.max(0, second.length - 3),
    open: date?.open ?? null,
  };
}

function dateOf(match: RegExpExecArray, order: DateOrder): Pick<Clock, "seconds" | "open"> | null {
  const [whole, year, , month, day] = match;
  if (year !== undefined) return days(Number(year), Number(month), Number(day), null);
  const [first, second] = [Number(match[5]), Number(match[7] ?? match[10])];
  const written = match[8] ?? `20${match[11]}`;
  const isOpen = (match[6] ?? match[9]) !== ".";
  const isDayFirst = !isOpen || order === "day first" || (order === "clock" && first > 12);
  const [d, m] = isDayFirst ? [first, second] : [second, first];
  return days(Number(written), m, d, isOpen ? (whole.split(/[T ,]/)[0] ?? "") : null);
}

function days(year: number, month: number, day: number, open: string | null): Pick<Clock, "seconds" | "open"> | null {
  return month < 1 || month > 12 || day < 1 || day > 31
    ? null
    : { seconds: Date.UTC(year, month - 1, day) / 1000, open };
}

/** What dates of a column prove about their order, a part above 12 being no month; `clock` where they prove nothing. */
export function dateOrderOf(cells: readonly string[]): DateOrder {
  const parts = cells.flatMap((cell) => {
    const open = clockOf(cell)?.open;
    return open == null ? [] : [open.split(/[-/]/).map(Number)];
  });
  const isDay = parts.some(([first]) => first > 12);
  const isMonth = parts.some(([, second]) => second > 12);
  return isDay === isMonth ? "clock" : isDay ? "day first" : "month first";
}
