import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type Answered, runScenario } from "@railfault/sim";

/** A shipped scenario, run. */
export function answered(name: string): Answered {
  const path = join(import.meta.dirname, "../../../packages/sim/scenarios", `${name}.yaml`);
  const result = runScenario(readFileSync(path, "utf8"), `${name}.yaml`);
  if (result.kind === "refused") throw new Error(`${name} is refused`);
  return result;
}

/** Numbers keep to their units by a no-break space; tests read plain ones. */
export const plain = (text: string | null | undefined): string => (text ?? "").replaceAll("\u00a0", " ");
