import { assumed, commonPractice, fromMemory, published } from "../../scenario/parts/cite.ts";
import type { Cited } from "../../scenario/parts/types.ts";

/** A reference that is compared with the tap of a divider. */
export interface ReferenceDevice {
  readonly kind: "reference";
  /** As `threshold` of the settings has it. */
  readonly name: string;
  /** What it is, and where its figures come from. */
  readonly about: string;
  /** V. */
  readonly voltage: Cited<number>;
  /** Share of the voltage, as bought. */
  readonly tolerance: Cited<number>;
  /** Furthest drift away from its value at 25 °C over a range of temperatures, V. */
  readonly drift: (coldest: number, hottest: number) => Cited<number>;
  /** Usual current into the sense input, A. */
  readonly current: Cited<number>;
  /** How far that current may be off, A. */
  readonly currentSpread: Cited<number>;
  /** Of its own, before the gate is driven, s. */
  readonly delay: Cited<number>;
}

/** A zener diode from the line to the gate. */
export interface ZenerDevice {
  readonly kind: "zener";
  readonly name: string;
  readonly about: string;
  readonly nominal: number;
  /** Of the diode at its test current, V. */
  readonly low: Cited<number>;
  readonly high: Cited<number>;
  /** A. */
  readonly testCurrent: Cited<number>;
  /** Ohm. */
  readonly resistance: Cited<number>;
  /** Share of its voltage for each kelvin. */
  readonly drift: Cited<number>;
  readonly delay: Cited<number>;
}

/** A part whose threshold decides when the protector trips. */
export type ThresholdDevice = ReferenceDevice | ZenerDevice;

const SHEET = "TI SLVS543 sheet";
const number = (cited: Cited): Cited<number> => cited as Cited<number>;
const INSIDE_TURN_ON = number(assumed(0, "small beside the turn-on delay, which the line's file gives"));

function shuntReference(percent: number): ReferenceDevice {
  return {
    kind: "reference",
    name: `shunt reference ${percent} %`,
    about: `shunt reference of the 431 class, ${percent} % grade, on a divider`,
    voltage: number(published(2.495, SHEET)),
    tolerance: number(published(percent / 100, `${SHEET}, grade at 25 °C`)),
    // The sheet gives the whole deviation over a range and no curve: it is taken in full to either side.
    drift: (coldest, hottest) =>
      coldest >= 0 && hottest <= 70
        ? number(published(6e-3, `${SHEET}: 6 mV over 0 to 70 °C`))
        : number(published(14e-3, `${SHEET}: 14 mV over −40 to 85 °C`)),
    current: number(fromMemory(2e-6, "reference input current, typical; 2 to 4 µA")),
    currentSpread: number(fromMemory(2e-6, "reference input current between 0 and 4 µA")),
    delay: INSIDE_TURN_ON,
  };
}

const sensingIc: ReferenceDevice = {
  kind: "reference",
  name: "sensing IC",
  about: "over-voltage sensing circuit that drives the gate, on a divider",
  voltage: number(published(2.6, "MC3423 sheet")),
  tolerance: number(fromMemory(0.15 / 2.6, "MC3423 sheet: sense trip voltage 2.45 to 2.75 V")),
  drift: (coldest, hottest) =>
    number(
      fromMemory(2.6 * 0.06e-2 * Math.max(25 - coldest, hottest - 25), "MC3423 sheet: 0.06 %/K, taken to either side"),
    ),
  current: number(assumed(0, "small beside the divider's current; no figure known")),
  currentSpread: number(assumed(0, "small beside the divider's current; no figure known")),
  delay: number(published(1e-6, "MC3423 sheet")),
};

const zenerSheet = "BZX85C sheet";

function zener(nominal: number, low: number, high: number, current: number, isPrinted: boolean): ZenerDevice {
  const cite = isPrinted ? published : fromMemory;
  return {
    kind: "zener",
    name: `zener ${nominal} V`,
    about: `zener diode ${nominal} V from the line to the gate`,
    nominal,
    low: number(cite(low, zenerSheet)),
    high: number(cite(high, zenerSheet)),
    testCurrent: number(fromMemory(current, zenerSheet)),
    resistance: number(fromMemory(15, `${zenerSheet}, differential resistance at the test current`)),
    drift: number(fromMemory(0.075e-2, `${zenerSheet}, 0.055 to 0.09 %/K`)),
    delay: INSIDE_TURN_ON,
  };
}

/** From coarse to fine. */
export const THRESHOLDS: readonly ThresholdDevice[] = [
  zener(12, 11.4, 12.7, 20e-3, false),
  zener(13, 12.4, 14.1, 20e-3, false),
  zener(15, 13.8, 15.6, 15e-3, true),
  zener(16, 15.3, 17.1, 15e-3, true),
  zener(18, 16.8, 19.1, 15e-3, false),
  sensingIc,
  shuntReference(2),
  shuntReference(1),
  shuntReference(0.5),
];

/** Names of the threshold devices, for instance `shunt reference 1 %`. */
export const thresholdNames: readonly string[] = THRESHOLDS.map(({ name }) => name);

/** @throws RangeError for a name that is none of `thresholdNames` */
export function thresholdDevice(name: string): ThresholdDevice {
  const found = THRESHOLDS.find((each) => each.name === name);
  if (found === undefined) throw new RangeError(`no threshold device is called "${name}"`);
  return found;
}

/** What an SCR's gate asks for. Currents in A at 25 °C. */
export interface Gate {
  readonly low: Cited<number>;
  readonly high: Cited<number>;
}

/** Trigger currents of the part classes, mA at 25 °C: least and largest of their sheets. */
const GATES: Readonly<Record<string, readonly [number, number]>> = {
  "SCR 8 A": [2, 15],
  "SCR 12 A": [2, 15],
  "SCR 16 A": [2, 25],
  "SCR 25 A": [4, 40],
  "SCR 25 A, crowbar grade": [2, 30],
  "SCR 40 A": [3.5, 35],
  "SCR 50 A": [8, 80],
  "SCR 55 A": [5, 40],
};

/** The trigger current of an SCR class; of an unknown one, that of the most demanding class and the least of all. */
export function gateOf(label: string): Gate {
  const known = Object.hasOwn(GATES, label) ? GATES[label] : null;
  if (known === null) {
    const unknown = "no class known: from the least to the largest of all classes";
    return { low: number(assumed(2e-3, unknown)), high: number(assumed(80e-3, unknown)) };
  }
  const sheet = `sheet of the ${label} class`;
  return { low: number(published(known[0] / 1e3, sheet)), high: number(published(known[1] / 1e3, sheet)) };
}

/** Factor on a gate's trigger current: about 2.25 at −40 °C (2N6504 sheet: 2 to 2.5), on a straight line through 1 at 25 °C. */
export const gateCurrentFactor = (temperature: number): number => Math.max(0.5, 1 + (1.25 * (25 - temperature)) / 65);

/** Voltage of a gate that fires, V at 25 °C, and its change for each kelvin. */
export const GATE_VOLTAGE = {
  low: number(fromMemory(0.6, "SCR sheets, the least that fires one")),
  usual: number(fromMemory(0.8, "SCR sheets, usual")),
  high: number(fromMemory(1.5, "SCR sheets, the most that is needed")),
  drift: number(commonPractice(-2e-3, "a silicon junction, −2 mV/K")),
};
