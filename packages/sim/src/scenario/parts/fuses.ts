import { fromMemory, partClass, published, transcribed } from "./cite.ts";
import {
  type FuseFamily,
  LARGE_FAST,
  LARGE_SLOW,
  MAXI_BLADE,
  MINI_BLADE,
  REGULAR_BLADE,
  SMALL_FAST,
  SMALL_TIME_LAG,
} from "./fuse-families.ts";
import type { Cited, PartClass } from "./types.ts";

type Citing = (value: number, source: string) => Cited;

/** Rated current A, cold resistance mohm, nominal melting I²t A²s. */
type Row = readonly [ratedCurrent: number, coldResistance: Cited, meltingI2t: Cited];

const milli = (cite: Citing, value: number, source: string): Cited => cite(value / 1000, source);

function rows(cite: Citing, source: string, table: readonly (readonly [number, number, number])[]): Row[] {
  return table.map(([rated, mohm, i2t]) => [rated, milli(cite, mohm, source), cite(i2t, source)]);
}

function classes(family: FuseFamily, table: readonly Row[]): PartClass[] {
  return table.map(([rated, coldResistance, nominalMeltingI2t]) =>
    partClass("fuse", family.nameOf(rated), family.about, {
      ratedCurrent: published(rated, "its name"),
      coldResistance,
      nominalMeltingI2t,
      gates: family.gatesOf(rated),
      ...family.values,
    }),
  );
}

const BLADE_SHEET = "series 287 sheet";
const BLADE_MEMORY = "series 287, from memory: provisional";
const provisional = (value: number): Cited => fromMemory(value, BLADE_MEMORY);
const sheet = (value: number): Cited => transcribed(value, BLADE_SHEET);

const BLADES: readonly Row[] = [
  ...rows(fromMemory, BLADE_MEMORY, [
    [1, 123, 0.4],
    [2, 53.5, 1.4],
    [3, 31, 9],
    [4, 22.8, 14],
  ]),
  [5, milli(fromMemory, 17.9, BLADE_MEMORY), sheet(26)],
  ...rows(fromMemory, BLADE_MEMORY, [[7.5, 10.9, 60]]),
  [10, milli(transcribed, 7.7, BLADE_SHEET), provisional(115)],
  ...rows(fromMemory, BLADE_MEMORY, [[15, 4.8, 340]]),
  [20, milli(transcribed, 3.38, BLADE_SHEET), provisional(520)],
  ...rows(transcribed, BLADE_SHEET, [[25, 2.52, 1000]]),
  ...rows(fromMemory, BLADE_MEMORY, [[30, 1.97, 1300]]),
  ...rows(transcribed, BLADE_SHEET, [[40, 1.44, 3300]]),
];

/** Fuses. I²t is not monotonic in the rating (3.15 to 4 A, 12 to 15 A): no rating is ever interpolated. */
export const FUSES: readonly PartClass[] = [
  ...classes(REGULAR_BLADE, BLADES),
  ...classes(MINI_BLADE, rows(transcribed, "series 297 sheet", [[15, 4.58, 308]])),
  ...classes(
    MAXI_BLADE,
    rows(transcribed, "series 299 sheet", [
      [30, 1.9, 4100],
      [35, 1.7, 6000],
      [40, 1.4, 8500],
    ]),
  ),
  ...classes(
    SMALL_TIME_LAG,
    rows(published, "series 213 sheet", [
      [1, 117, 19.2],
      [2, 44, 92.7],
      [3.15, 22, 226.5],
      [4, 17, 202],
      [5, 11, 314],
      [6.3, 8, 600],
    ]),
  ).map((part) => withLowBreaking(part)),
  ...classes(
    SMALL_FAST,
    rows(published, "series 216SP sheet", [
      [2, 76.4, 1.87],
      [2.5, 58.4, 3.67],
      [5, 18.3, 27.5],
      [6.3, 13.7, 56.4],
    ]),
  ),
  ...classes(
    LARGE_FAST,
    rows(published, "series 314 sheet", [
      [5, 30, 26],
      [8, 15.3, 105],
      [10, 10.5, 206],
      [12, 7.6, 570],
      [15, 5.05, 292],
      [20, 3.55, 631],
      [25, 2.35, 1450],
      [30, 1.82, 2490],
    ]),
  ),
  ...classes(
    LARGE_SLOW,
    rows(published, "series 325 sheet", [
      [12, 6.7, 129],
      [15, 5.0, 245],
      [20, 3.4, 575],
    ]),
  ),
];

function withLowBreaking(part: PartClass): PartClass {
  const rated = Number(part.values.ratedCurrent.value);
  const source = "5 × 20 mm low-breaking: 35 A or 10 times rated, the greater";
  return partClass(part.kind, part.name, part.about, {
    ...part.values,
    breakingCapacity: published(Math.max(35, 10 * rated), source),
  });
}
