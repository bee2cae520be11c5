import { assumed, commonPractice, computed, fromMemory, partClass, transcribed } from "./cite.ts";
import type { PartClass } from "./types.ts";

const OPEN_CIRCUIT = 21.6;
const OPEN_CIRCUIT_COLD = 24.2;
/** Open-circuit voltage over the knee voltage of the exponential. */
const KNEE = 16;

function panel(name: string, about: string, openCircuit: number, source: string): PartClass {
  return partClass("panel", name, about, {
    shortCircuitCurrent: fromMemory(6, "a 36-cell panel of 100 W"),
    openCircuitVoltage: transcribed(openCircuit, source),
    kneeVoltage: computed(openCircuit / KNEE, "open-circuit voltage over 16"),
    outputCapacitance: assumed(1e-3, "output capacitor of a small controller"),
    esr: commonPractice(50e-3, "electrolytic capacitor, 5 to 50 mohm"),
  });
}

/** Solar panels of 36 cells behind a controller. */
export const PANELS: readonly PartClass[] = [
  panel("solar panel 100 W", "36 cells, in the warm", OPEN_CIRCUIT, "36-cell panel: 21 to 21.6 V"),
  panel(
    "solar panel 100 W, cold",
    "36 cells, on a cold clear day",
    OPEN_CIRCUIT_COLD,
    "36-cell panel: 21.6 V, 12 % more in the cold",
  ),
];
