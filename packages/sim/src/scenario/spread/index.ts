import { type Dimension, formatQuantity, nearest, parseQuantity } from "../../units/index.ts";
import { findSpelling } from "../../units/table.ts";
import { type DescribedValue, describeValue } from "../describe.ts";
import { type Path, pathText } from "../keys.ts";
import { senseFilterCalled } from "../parts/sense.ts";
import { outOfRange } from "../schema/leaf.ts";
import { keysAt, shapesAt } from "../schema/walk.ts";
import type { Sheet } from "../sheet.ts";
import { withChange } from "../text/expected.ts";
import { readPath } from "./read-path.ts";
import { type Nominal, type ReadSpread, readSpread } from "./read-spread.ts";
import type { Spread } from "./types.ts";

/** More values than this are not spread in one scenario. */
export const MOST_SPREADS = 40;

/** Names the key of a file under which spreads stand. */
export const TOLERANCES = "tolerances";

/**
 * The spreads of a scenario: what stands under `tolerances`, each path found and each text read; every problem goes onto the sheet.
 *
 * @param sheet of this reading, with its origins and exact amounts
 * @param written the scenario as plain data
 * @param tolerances path texts with spreads
 * @param ambient of the complete scenario, °C
 */
export function spreadsOf(
  sheet: Sheet,
  written: unknown,
  tolerances: Readonly<Record<string, string>>,
  ambient: number,
): readonly Spread[] {
  const found = new Map<string, string>();
  const entries = Object.entries(tolerances);
  if (entries.length > MOST_SPREADS) {
    sheet.error("too-many", [TOLERANCES], "More values carry a spread than can be told apart.", {
      received: `${entries.length} values`,
      allowed: `at most ${MOST_SPREADS}`,
      at: "key",
    });
    return [];
  }
  const told = entries.flatMap(([key, text]): readonly Told[] => {
    const value = spreadable(sheet, written, key);
    if (value === null) return [];
    const { path, label, nominal } = value;
    const known = found.get(pathText(path));
    if (known !== undefined) {
      const message = `Two spreads for one value: \`${known}\` says the same place.`;
      sheet.error("spread-twice", [TOLERANCES, key], message, { hint: "delete one of the two", at: "key" });
      return [];
    }
    found.set(pathText(path), key);
    const read = readSpread(text, { ...nominal, ambient });
    if ("code" in read) {
      const { code, message, allowed, hint } = read;
      sheet.error(code, [TOLERANCES, key], message, { allowed, hint });
      return [];
    }
    const { dimension, unit, value: at } = nominal;
    if (!endsMayStand(sheet, value, read, key)) return [];
    return [{ key, spread: { path, label, dimension, unit, nominal: at, ...read, written: text } }];
  });
  driftWithoutRange(sheet, told);
  return told.map(({ spread }) => spread);
}

/** Whether both ends may stand where the value stands; else samples beyond would be lines that nobody can run. */
function endsMayStand(sheet: Sheet, { path, nominal }: Spreadable, { low, high }: ReadSpread, key: string): boolean {
  const { dimension, unit } = nominal;
  const shapes = shapesAt(path).flatMap((shape) => (shape.kind === "quantity" ? [shape] : []));
  for (const [which, end] of [
    ["lower", low],
    ["upper", high],
  ] as const) {
    const text = valueText(end, unit);
    const complaints = shapes.map(({ range }) => outOfRange(amountIn(text, dimension), dimension, range));
    const [complaint = null] = complaints;
    if (complaint === null || complaints.includes(null)) continue;
    const message = `The ${which} end of this spread is ${text}. ${complaint.message}`;
    sheet.error("out-of-range", [TOLERANCES, key], message, { allowed: complaint.allowed, hint: null });
    return false;
  }
  return true;
}

/** A spread with the path under which it stands. */
interface Told {
  readonly key: string;
  readonly spread: Spread;
}

/** A single value that can take any number around it. */
export interface Spreadable {
  readonly path: Path;
  readonly label: string;
  readonly nominal: Pick<Nominal, "dimension" | "value" | "unit">;
}

/** Finds the value that a key names; what is wrong with it goes onto the sheet, at the key. */
function spreadable(sheet: Sheet, written: unknown, key: string): Spreadable | null {
  const found = findValue(key, { written, origins: sheet.origins, amounts: sheet.amounts });
  if ("path" in found) return found;
  const { code, message, ...details } = found;
  const path = readPath(key, written);
  // What a part class that is not known would have given is not missed a second time.
  if (code === "no-such-value" && path !== null && sheet.hasErrorAt(path.slice(0, typeof path[1] === "number" ? 2 : 1)))
    return null;
  sheet.error(code, [TOLERANCES, key], message, { ...details, at: "key" });
  return null;
}

/** What `findValue` looks into: part of what a reading gave. */
export type Readings = Parameters<typeof describeValue>[0] & { readonly amounts: ReadonlyMap<string, number> };

