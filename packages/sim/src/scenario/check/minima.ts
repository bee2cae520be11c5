import { type Dimension, formatQuantity } from "../../units/index.ts";
import type { Path } from "../keys.ts";
import type { Sheet } from "../sheet.ts";
import type { Lead, Scenario } from "../types.ts";

// Below these the line's fastest ringing says nothing about the fault and costs the whole time of a run.
const LEAST = { inductance: 1e-9, resistance: 1e-3, capacitance: 1e-9 } as const;

/** Refuses inductances, series resistances of capacitors and capacitances that are too small to be computed with. */
export function checkMinima(sheet: Sheet, scenario: Scenario): void {
  const least = (dimension: keyof typeof LEAST & Dimension, path: Path, value: number): void => {
    if (value >= LEAST[dimension] || Number.isNaN(value)) return;
    sheet.error("too-small", path, `This ${dimension} is too small to be computed with.`, {
      allowed: `${formatQuantity(LEAST[dimension], dimension)} or more`,
    });
  };
  const lead = (path: Path, { inductance }: Lead): void =>
    least("inductance", [...path, "lead", "inductance"], inductance);
  for (const [key, node] of [
    ["supply side", scenario.nodes.supplySide],
    ["protected side", scenario.nodes.protectedSide],
    ["radio side", scenario.nodes.radioSide],
  ] as const) {
    least("capacitance", ["nodes", key, "capacitance"], node.capacitance);
    least("resistance", ["nodes", key, "resistance"], node.resistance);
  }
  scenario.sources.forEach((source, index) => {
    const path = ["sources", index];
    lead(path, source.lead);
    if (source.kind === "battery") return;
    least("capacitance", [...path, "output capacitance"], source.outputCapacitance);
    least("resistance", [...path, "esr"], source.esr);
    if (source.kind !== "supply") return;
    if (source.reservoir !== null)
      least("capacitance", [...path, "reservoir", "capacitance"], source.reservoir.capacitance);
    if (source.ownCrowbar !== null)
      least("inductance", [...path, "own crowbar", "inductance"], source.ownCrowbar.inductance);
  });
  scenario.loads.forEach((load, index) => {
    const path = ["loads", index];
    lead(path, load.lead);
    const mayBeZero = load.kind === "resistive" || load.kind === "lamp";
    if (mayBeZero && load.inputCapacitance === 0) return;
    least("capacitance", [...path, "input capacitance"], load.inputCapacitance);
    least("resistance", [...path, "esr"], load.esr);
  });
  if (scenario.crowbar !== null) least("inductance", ["crowbar", "inductance"], scenario.crowbar.inductance);
}
