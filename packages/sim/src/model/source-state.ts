import type { Regulator } from "../devices/regulator.ts";
import type { SourceFindings } from "./result.ts";

/** What a source does; its place in the list is the number in the trace's `…_state` column. */
export const SOURCE_STATES = [
  "off",
  "running",
  "limiting",
  "latched off",
  "not switched on",
] as const satisfies readonly SourceFindings["stateAtEnd"][];

/** What a source does at the moment; batteries and panels always run. */
export function sourceState(regulator: Regulator | null): SourceFindings["stateAtEnd"] {
  switch (regulator?.phase) {
    case "off":
      return "off";
    case "latched":
      return "latched off";
    case "waiting":
      return "not switched on";
    default:
      return regulator?.limiting ? "limiting" : "running";
  }
}
