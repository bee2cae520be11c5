import { describe, expect, test } from "vitest";
import {
  type Dimension,
  dimensions,
  exampleOf,
  formatQuantity,
  parseQuantity,
  spellingsOf,
} from "../../packages/sim/src/units/index.ts";

// Written down here once more, independently of the table under test: one of each unit in SI.
const MICRO = ["u", "\u00b5", "\u03bc"];
const OHM = ["ohm", "\u03a9", "\u2126"];
const expected: Record<Dimension, Record<string, number>> = {
  voltage: { V: 1, mV: 1e-3, kV: 1e3, ...each(MICRO, (u) => `${u}V`, 1e-6) },
  current: { A: 1, mA: 1e-3, kA: 1e3, ...each(MICRO, (u) => `${u}A`, 1e-6) },
  resistance: {
    ohms: 1,
    ...each(OHM, (o) => o, 1),
    ...each(OHM, (o) => `m${o}`, 1e-3),
    ...each(OHM, (o) => `k${o}`, 1e3),
    ...each(OHM, (o) => `M${o}`, 1e6),
    uohm: 1e-6,
    ...each(["\u00b5\u03a9", "\u00b5\u2126", "\u03bc\u03a9", "\u03bc\u2126"], (o) => o, 1e-6),
  },
  capacitance: { F: 1, mF: 1e-3, ...each(MICRO, (u) => `${u}F`, 1e-6), nF: 1e-9, pF: 1e-12 },
  inductance: { H: 1, mH: 1e-3, ...each(MICRO, (u) => `${u}H`, 1e-6), nH: 1e-9 },
  time: { s: 1, ms: 1e-3, ...each(MICRO, (u) => `${u}s`, 1e-6), ns: 1e-9, min: 60, h: 3600 },
  length: { m: 1, cm: 1e-2, mm: 1e-3, km: 1e3 },
  area: { m2: 1, "m²": 1, "m^2": 1, mm2: 1e-6, "mm²": 1e-6, "mm^2": 1e-6 },
  gauge: { AWG: 1 },
  "voltage slew": {
    "V/s": 1,
    "mV/s": 1e-3,
    "V/ms": 1e3,
    ...each(MICRO, (u) => `V/${u}s`, 1e6),
    "V/min": 1 / 60,
    "mV/min": 1 / 60_000,
    "V/h": 1 / 3600,
    "mV/h": 1 / 3.6e6,
  },
  "current slew": { "A/s": 1, "A/ms": 1e3, ...each(MICRO, (u) => `A/${u}s`, 1e6), "kA/s": 1e3 },
  power: { W: 1, mW: 1e-3, kW: 1e3 },
  energy: { J: 1, mJ: 1e-3, kJ: 1e3, Ws: 1, Wh: 3600 },
  charge: { Ah: 1, mAh: 1e-3 },
  I2t: { A2s: 1, "A²s": 1, "A^2s": 1, "A2 s": 1, "A² s": 1, "A^2 s": 1, kA2s: 1e6, "kA²s": 1e6 },
  "thermal resistance": { "K/W": 1, "mK/W": 1e-3, "°C/W": 1, "C/W": 1 },
  "heat capacity": { "J/K": 1, "mJ/K": 1e-3, "kJ/K": 1e3, "J/°C": 1 },
  temperature: { "°C": 1, C: 1, degC: 1, K: 1 - 273.15 },
  "absolute temperature": { K: 1 },
  frequency: { Hz: 1, kHz: 1e3, mHz: 1e-3 },
  ratio: { "%": 0.01, "": 1 },
  number: { "": 1 },
};

function each(list: readonly string[], spell: (part: string) => string, factor: number): Record<string, number> {
  return Object.fromEntries(list.map((part) => [spell(part), factor]));
}

describe("every spelling", () => {
  test.each(dimensions)("%s: the table holds exactly these units", (dimension) => {
    expect(spellingsOf(dimension).toSorted()).toEqual(Object.keys(expected[dimension]).toSorted());
  });

  for (const dimension of dimensions) {
    test.each(Object.entries(expected[dimension]))(`${dimension}: 1 %s and 1%s`, (unit, factor) => {
      for (const text of [`1 ${unit}`, `1${unit}`, `  1   ${unit} `]) {
        const parsed = parseQuantity(text, dimension);
        expect(parsed, text).toMatchObject({ ok: true });
        expect(parsed.ok ? parsed.value : Number.NaN).toBeCloseTo(factor, 14);
      }
    });
  }

  test.each(dimensions)("%s: its example is right", (dimension) => {
    expect(parseQuantity(exampleOf(dimension), dimension)).toMatchObject({ ok: true });
  });
});

