import { formatQuantity } from "../../units/index.ts";
import { COPPER_MELTING } from "../conductor.ts";
import { settledTemperature } from "../copper-heat.ts";
import type { Path } from "../keys.ts";
import { meltingCurrentAt } from "../melting-current.ts";
import type { Sheet } from "../sheet.ts";
import type { Lead, Scenario } from "../types.ts";

/** Warns where the surroundings are too hot for a lead's insulation, else where the fuse of a lead carries for good what the lead's insulation does not. */
export function checkWires(sheet: Sheet, scenario: Scenario): void {
  const { mainFuse, sources, loads, ambient } = scenario;
  const guard = (lead: Lead, path: Path, name: string, behindMain: boolean): void => {
    const limit = lead.insulation.continuous;
    if (ambient >= limit) {
      const is = formatQuantity(ambient, "temperature");
      const message = `The surroundings of the lead of ${name}, at ${is}, are as hot as its insulation allows, or hotter.`;
      sheet.warn("surroundings-too-hot", [...path, "lead"], message, {
        allowed: `insulation for more than ${is}`,
        hint: "take other insulation, or check `ambient`",
        received: null,
      });
      return;
    }
    const fuse = lead.fuse ?? (behindMain ? mainFuse : null);
    if (fuse === null) return;
    const carried = meltingCurrentAt(fuse, ambient);
    // A fuse that was refused has no current to hold its wire against.
    if (!Number.isFinite(carried)) return;
    const end = settledTemperature(lead, carried, ambient);
    if (end > limit) {
      const current = formatQuantity(carried, "current");
      const hot = end < COPPER_MELTING ? `about ${formatQuantity(end, "temperature")}` : "its melting point";
      const message = `${fuse.label} does not protect the lead of ${name}: ${current}, which never melts it, would bring the wire to ${hot}.`;
      sheet.warn("wire-not-protected", [...path, "lead"], message, {
        allowed: `insulation up to ${formatQuantity(limit, "temperature")}`,
        hint: "take a thicker wire or a smaller fuse",
        received: null,
      });
    }
  };
  // The current of a single source all passes the main fuse; of several, only an in-line fuse guards a lead.
  sources.forEach((source, index) => {
    guard(source.lead, ["sources", index], source.name, sources.length === 1);
  });
  loads.forEach((load, index) => {
    guard(load.lead, ["loads", index], load.name, true);
  });
}
