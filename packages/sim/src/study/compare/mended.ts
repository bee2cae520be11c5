import type { Scenario } from "../../scenario/types.ts";
import type { Mended } from "./types.ts";

/** What failed at the supply side: every line that has that source must mend it, whatever protects it. */
export function mendedSources({ sources }: Scenario): readonly Mended[] {
  return sources.flatMap((source): readonly Mended[] => {
    if (source.kind === "battery" || source.fault.kind === "none") return [];
    const { kind: fault } = source.fault;
    return [{ source: source.name, fault, step: fault === "voltage turned up" ? "set back" : "repair" }];
  });
}
