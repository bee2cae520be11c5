import fc from "fast-check";
import { stringify } from "yaml";
import { simulate } from "../../../packages/sim/src/model/run.ts";
import { parseScenario } from "../../../packages/sim/src/scenario/index.ts";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";
import { writtenLine } from "./written-line.ts";

/** What the reader refuses of lines that the model would take: they make no sense, or say what has no effect. */
const REFUSED = new Set(["not-above", "key-without-effect", "contradiction"]);

/** A line and what is read of it when it was written down to the last digit: the same scenario, the same run to the last bit. */
export function readAlike(scenario: Scenario): string[] {
  const line = expressible(scenario);
  const { scenario: read, issues } = parseScenario(stringify(writtenLine(line)), "any-line.yaml");
  const errors = issues.filter(({ severity }) => severity === "error");
  if (read === null) {
    fc.pre(errors.some(({ code }) => !REFUSED.has(code)));
    return errors.map(({ code, message }) => `refused: ${code}, ${message}`);
  }
  const other = firstOther("", line, read);
  if (other !== null) return [other];
  const [one, two] = [line, read].map((each) => simulate(each, { record: false, leaps: false }));
  const events = firstOther("events", one.events, two.events) ?? firstOther("energy", one.energy, two.energy);
  return events === null ? [] : [events];
}

/** Without what no file says: that a value is only assumed, a schedule of a lamp, a switch-on of what runs already. */
function expressible(scenario: Scenario): Scenario {
  return {
    ...scenario,
    crowbar: scenario.crowbar && { ...scenario.crowbar, inductanceAssumed: false },
    sources: scenario.sources.map((source) =>
      source.kind === "supply"
        ? {
            ...source,
            ownCrowbar: source.ownCrowbar && { ...source.ownCrowbar, inductanceAssumed: false },
            switchOn: scenario.start === "dead" ? source.switchOn : { time: 0, rampTime: 0 },
          }
        : source,
    ),
    loads: scenario.loads.map((load) => (load.kind === "lamp" ? { ...load, schedule: [] } : load)),
  };
}

/** Where two values first differ, as a path with both; null where they are the same to the last bit. */
function firstOther(path: string, one: unknown, other: unknown): string | null {
  if (typeof one !== "object" || typeof other !== "object" || one === null || other === null)
    return Object.is(one, other) ? null : `${path}: ${one} was written, ${other} is read`;
  const keys = new Set([...Object.keys(one), ...Object.keys(other)]);
  for (const key of keys) {
    const found = firstOther(`${path}.${key}`, (one as never)[key], (other as never)[key]);
    if (found !== null) return found;
  }
  return null;
}