/** Why a path leads to no value that may be changed. */
export interface NoValue {
  readonly code: string;
  readonly message: string;
  readonly received: string;
  readonly allowed: string | null;
  readonly hint: string | null;
}

/**
 * The number at a path of a scenario, be it written, of a part class or a default, with the unit in which it is written.
 *
 * @param text a path as `readPath` takes it
 * @param readings of the scenario
 * @example findValue("crowbar.trip voltage", parsed) // { path, label: "crowbar: trip voltage", nominal: { value: 15, unit: "V", … } }
 */
export function findValue(text: string, readings: Readings): Spreadable | NoValue {
  const { written, origins, amounts } = readings;
  const allowed = "a path to a number: `crowbar.trip voltage`, `sources[0].set voltage`, `relay radio.lead.length`";
  const no = (code: string, message: string, hint: string | null = null): NoValue => ({
    code,
    message,
    received: text.slice(0, 80),
    allowed,
    hint,
  });
  const path = readPath(text, written);
  if (path === null) return no("unreadable-path", "This is no path to a value.");
  const value = describeValue(readings, path);
  if (value === null) return no("no-such-value", "No single value stands at this path.", nearTo(path, text, origins));
  const { dimension } = value;
  const called = senseFilterCalled(value.value);
  if (dimension === "time" && called !== null)
    return {
      path,
      label: value.label,
      nominal: { dimension, ...amountOf(asNumber(value, called), dimension, called, amounts) },
    };
  if (dimension === null || typeof value.value !== "number")
    return no("no-number", `\`${value.text.slice(0, 40)}\` is no number that could vary.`);
  if (dimension === "gauge")
    return no("no-number", "A gauge has steps only.", "write `area` instead of `gauge` in that lead, and spread that");
  return { path, label: value.label, nominal: { dimension, ...amountOf(value, dimension, value.value, amounts) } };
}

/** A word that stands for a time, as the time itself would have been written. */
const asNumber = (value: DescribedValue, called: number): DescribedValue => ({
  ...value,
  text: formatQuantity(called, "time"),
});

/** As it was written; of classes and defaults the exact figure, which the text may round. */
function amountOf(
  { path, text, origin }: DescribedValue,
  dimension: Dimension,
  value: number,
  amounts: Readings["amounts"],
): { value: number; unit: string } {
  const shown = origin === "file" ? text : formatQuantity(value, dimension);
  const unit = shown.replace(/^[+-]?[\d.]+(?:[eE][+-]?\d+)?/, "").trim();
  const spelling = dimension === "temperature" || unit === "" ? null : findSpelling(unit, dimension);
  const exact = origin === "file" ? value : (amounts.get(pathText(path)) ?? value);
  if (spelling === null) return { value: exact, unit: dimension === "temperature" ? "°C" : "" };
  const written = Number((exact / spelling.factor).toPrecision(12));
  return { value: written, unit };
}

function nearTo(path: Path, text: string, origins: Readings["origins"]): string | null {
  const last = String(path[path.length - 1]);
  const near = nearest(last, keysAt(path.slice(0, -1)));
  if (near !== null && near !== last) return `did you mean \`${text.slice(0, text.length - last.length)}${near}\`?`;
  const other = origins.find((each) => each.path.endsWith(`.${last}`));
  return other === undefined ? null : `did you mean \`${other.path}\`?`;
}

/** What drifts with the temperature does nothing where that stands still. */
function driftWithoutRange(sheet: Sheet, told: readonly Told[]): void {
  if (told.some(({ spread }) => pathText(spread.path) === "ambient")) return;
  for (const { key, spread } of told) {
    // Grades bring theirs along, for whoever has a range of temperatures.
    if (spread.drift === null || !spread.written.includes("with")) continue;
    const message = "A drift over temperature has no effect: the ambient temperature has no spread.";
    sheet.error("key-without-effect", [TOLERANCES, key], message, {
      hint: "add `ambient: -20…50 °C` to `tolerances`, or delete the drift",
    });
  }
}

/**
 * A number as it stands in a file with its unit.
 *
 * @param value in that unit; written with at most seven digits, so that the file reads well and the very same value is simulated
 * @example valueText(15.02135678, "V") // "15.02136 V"
 */
export function valueText(value: number, unit: string): string {
  return `${Number(value.toPrecision(7))} ${unit}`.trimEnd();
}

/** What `valueText` says, in SI units (temperatures in °C). @throws RangeError where it is no value of that kind */
export function amountIn(text: string, dimension: Nominal["dimension"]): number {
  const read = parseQuantity(text, dimension);
  if (!read.ok) throw new RangeError(`"${text}": ${read.message}`);
  return read.value;
}

/** The scenario as plain data with other texts at some paths; short forms give way. */
export function withValues(written: unknown, values: readonly (readonly [Path, string])[]): unknown {
  return values.reduce((data, [path, text]) => withChange(data, path, text), written);
}
