import type { Dimension } from "./table.ts";

/** How a quantity is written. */
export interface FormatOptions {
  /** Significant digits, 3 unless told; trailing zeros are dropped. */
  readonly digits?: number;
}

type Step = readonly [factor: number, unit: string];

// The spellings used for output, largest first; each of them can be read back.
const steps: Readonly<Record<Dimension, readonly Step[]>> = {
  voltage: [
    [1e3, "kV"],
    [1, "V"],
    [1e-3, "mV"],
    [1e-6, "µV"],
  ],
  current: [
    [1e3, "kA"],
    [1, "A"],
    [1e-3, "mA"],
    [1e-6, "µA"],
  ],
  resistance: [
    [1e6, "MΩ"],
    [1e3, "kΩ"],
    [1, "Ω"],
    [1e-3, "mΩ"],
    [1e-6, "µΩ"],
  ],
  capacitance: [
    [1, "F"],
    [1e-3, "mF"],
    [1e-6, "µF"],
    [1e-9, "nF"],
    [1e-12, "pF"],
  ],
  inductance: [
    [1, "H"],
    [1e-3, "mH"],
    [1e-6, "µH"],
    [1e-9, "nH"],
  ],
  time: [
    [1, "s"],
    [1e-3, "ms"],
    [1e-6, "µs"],
    [1e-9, "ns"],
  ],
  length: [
    [1e3, "km"],
    [1, "m"],
    [1e-3, "mm"],
  ],
  area: [[1e-6, "mm²"]],
  gauge: [[1, "AWG"]],
  "voltage slew": [
    [1e6, "V/µs"],
    [1e3, "V/ms"],
    [1, "V/s"],
    [1e-3, "mV/s"],
    [1 / 3600, "V/h"],
    [1e-3 / 3600, "mV/h"],
  ],
  "current slew": [
    [1e6, "A/µs"],
    [1e3, "A/ms"],
    [1, "A/s"],
  ],
  power: [
    [1e3, "kW"],
    [1, "W"],
    [1e-3, "mW"],
  ],
  energy: [
    [1e3, "kJ"],
    [1, "J"],
    [1e-3, "mJ"],
  ],
  charge: [
    [1, "Ah"],
    [1e-3, "mAh"],
  ],
  I2t: [[1, "A²s"]],
  "thermal resistance": [
    [1, "K/W"],
    [1e-3, "mK/W"],
  ],
  "heat capacity": [
    [1e3, "kJ/K"],
    [1, "J/K"],
    [1e-3, "mJ/K"],
  ],
  temperature: [[1, "°C"]],
  "absolute temperature": [[1, "K"]],
  frequency: [
    [1e3, "kHz"],
    [1, "Hz"],
  ],
  ratio: [[0.01, "%"]],
  number: [[1, ""]],
};

/**
 * Writes a value the way the trade does, for instance `14.9 V`, `4.7 mF`, `15 mΩ`, `35 µs`, `2 min 5 s`.
 *
 * @param value in the dimension's own unit (SI; °C, Ah and AWG as in the scenario)
 * @param dimension decides the units
 * @param options significant digits
 * @returns text that `parseQuantity` reads back, but for what is not finite ("unlimited", "unknown")
 *
 * @example formatQuantity(0.0047, "capacitance") // "4.7 mF"
 */
export function formatQuantity(value: number, dimension: Dimension, options: FormatOptions = {}): string {
  if (Number.isNaN(value)) return "unknown";
  if (!Number.isFinite(value)) return value > 0 ? "unlimited" : "minus unlimited";
  const digits = options.digits ?? 3;
  const rounded = roundTo(value, digits);
  if (dimension === "time" && rounded >= 60) return longTime(value, digits);
  const table = steps[dimension];
  const size = Math.abs(rounded);
  const plain = table.find(([factor]) => factor === 1) ?? table[0];
  // A hair of tolerance, for 1e-3 / 1e-3 is not always 1.
  const step = size === 0 ? plain : (table.find(([factor]) => size >= factor * (1 - 1e-9)) ?? table[table.length - 1]);
  const [factor, unit] = step;
  const number = plainNumber(roundTo(value / factor, digits));
  return unit === "" ? number : `${number} ${unit}`;
}

function roundTo(value: number, digits: number): number {
  return value === 0 ? 0 : Number(value.toPrecision(digits));
}

/** Without an exponent as long as that stays readable. */
function plainNumber(value: number): string {
  const size = Math.abs(value);
  if (size !== 0 && (size >= 1e9 || size < 1e-6)) return value.toExponential().replace("e+", "e");
  return String(value);
}

function longTime(value: number, digits: number): string {
  const hours = Math.floor(value / 3600);
  // Three digits end with minutes above an hour and with whole seconds below it; more digits keep more.
  const resolution = hours > 0 ? (digits > 3 ? 1 : 60) : 10 ** -Math.max(0, digits - 4);
  const whole = Math.round(value / resolution) * resolution;
  const h = Math.floor(whole / 3600);
  const min = Math.floor((whole - 3600 * h) / 60);
  const s = Number((whole - 3600 * h - 60 * min).toFixed(Math.max(0, digits - 4)));
  return [h > 0 ? `${h} h` : "", min > 0 ? `${min} min` : "", s > 0 ? `${s} s` : ""]
    .filter((part) => part !== "")
    .join(" ");
}
