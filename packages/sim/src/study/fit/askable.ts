import { describedPaths, describeValue } from "../../scenario/describe.ts";
import type { ScenarioResult } from "../../scenario/index.ts";
import type { Path } from "../../scenario/keys.ts";

/** Last words of paths that a capture is able to tell, in the order in which people ask. */
const ASKED = [
  "trip voltage",
  "sense filter",
  "current",
  "detection time",
  "off time",
  "ramp time",
  "set voltage",
  "source resistance",
  "slew",
  "pass resistance",
  "ceiling voltage",
  "output capacitance",
  "input capacitance",
  "esr",
  "length",
  "resistance",
  "inductance",
  "threshold voltage",
  "slope resistance",
  "holding current",
  "turn on delay",
];

/** Values that no waveform tells, whatever they are called. */
const NEVER = /^(?:ratings|limits|nodes|insulation)$/;

/**
 * Paths of the numbers of a scenario that a capture may tell, be they written, of a part class or defaults: those that people ask for first come first. All are above zero.
 *
 * @param parsed what `parseScenario` gave
 * @example askablePaths(parseScenario(text, "hut.yaml"))[0] // ["crowbar", "trip voltage"]
 */
export function askablePaths(parsed: Pick<ScenarioResult, "written" | "origins">): Path[] {
  const found = describedPaths(parsed).flatMap((path) => {
    const rank = ASKED.indexOf(String(path.at(-1)));
    if (rank < 0 || path.some((step) => NEVER.test(String(step)))) return [];
    const value = describeValue(parsed, path);
    return value !== null && typeof value.value === "number" && value.value > 0 ? [{ rank, path }] : [];
  });
  return found.toSorted((a, b) => a.rank - b.rank).map(({ path }) => path);
}
