import { assumed, commonPractice, fromMemory, published, transcribed } from "./cite.ts";
import type { FuseGate } from "./fuse-fit-types.ts";
import type { Cited } from "./types.ts";

/** What all ratings of a family of fuses have in common. */
export interface FuseFamily {
  /** Name of the class of one rating. */
  readonly nameOf: (ratedCurrent: number) => string;
  readonly about: string;
  /** Gates of one rating, s at multiples of rated current. */
  readonly gatesOf: (ratedCurrent: number) => Cited;
  readonly values: Readonly<Record<string, Cited>>;
}

const HOURS = 3600;

function gate(multiple: number, minimum: number | null, maximum: number | null): FuseGate {
  return Object.freeze({ multiple, minimum, maximum });
}

const BLADE_RATIO = assumed(
  2,
  "chosen so that hot over cold resistance at rated current is 1.3 to 1.5, as published drops show",
);
const BLADE_MELTING = commonPractice(
  150,
  "re-rating temperature that reproduces the published 0.83 from 20 to 65 °C of a 20 A blade fuse",
);
const BLADE_VOLTAGE = transcribed(32, "regular blade fuse, series 287 sheet");
const BLADE_BREAKING = transcribed(1000, "blade fuses: 1000 A at 32 V DC, series 287 sheet");

export const REGULAR_BLADE: FuseFamily = {
  nameOf: (a) => `blade fuse ${a} A`,
  about: "regular-size blade fuse, 32 V",
  gatesOf: (a) =>
    transcribed(
      [
        gate(1.1, 100 * HOURS, null),
        gate(1.35, 0.75, 600),
        gate(2, 0.15, 5),
        gate(3.5, 0.08, 0.5),
        gate(6, null, a <= 30 ? 0.1 : 0.15),
      ],
      `series 287 sheet, p. 3${a <= 30 ? "; the gates at 1.1 and 6 times from memory" : "; the gate at 1.1 times from memory"}`,
    ),
  values: {
    ratedVoltage: BLADE_VOLTAGE,
    breakingCapacity: BLADE_BREAKING,
    resistanceRatio: BLADE_RATIO,
    meltingTemperature: BLADE_MELTING,
  },
};

export const MINI_BLADE: FuseFamily = {
  nameOf: (a) => `mini blade fuse ${a} A`,
  about: "mini-size blade fuse, 32 V",
  gatesOf: () => transcribed([gate(2, 0.15, 5), gate(3.5, 0.08, 0.5), gate(6, 0.03, 0.1)], "series 297 sheet"),
  values: {
    ratedVoltage: assumed(32, "as the regular size"),
    breakingCapacity: BLADE_BREAKING,
    resistanceRatio: BLADE_RATIO,
    meltingTemperature: BLADE_MELTING,
  },
};

export const MAXI_BLADE: FuseFamily = {
  nameOf: (a) => `maxi blade fuse ${a} A`,
  about: "maxi-size blade fuse, 32 V, slower than the regular size",
  gatesOf: () =>
    transcribed([gate(1.35, 60, 1800), gate(2, 2, 50), gate(3.5, 0.2, 7), gate(6, 0.04, 1)], "series 299 sheet"),
  values: {
    ratedVoltage: assumed(32, "as the regular size"),
    breakingCapacity: BLADE_BREAKING,
    resistanceRatio: BLADE_RATIO,
    meltingTemperature: BLADE_MELTING,
  },
};

const WIRE_RATIO = assumed(
  3,
  "element wire melting near 1000 °C, its ends cooler; gives 1.2 to 1.4 hot over cold at rated current",
);

export const SMALL_TIME_LAG: FuseFamily = {
  nameOf: (a) => `cartridge fuse 5x20 ${a} A, time-lag`,
  about: "5 × 20 mm cartridge fuse, time-lag",
  gatesOf: () =>
    published(
      [gate(1.5, HOURS, null), gate(2.1, null, 120), gate(2.75, 0.6, 10), gate(4, 0.15, 3), gate(10, 0.02, 0.3)],
      "IEC 60127-2 sheet 3, as on the series 218 sheet",
    ),
  values: {
    ratedVoltage: published(250, "IEC 60127-2: 250 V AC; what it breaks on DC is not on the sheet"),
    resistanceRatio: WIRE_RATIO,
  },
};

export const SMALL_FAST: FuseFamily = {
  nameOf: (a) => `cartridge fuse 5x20 ${a} A, fast`,
  about: "5 × 20 mm ceramic cartridge fuse, fast",
  gatesOf: () =>
    published(
      [gate(1.5, HOURS, null), gate(2.1, null, 1800), gate(2.75, 0.05, 2), gate(4, 0.01, 0.3), gate(10, null, 0.02)],
      "IEC 60127-2 sheet 2, as on the series 617 sheet; taken for the ceramic type too",
    ),
  values: {
    ratedVoltage: published(250, "IEC 60127-2: 250 V AC; what it breaks on DC is not on the sheet"),
    breakingCapacity: published(1500, "5 × 20 mm high-breaking: 1500 A AC"),
    resistanceRatio: WIRE_RATIO,
  },
};

const UL_RATIO = assumed(2, "as a blade fuse; gives 1.5 to 1.6 hot over cold at rated current");

export const LARGE_FAST: FuseFamily = {
  nameOf: (a) => `cartridge fuse 6.3x32 ${a} A, fast`,
  about: "6.3 × 32 mm ceramic cartridge fuse, fast",
  gatesOf: (a) =>
    published(
      [gate(1.35, null, HOURS), gate(2, null, a <= 10 ? 5 : 10)],
      "series 312 sheet; taken for the ceramic type too",
    ),
  values: {
    ratedVoltage: fromMemory(250, "series 314: 250 V AC; what it breaks on DC is not known here"),
    resistanceRatio: UL_RATIO,
  },
};

export const LARGE_SLOW: FuseFamily = {
  nameOf: (a) => `cartridge fuse 6.3x32 ${a} A, slow`,
  about: "6.3 × 32 mm ceramic cartridge fuse, slow",
  gatesOf: () => published([gate(1, 4 * HOURS, null), gate(1.35, null, HOURS), gate(2, 5, 60)], "series 325 sheet"),
  values: {
    ratedVoltage: published(125, "series 325 sheet, 12 to 20 A: broken on DC up to 125 V (250 V on AC)"),
    breakingCapacity: published(600, "series 325 sheet, 12 to 20 A: 600 A at 125 V DC"),
    resistanceRatio: UL_RATIO,
  },
};
