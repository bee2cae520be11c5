import { type Dimension, formatQuantity, parseQuantity } from "@railfault/sim";
import { range } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";

export interface ViewRangeOptions {
  /** Key of the page's view, where the value is kept as a text with its unit; empty: the default. */
  readonly key: string;
  readonly label: string;
  readonly help?: string;
  readonly dimension: Dimension;
  readonly min: number;
  readonly max: number;
  /** Distance of the stops; left out: stops of the E24 series. */
  readonly step?: number;
  /** What holds as long as nobody has moved the slider, in SI units, and where that comes from. */
  readonly usual: (now: LineNow) => { readonly value: number; readonly source: string };
}

const DIGITS = 5;

/** What a text of the address says, in SI units; null where it says nothing that the slider offers. */
export function inRange({ dimension, min, max }: Omit<ViewRangeOptions, "usual">, text: string): number | null {
  const read = parseQuantity(text, dimension);
  return read.ok && read.value >= min && read.value <= max ? read.value : null;
}

/** The value of a page's slider that is no part of the line, in SI units. What an address wishes beyond its range counts for nothing. */
export function viewValue(opened: OpenedLine, options: ViewRangeOptions): number {
  return inRange(options, opened.view(options.key)) ?? options.usual(opened.line.now).value;
}

/**
 * A slider for a value that is looked at and no part of the line; it is kept in the address.
 *
 * @throws RangeError as `range` does
 * @example viewRange(opened, { key: "limit", label: "Charge limit", dimension: "voltage", min: 13, max: 16, step: 0.1, usual })
 */
export function viewRange(opened: OpenedLine, options: ViewRangeOptions) {
  const { key, label, help, dimension, min, max, step, usual } = options;
  const text = (value: number): string => formatQuantity(value, dimension, { digits: DIGITS });
  const seen = (now: LineNow) => {
    const { value, source } = usual(now);
    return { value: viewValue(opened, options), initial: value, source };
  };
  const control = range(document, {
    label,
    min,
    max,
    ...(step === undefined ? { log: true } : { step }),
    ...(help === undefined ? {} : { help }),
    format: text,
    parse: (typed) => {
      const parsed = parseQuantity(typed, dimension);
      if (!parsed.ok) throw new Error(parsed.message);
      return parsed.value;
    },
    ...seen(opened.line.now),
  });
  control.addEventListener("input", () => {
    const same = text(control.value) === text(usual(opened.line.now).value);
    opened.look({ [key]: same ? "" : text(control.value) });
  });
  opened.line.follow((now) => control.update(seen(now)));
  return control;
}
