import { risesBeyondFull, TELLING } from "../beyond-full.ts";
import { BATTERIES } from "../parts/batteries.ts";
import { availableFrom } from "../prospective.ts";
import type { Sheet } from "../sheet.ts";
import type { Battery, Scenario, Source } from "../types.ts";

/**
 * Warns where a fault can push a battery past full within the run while its EMF is told by a line without a rise beyond full. What can be pushed is
 * bounded by voltage over resistance and by a limit that still works; what a protector or a fuse ends first, the run finds.
 */
export function warnPastFull(sheet: Sheet, { sources, faultTime, endTime }: Scenario): void {
  sources.forEach((battery, index) => {
    if (battery.kind !== "battery" || risesBeyondFull(battery)) return;
    const missing = Math.max(0, 1 - battery.initialCharge);
    const full = battery.emf + missing * battery.emfPerCharge;
    const pushing = sources.filter((source) => isFaulty(source) && availableFrom(source).voltage > full);
    const current = pushing.reduce((sum, source) => sum + pushed(source, battery, full), 0);
    if (!(current * (endTime - faultTime) > 3600 * battery.capacityAh * (missing + TELLING))) return;
    const path = ["sources", index];
    const part = sheet.received([...path, "part"]);
    const better = BATTERIES.find(({ name }) => name === `${part}, overcharge`);
    const points = "give its `emf table` points beyond full";
    sheet.warn(
      "no-rise-beyond-full",
      part === null ? path : [...path, "part"],
      `The fault of ${pushing.map(({ name }) => name).join(" and ")} can charge ${battery.name} past full within this run, but the EMF of ${battery.name} has no steep rise there, as a real one's has: times told from there on are too long, voltages too low.`,
      { hint: better === undefined ? points : `write \`part: ${better.name}\`, or ${points}` },
    );
  });
}

const isFaulty = (source: Source): boolean => source.kind !== "battery" && source.fault.kind !== "none";

/** Current into a full battery, A. */
function pushed(source: Source, battery: Battery, full: number): number {
  const { voltage, current } = availableFrom(source);
  const resistance = battery.internalResistance + battery.lead.resistance + source.lead.resistance;
  return Math.min(current, (voltage - full) / resistance);
}
