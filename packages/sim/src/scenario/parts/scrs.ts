import { assumed, computed, fromMemory, partClass, published } from "./cite.ts";
import type { Cited, PartClass } from "./types.ts";

const MILLI = 1e-3;
const PER_MICROSECOND = 1e6;

/** Half sine of a rating in 50 Hz and 60 Hz countries, s. */
const TEN_MS = 10e-3;
const HALF_60_HZ = 1 / 120;

interface Row {
  readonly name: string;
  readonly about: string;
  readonly sheet: string;
  /** A, s, A²s. */
  readonly surge: { readonly current: number; readonly duration: number; readonly i2t: number };
  /** V and ohm. */
  readonly thresholdVoltage: Cited;
  readonly slopeResistance: Cited;
  /** mA; latching null: not on the sheet. */
  readonly holding: number;
  readonly latching: number | null;
  /** K/W. */
  readonly junctionToCase: Cited;
  /** A/µs. */
  readonly currentRise: number;
}

const HEAT_SINK = "a small heat sink of about 10 g of aluminium; give your own";

function scr(row: Row): PartClass {
  const sheet = `${row.sheet} sheet`;
  return partClass("crowbar", row.name, row.about, {
    thresholdVoltage: row.thresholdVoltage,
    slopeResistance: row.slopeResistance,
    holdingCurrent: published(row.holding * MILLI, `${sheet}, the largest at 25 °C; about twice that at −40 °C`),
    ...(row.latching === null ? {} : { latchingCurrent: published(row.latching * MILLI, sheet) }),
    turnOffTime: published(60e-6, "SCR sheets: 35 to 70 µs"),
    gateDelay: published(2e-6, "SCR sheets: turn-on 1.0 to 2.5 µs"),
    junctionToCase: row.junctionToCase,
    caseToAmbient: assumed(10, HEAT_SINK),
    caseHeatCapacity: assumed(10, HEAT_SINK),
    surgeDuration: published(row.surge.duration, `${sheet}: half sine of ${(row.surge.duration * 1e3).toFixed(1)} ms`),
    "ratings.surgeCurrent": published(row.surge.current, sheet),
    "ratings.i2t": published(row.surge.i2t, sheet),
    "ratings.junctionTemperature": published(125, sheet),
    "ratings.currentRise": published(row.currentRise * PER_MICROSECOND, sheet),
  });
}

/** V_T0 and r_T as printed, maxima at the highest junction temperature. */
function printed(sheet: string, volts: number, milliohms: number): Pick<Row, "thresholdVoltage" | "slopeResistance"> {
  const source = `${sheet} sheet, maximum at 125 °C`;
  return { thresholdVoltage: published(volts, source), slopeResistance: published(milliohms * MILLI, source) };
}

/** r_T from a printed V_TM at a current, with V_T0 of a part of its size. */
function fromForwardDrop(
  sheet: string,
  thresholdVoltage: number,
  drop: number,
  current: number,
): Pick<Row, "thresholdVoltage" | "slopeResistance"> {
  return {
    thresholdVoltage: assumed(thresholdVoltage, "as the SCR 8 A"),
    slopeResistance: computed(
      (drop - thresholdVoltage) / current,
      `${sheet} sheet: (V_TM ${drop} V − V_T0) / ${current} A`,
    ),
  };
}

const onSheet = (sheet: string, value: number): Cited => published(value, `${sheet} sheet`);

/** SCRs for crowbars; all 125 °C. V_T0 and r_T are those of a hot junction, so a cold one drops a little more at first. */
export const SCRS: readonly PartClass[] = [
  scr({
    name: "SCR 8 A",
    about: "SCR, 8 A RMS",
    sheet: "TYN608",
    surge: { current: 95, duration: TEN_MS, i2t: 45 },
    ...printed("TYN608", 0.85, 46),
    holding: 30,
    latching: 70,
    junctionToCase: fromMemory(1.3, "usual for the package"),
    currentRise: 50,
  }),
  scr({
    name: "SCR 12 A",
    about: "SCR, 12 A RMS",
    sheet: "BT151",
    surge: { current: 120, duration: TEN_MS, i2t: 72 },
    ...fromForwardDrop("BT151", 0.85, 1.75, 23),
    holding: 20,
    latching: 40,
    junctionToCase: onSheet("BT151", 1.3),
    currentRise: 50,
  }),
  scr({
    name: "SCR 16 A",
    about: "SCR, 16 A RMS",
    sheet: "TYN616",
    surge: { current: 190, duration: TEN_MS, i2t: 180 },
    ...printed("TYN616", 0.77, 23),
    holding: 40,
    latching: 60,
    junctionToCase: onSheet("TYN616", 1.1),
    currentRise: 50,
  }),
  scr({
    name: "SCR 25 A",
    about: "SCR, 25 A RMS",
    sheet: "TYN825",
    surge: { current: 300, duration: TEN_MS, i2t: 450 },
    ...printed("TYN825", 0.77, 14),
    holding: 50,
    latching: 90,
    junctionToCase: onSheet("TYN825", 1),
    currentRise: 50,
  }),
  scr({
    name: "SCR 25 A, crowbar grade",
    about: "SCR made for crowbars, 25 A RMS; 750 A for 1 ms (5 time constants)",
    sheet: "MCR69",
    surge: { current: 300, duration: HALF_60_HZ, i2t: 375 },
    thresholdVoltage: computed(1.5, "MCR69 sheet: line through V_TM 1.8 V at 50 A and 6.0 V at 750 A"),
    slopeResistance: computed(6 * MILLI, "MCR69 sheet: line through V_TM 1.8 V at 50 A and 6.0 V at 750 A"),
    holding: 50,
    latching: 60,
    junctionToCase: onSheet("MCR69", 1.5),
    currentRise: 100,
  }),
  scr({
    name: "SCR 40 A",
    about: "SCR, 40 A RMS",
    sheet: "TYN640",
    surge: { current: 460, duration: TEN_MS, i2t: 1060 },
    ...printed("TYN640", 0.85, 10),
    holding: 75,
    latching: 150,
    junctionToCase: onSheet("TYN640", 0.8),
    currentRise: 50,
  }),
  scr({
    name: "SCR 50 A",
    about: "SCR, 50 A RMS",
    sheet: "BTW69",
    surge: { current: 580, duration: TEN_MS, i2t: 1680 },
    ...printed("BTW69", 1.0, 8.5),
    holding: 150,
    latching: 200,
    junctionToCase: onSheet("BTW69", 0.9),
    currentRise: 50,
  }),
  scr({
    name: "SCR 55 A",
    about: "SCR, 55 A RMS, fast-rising currents",
    sheet: "Sxx55x",
    surge: { current: 650, duration: HALF_60_HZ, i2t: 1750 },
    thresholdVoltage: assumed(1.0, "as the SCR 50 A"),
    slopeResistance: assumed(8.5 * MILLI, "as the SCR 50 A"),
    holding: 60,
    latching: null,
    junctionToCase: assumed(0.9, "as the SCR 50 A"),
    currentRise: 175,
  }),
];
