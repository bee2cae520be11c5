/** What a quantity measures. Each has one SI unit, in which the values of the rest of the program stand. */
export type Dimension =
  | "voltage"
  | "current"
  | "resistance"
  | "capacitance"
  | "inductance"
  | "time"
  | "length"
  | "area"
  | "gauge"
  | "voltage slew"
  | "current slew"
  | "power"
  | "energy"
  | "charge"
  | "I2t"
  | "thermal resistance"
  | "heat capacity"
  | "temperature"
  | "absolute temperature"
  | "frequency"
  | "ratio"
  | "number";

export interface Spelling {
  readonly dimension: Dimension;
  /** Value in the dimension's own unit = written value × factor + offset. */
  readonly factor: number;
  readonly offset: number;
}

// The micro sign (U+00B5) and the letter mu (U+03BC), the letter omega (U+03A9) and the ohm sign (U+2126) look alike and are
// all met in files: written as escapes here, so that no editor merges them.
// A closed table of our own instead of a units library: those that were tried read `15 mΩ` as metre-ohms, accept `NaN V`
// and `1e400 V`, or lack Ah, %, AWG and µF; what would be left of one after guarding all that is smaller than this table.
const spellings: Readonly<Record<Dimension, Readonly<Record<string, number>>>> = {
  voltage: { V: 1, mV: 1e-3, uV: 1e-6, "\u00b5V": 1e-6, "\u03bcV": 1e-6, kV: 1e3 },
  current: { A: 1, mA: 1e-3, uA: 1e-6, "\u00b5A": 1e-6, "\u03bcA": 1e-6, kA: 1e3 },
  resistance: {
    ohm: 1,
    ohms: 1,
    "\u03a9": 1,
    "\u2126": 1,
    mohm: 1e-3,
    "m\u03a9": 1e-3,
    "m\u2126": 1e-3,
    uohm: 1e-6,
    "\u00b5\u03a9": 1e-6,
    "\u03bc\u03a9": 1e-6,
    "\u00b5\u2126": 1e-6,
    "\u03bc\u2126": 1e-6,
    kohm: 1e3,
    "k\u03a9": 1e3,
    "k\u2126": 1e3,
    Mohm: 1e6,
    "M\u03a9": 1e6,
    "M\u2126": 1e6,
  },
  capacitance: { F: 1, mF: 1e-3, uF: 1e-6, "\u00b5F": 1e-6, "\u03bcF": 1e-6, nF: 1e-9, pF: 1e-12 },
  inductance: { H: 1, mH: 1e-3, uH: 1e-6, "\u00b5H": 1e-6, "\u03bcH": 1e-6, nH: 1e-9 },
  time: { s: 1, ms: 1e-3, us: 1e-6, "\u00b5s": 1e-6, "\u03bcs": 1e-6, ns: 1e-9, min: 60, h: 3600 },
  length: { m: 1, mm: 1e-3, cm: 1e-2, km: 1e3 },
  area: { m2: 1, "m²": 1, mm2: 1e-6, "mm²": 1e-6, "mm^2": 1e-6, "m^2": 1 },
  gauge: { AWG: 1 },
  "voltage slew": {
    "V/s": 1,
    "mV/s": 1e-3,
    "V/ms": 1e3,
    "V/us": 1e6,
    "V/\u00b5s": 1e6,
    "V/\u03bcs": 1e6,
    "V/min": 1 / 60,
    "mV/min": 1e-3 / 60,
    "V/h": 1 / 3600,
    "mV/h": 1e-3 / 3600,
  },
  "current slew": {
    "A/s": 1,
    "A/ms": 1e3,
    "A/us": 1e6,
    "A/\u00b5s": 1e6,
    "A/\u03bcs": 1e6,
    "kA/s": 1e3,
  },
  power: { W: 1, mW: 1e-3, kW: 1e3 },
  energy: { J: 1, mJ: 1e-3, kJ: 1e3, Wh: 3600, Ws: 1 },
  charge: { Ah: 1, mAh: 1e-3 },
  I2t: { A2s: 1, "A²s": 1, "A^2s": 1, "A2 s": 1, "A² s": 1, "A^2 s": 1, kA2s: 1e6, "kA²s": 1e6 },
  "thermal resistance": { "K/W": 1, "mK/W": 1e-3, "°C/W": 1, "C/W": 1 },
  "heat capacity": { "J/K": 1, "mJ/K": 1e-3, "kJ/K": 1e3, "J/°C": 1 },
  temperature: { "°C": 1, C: 1, degC: 1, K: 1 },
  "absolute temperature": { K: 1 },
  frequency: { Hz: 1, kHz: 1e3, mHz: 1e-3 },
  ratio: { "%": 0.01, "": 1 },
  number: { "": 1 },
};

const CELSIUS_ZERO = 273.15;

/**
 * The meaning of one written unit for one dimension.
 *
 * @param unit the letters after the number, with single spaces; empty for none
 * @param dimension what the value must measure
 * @returns null where this dimension does not allow that spelling
 */
export function findSpelling(unit: string, dimension: Dimension): Spelling | null {
  const table = spellings[dimension];
  if (!Object.hasOwn(table, unit)) return null;
  const kelvinAsCelsius = dimension === "temperature" && unit === "K";
  return { dimension, factor: table[unit] ?? Number.NaN, offset: kelvinAsCelsius ? -CELSIUS_ZERO : 0 };
}

/** The dimensions in which a written unit has a meaning, for instance to say that `A` measures a current. */
export function dimensionsOf(unit: string): Dimension[] {
  return (Object.keys(spellings) as Dimension[]).filter((dimension) => Object.hasOwn(spellings[dimension], unit));
}

/** Every spelling that a dimension allows, the plainest first. */
export function spellingsOf(dimension: Dimension): string[] {
  return Object.keys(spellings[dimension]);
}

/** Every dimension. */
export const dimensions: readonly Dimension[] = Object.keys(spellings) as Dimension[];

const examples: Readonly<Record<Dimension, string>> = {
  voltage: "13.8 V",
  current: "30 A",
  resistance: "15 mohm",
  capacitance: "4700 uF",
  inductance: "50 nH",
  time: "10 ms",
  length: "1.5 m",
  area: "2.5 mm2",
  gauge: "12 AWG",
  "voltage slew": "50 V/s",
  "current slew": "50 A/us",
  power: "60 W",
  energy: "1.5 J",
  charge: "100 Ah",
  I2t: "520 A2s",
  "thermal resistance": "1.5 K/W",
  "heat capacity": "10 J/K",
  temperature: "25 °C",
  "absolute temperature": "2800 K",
  frequency: "60 Hz",
  ratio: "90 %",
  number: "4",
};

/** One correctly written value of a dimension, for messages. */
export function exampleOf(dimension: Dimension): string {
  return examples[dimension];
}