test.each<[string, Dimension, number]>([
  ["4700 µF", "capacitance", 0.0047],
  ["4700 uF", "capacitance", 0.0047],
  ["15 mohm", "resistance", 0.015],
  ["15 mΩ", "resistance", 0.015],
  ["2.5 mm2", "area", 2.5e-6],
  ["+1.5e-3 V", "voltage", 0.0015],
  ["-20 °C", "temperature", -20],
  [".5 s", "time", 0.5],
  ["5. s", "time", 5],
  ["2 min 5 s", "time", 125],
  ["1 h 2 min 3.5 s", "time", 3723.5],
  ["1 V/h", "voltage slew", 1 / 3600],
  ["4/0 AWG", "gauge", -3],
  ["5 %", "ratio", 0.05],
])("%s is read exactly", (text, dimension, value) => {
  expect(parseQuantity(text, dimension)).toEqual({ ok: true, value });
});

const FEET = "lengths are in m, cm or mm: 1 ft is 0.3048 m, 1 in is 2.54 cm";

test.each<[string, Dimension, string, string | null]>([
  ["", "voltage", "nothing-written", null],
  ["   ", "voltage", "nothing-written", null],
  ["13.8", "voltage", "missing-unit", null],
  ["13.8 A", "voltage", "wrong-unit", null],
  ["13.8 v", "voltage", "unknown-unit", "did you mean V?"],
  ["13.8 Volt", "voltage", "unknown-unit", null],
  ["10 mS", "time", "unknown-unit", "did you mean ms?"],
  // Nothing that makes another size of what was written is suggested.
  ["1 MV", "voltage", "unknown-unit", "write it as in 13.8 V"],
  ["6 ft", "length", "unknown-unit", FEET],
  ["6'", "length", "unknown-unit", FEET],
  ["6′ 3″", "length", "unknown-unit", FEET],
  ["10 in", "length", "unknown-unit", FEET],
  ['10"', "length", "unknown-unit", FEET],
  ["6 feet", "length", "unknown-unit", FEET],
  ["3 dm", "length", "unknown-unit", "write it as in 1.5 m"],
  ["2 mi", "length", "unknown-unit", "write it as in 1.5 m"],
  ["2 cm2", "area", "unknown-unit", "write it as in 2.5 mm2"],
  ["77 °F", "temperature", "unknown-unit", "write it as in 25 °C"],
  ["2 d", "time", "unknown-unit", "write it as in 10 ms"],
  ["2 kWh", "energy", "unknown-unit", "write it as in 1.5 J"],
  ["1 MHz", "frequency", "unknown-unit", "write it as in 60 Hz"],
  ["5 A/ns", "current slew", "unknown-unit", "write it as in 50 A/us"],
  ["5 nohm", "resistance", "unknown-unit", "write it as in 15 mohm"],
  ["5 MOHM", "resistance", "unknown-unit", "did you mean Mohm?"],
  // What can only mean one thing is.
  ["5 mhom", "resistance", "unknown-unit", "did you mean mohm?"],
  ["5 Mohn", "resistance", "unknown-unit", "did you mean Mohm?"],
  ["12 AGW", "gauge", "unknown-unit", "did you mean AWG?"],
  ["25 °c", "temperature", "unknown-unit", "did you mean °C?"],
  ["2 M", "length", "unknown-unit", "did you mean m?"],
  ["2 MM2", "area", "unknown-unit", "did you mean mm2?"],
  ["3 Min", "time", "unknown-unit", "did you mean min?"],
  ["3 hours", "time", "unknown-unit", "did you mean h?"],
  ["0.5", "time", "missing-unit", "put the unit behind it: s, ms, us, µs, ns, min or h"],
  ["13,8 V", "voltage", "decimal-comma", "write 13.8 V"],
  ["1,000 V", "voltage", "decimal-comma", "write 1.000 V or 1000 V, whichever is meant"],
  ["1,000,000 V", "voltage", "thousands-separator", "write 1000000"],
  ["1,000.5 V", "voltage", "thousands-separator", "write 1000.5"],
  ["1 000 V", "voltage", "thousands-separator", "write 1000"],
  ["1'000 V", "voltage", "thousands-separator", "write 1000"],
  ["1_000 V", "voltage", "thousands-separator", "write 1000"],
  ["1\u202f000 V", "voltage", "thousands-separator", "write 1000"],
  ["NaN V", "voltage", "not-finite", null],
  ["Infinity V", "voltage", "not-finite", null],
  ["-inf V", "voltage", "not-finite", null],
  [".inf", "voltage", "not-finite", null],
  ["1e400 V", "voltage", "not-finite", null],
  ["1e307 kA2s", "I2t", "not-finite", null],
  ["0x10 V", "voltage", "unknown-unit", null],
  ["twelve V", "voltage", "not-a-number", null],
  ["V 12", "voltage", "not-a-number", null],
  ["1.2.3 V", "voltage", "unknown-unit", null],
  ["12 V 5", "voltage", "unknown-unit", null],
  ["12 V V", "voltage", "unknown-unit", null],
  ["12 AWG", "area", "wrong-unit", "write gauge: 12 AWG instead of area"],
  ["4 V", "number", "wrong-unit", null],
  ["5 s 2 min", "time", "unknown-unit", null],
  ["1 toString", "voltage", "unknown-unit", null],
  ["1 __proto__", "voltage", "unknown-unit", null],
])("%j as a %s is refused as %s", (text, dimension, code, hint) => {
  const parsed = parseQuantity(text, dimension);
  expect(parsed).toMatchObject({ ok: false, code });
  if (hint !== null) expect(parsed).toMatchObject({ hint });
  expect(parsed.ok ? "" : parsed.allowed).toContain(exampleOf(dimension));
});

