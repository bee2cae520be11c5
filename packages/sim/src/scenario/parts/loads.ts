import { assumed, commonPractice, computed, fromMemory, partClass } from "./cite.ts";
import type { Cited, PartClass } from "./types.ts";

const WINDOW = "input window of radios: 13.8 V ± 15 %; some makers say ± 10 % or 11 to 15 V";

function radio(name: string, about: string, current: Cited, inputCapacitance: Cited): PartClass {
  return partClass("load", name, about, {
    kind: commonPractice("constant current", "usual for radios; receiving is the worst case for the fault"),
    current,
    inputCapacitance,
    "limits.minimum": commonPractice(11.73, WINDOW),
    "limits.maximum": commonPractice(15.87, WINDOW),
  });
}

const LARGE_INPUT = commonPractice(2.2e-3, "100 W radios: 0.5 to 4 mF");
const SMALL_INPUT = assumed(1e-3, "between a half and a quarter of a 100 W radio's");

/** Time constant in s of a lamp near its operating point; from cold its current comes within a tenth in 50 to 100 ms. */
const LAMP_TIME_CONSTANT = 0.025;
const FILAMENT = 2800;
const EXPONENT = 1.2;

function lamp(power: number): PartClass {
  // Near T_n the radiated power rises with T⁴ and the electrical one falls with T^−a at a constant voltage.
  const heatCapacity = (LAMP_TIME_CONSTANT * (4 + EXPONENT) * power) / FILAMENT;
  return partClass("load", `incandescent lamp 12 V ${power} W`, "halogen or signal lamp as a dummy load", {
    kind: commonPractice("lamp", "its name"),
    nominalPower: commonPractice(power, "its name"),
    nominalVoltage: commonPractice(12, "its name"),
    nominalTemperature: commonPractice(FILAMENT, "filament of a vacuum or halogen lamp, K"),
    exponent: commonPractice(EXPONENT, "resistance of tungsten over temperature; gives I ∝ V^0.54"),
    heatCapacity: computed(heatCapacity, "so that it settles in 50 to 100 ms from cold, as lamps do"),
    inputCapacitance: commonPractice(0, "a lamp has none"),
    "limits.minimum": assumed(0, "a lamp stands any lower voltage"),
    "limits.maximum": assumed(16, "a third above nominal; its life shortens, nothing else is hurt"),
  });
}

/** Loads. Radios receive unless their name says otherwise; a schedule makes them transmit. */
export const LOADS: readonly PartClass[] = [
  radio(
    "100 W radio",
    "receiving: worst case for an over-voltage",
    commonPractice(1.5, "receive 1 to 2 A"),
    LARGE_INPUT,
  ),
  radio(
    "100 W radio, transmitting",
    "transmitting without a pause",
    commonPractice(21, "transmit 20 to 23 A"),
    LARGE_INPUT,
  ),
  radio("25 W mobile radio", "receiving", fromMemory(0.5, "receive 0.3 to 0.7 A"), SMALL_INPUT),
  radio(
    "25 W mobile radio, transmitting",
    "transmitting without a pause",
    fromMemory(6, "transmit 5 to 7 A"),
    SMALL_INPUT,
  ),
  radio("repeater 50 W", "receiving", fromMemory(1, "receive with its controller, 0.7 to 1.5 A"), SMALL_INPUT),
  radio(
    "repeater 50 W, transmitting",
    "transmitting without a pause",
    fromMemory(12, "transmit 10 to 13 A"),
    SMALL_INPUT,
  ),
  lamp(50),
  lamp(21),
];
