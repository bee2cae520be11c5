import { parseScenario, type ScenarioResult } from "../../scenario/index.ts";
import type { Collected } from "./collect.ts";

/** The scenario that a study is of. @throws RangeError where the text is none: a file that holds runs may have been changed */
export function studied({ text, file }: Collected): Pick<ScenarioResult, "spreads" | "about"> & {
  readonly scenario: NonNullable<ScenarioResult["scenario"]>;
} {
  const { scenario, spreads, about } = parseScenario(text, file);
  if (scenario === null) throw new RangeError(`${file} is no valid scenario`);
  return { scenario, spreads, about };
}