test.each<[number, Dimension, string]>([
  [14.9, "voltage", "14.9 V"],
  [0.0047, "capacitance", "4.7 mF"],
  [0.015, "resistance", "15 mΩ"],
  [3.2, "time", "3.2 s"],
  [125, "time", "2 min 5 s"],
  [120, "time", "2 min"],
  [59.96, "time", "1 min"],
  [3599.7, "time", "1 h"],
  [26_000, "time", "7 h 13 min"],
  [35e-6, "time", "35 µs"],
  [0.9996, "voltage", "1 V"],
  [999.96, "resistance", "1 kΩ"],
  [-13.8, "voltage", "-13.8 V"],
  [0, "current", "0 A"],
  [-0, "current", "0 A"],
  [4e-6, "area", "4 mm²"],
  [1 / 3600, "voltage slew", "1 V/h"],
  [50e6, "current slew", "50 A/µs"],
  [1_234_567, "I2t", "1230000 A²s"],
  [0.9, "ratio", "90 %"],
  [300, "absolute temperature", "300 K"],
  [1.3, "number", "1.3"],
  [Number.POSITIVE_INFINITY, "time", "unlimited"],
  [Number.NaN, "time", "unknown"],
])("%d of %s is written %s", (value, dimension, text) => {
  expect(formatQuantity(value, dimension)).toBe(text);
});

test("more digits show more", () => {
  expect(formatQuantity(13.8046, "voltage", { digits: 5 })).toBe("13.805 V");
  expect(formatQuantity(26_000, "time", { digits: 5 })).toBe("7 h 13 min 20 s");
});

test("what is written is read back, for 2000 seeded values", () => {
  let seed = 20_261_124;
  const random = (): number => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    return seed / 2 ** 32;
  };
  for (let round = 0; round < 2000; round += 1) {
    const dimension = dimensions[Math.floor(random() * dimensions.length)];
    const value = 10 ** (random() * 12 - 7);
    const text = formatQuantity(value, dimension, { digits: 6 });
    const back = parseQuantity(text, dimension);
    expect(back, `${value} ${dimension}: ${text}`).toMatchObject({ ok: true });
    // A long time ends with whole or tenth seconds, everything else with the sixth digit.
    const slack = dimension === "time" && value >= 60 ? 1 : Math.abs(value) * 1e-5;
    expect(Math.abs((back.ok ? back.value : Number.NaN) - value)).toBeLessThanOrEqual(slack);
  }
});
