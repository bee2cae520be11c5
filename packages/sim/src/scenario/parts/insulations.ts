import { commonPractice, fromMemory, partClass } from "./cite.ts";
import type { PartClass } from "./types.ts";

/** Insulation of leads, °C: for good, and for the seconds of a short circuit. */
export const INSULATIONS: readonly PartClass[] = [
  partClass("insulation", "PVC", "ordinary wire", {
    continuous: commonPractice(70, "PVC wiring"),
    shortCircuit: commonPractice(160, "PVC wiring, up to 5 s"),
  }),
  partClass("insulation", "XLPE", "cross-linked polyethylene", {
    continuous: fromMemory(90, "XLPE wiring"),
    shortCircuit: fromMemory(250, "XLPE wiring, up to 5 s"),
  }),
];
