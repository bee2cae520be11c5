import { type Dimension, formatQuantity } from "../../units/index.ts";
import type { Path } from "../keys.ts";
import type { Sheet } from "../sheet.ts";
import type { Scenario } from "../types.ts";
import { restVoltage } from "./errors.ts";

interface Usual {
  readonly dimension: Dimension;
  readonly least: number;
  /** `line`: three times what the line carries in normal service. */
  readonly most: number | "line";
}

const range = (dimension: Dimension, least: number, most: Usual["most"]): Usual => ({ dimension, least, most });

const VOLTAGE = range("voltage", 1, "line");
const FILTER = range("time", 1e-7, 0.1);
const CURRENT = range("current", 0.01, 1000);
const DELAY = range("time", 1e-8, 0.01);

/**
 * What a value of a 12 V line can mean, by the map that holds it and its key: an order of magnitude beyond what is sold and built, so that only a
 * slip of the unit or of the decimal point lies outside. By judgement, no source.
 */
const USUAL: Readonly<Record<string, Readonly<Record<string, Usual>>>> = {
  lead: {
    length: range("length", 0.01, 200),
    area: range("area", 0.02e-6, 500e-6),
    spacing: range("length", 0.3e-3, 2),
    resistance: range("resistance", 50e-6, 20),
    inductance: range("inductance", 5e-9, 1e-3),
    "thermal time constant": range("time", 0.1, 36_000),
  },
  contact: { resistance: range("resistance", 1e-6, 10), "arc voltage": range("voltage", 1, 1000) },
  fuse: {
    "rated current": range("current", 0.05, 1000),
    "rated voltage": range("voltage", 5, 5000),
    "breaking capacity": range("current", 5, 1e6),
    "melting I2t": range("I2t", 1e-4, 1e8),
    "cold resistance": range("resistance", 10e-6, 100),
    "minimum melting current": range("current", 0.05, 2000),
    "arc voltage": range("voltage", 1, 5000),
  },
  crowbar: {
    "trip voltage": VOLTAGE,
    "sense filter": FILTER,
    "turn on delay": DELAY,
    "holding current": range("current", 1e-4, 10),
    "turn off time": DELAY,
  },
  "series switch": { "off voltage": VOLTAGE, "sense filter": FILTER, "opening time": range("time", 1e-8, 1) },
  reclose: { "on voltage": VOLTAGE },
  clamp: { "breakdown voltage": VOLTAGE },
  limits: { minimum: VOLTAGE, maximum: VOLTAGE },
  source: { "set voltage": range("voltage", 1, 60), emf: range("voltage", 1, 60) },
  limit: { current: CURRENT, "short circuit current": CURRENT },
  "own OVP": { voltage: VOLTAGE, delay: range("time", 1e-8, 10) },
};

/** Maps by the key they stand under, where that is not the name of their kind. */
const KINDS: Readonly<Record<string, string>> = { "main fuse": "fuse", "own crowbar": "crowbar", sources: "source" };

/** Warns of every written value that lies far outside of what a 12 V line can mean; values of classes and defaults are not looked at. */
export function checkUsual(sheet: Sheet, values: unknown, { sources }: Scenario): void {
  const rest = restVoltage(sources);
  const visit = (value: unknown, path: Path, holder: string): void => {
    if (Array.isArray(value)) {
      value.forEach((entry, index) => {
        visit(entry, [...path, index], holder);
      });
    } else if (typeof value === "object" && value !== null) {
      for (const [key, inner] of Object.entries(value)) {
        const usual = typeof inner === "number" && Object.hasOwn(USUAL, holder) ? USUAL[holder][key] : undefined;
        if (usual !== undefined) judge(inner as number, [...path, key], usual);
        else if (path.length > 0 || !ASIDE.includes(key)) visit(inner, [...path, key], KINDS[key] ?? key);
      }
    }
  };
  const judge = (value: number, path: Path, { dimension, least, most: bound }: Usual): void => {
    const most = bound === "line" ? 3 * rest : bound;
    // A line without a voltage of its own has nothing to be compared with; nothing at all is said on purpose; what is refused needs no warning.
    if (most <= 0 || value === 0 || (value >= least && value <= most) || sheet.hasErrorAt(path)) return;
    const show = (limit: number): string => formatQuantity(limit, dimension, { digits: 3 });
    const far = value > most ? "above" : "below";
    const key = path.at(-1);
    const written = sheet.received(path) ?? show(value);
    sheet.warn(
      "unusual-value",
      path,
      `This ${key} of ${written} lies far ${far} what a 12 V line has, usually ${show(least)} to ${show(most)}.`,
      { hint: "check the number and its unit" },
    );
  };
  visit(values, [], "");
}

/** What is not the line itself. */
const ASIDE = ["variants", "tolerances"];
