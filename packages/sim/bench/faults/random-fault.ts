import { readFileSync } from "node:fs";
import { join } from "node:path";
import { resolveScenario, type Scenario, type ScenarioText } from "../../src/index.ts";
import { Draws } from "../draws.ts";

/*
 * `ranges.json` is a scenario in which
 *   "13.2 to 14 V"                      is a number drawn evenly, with `by decades` evenly in its logarithm;
 *   {"one of": […]}                     is one of these;
 *   {"maybe": 0.3, "what": …}           is there in three of ten;
 *   {"all of": [{…}, {…}]}              is one map with the keys of all.
 */
type Template = string | readonly Template[] | { readonly [key: string]: Template | number };

const range = /^(-?[\d.]+) to (-?[\d.]+)(?: (.+?))?( by decades)?$/;

/** What is to be drawn from. */
export function readRanges(): Template {
  return JSON.parse(readFileSync(join(import.meta.dirname, "ranges.json"), "utf8")) as Template;
}

/** The random fault of a seed as a user would write it. */
export function randomFault(ranges: Template, seed: number): ScenarioText {
  return drawn(ranges, new Draws(seed)) as ScenarioText;
}

/** The complete scenario of a random fault. @throws Error where the ranges allow one that is refused */
export function scenarioOfFault(ranges: Template, seed: number): Scenario {
  const { scenario, issues } = resolveScenario(randomFault(ranges, seed));
  if (scenario === null)
    throw new Error(`random fault ${seed}: ${issues.find(({ severity }) => severity === "error")?.message}`);
  return scenario;
}

function drawn(template: Template, draws: Draws): unknown {
  if (typeof template === "string") return quantity(template, draws);
  if (isList(template)) return template.map((each) => drawn(each, draws)).filter((each) => each !== undefined);
  const { maybe, what, "one of": oneOf, "all of": allOf } = template;
  if (maybe !== undefined) {
    // Drawn even where it is not kept, so that a share may be changed without changing all else.
    const [kept, value] = [draws.chance(maybe as number), drawn(what as Template, draws)];
    return kept ? value : undefined;
  }
  if (oneOf !== undefined) return drawn(draws.one(...(oneOf as readonly Template[])), draws);
  if (allOf !== undefined)
    return Object.assign({}, ...(allOf as readonly Template[]).map((each) => drawn(each, draws)));
  const entries = Object.entries(template).map(([key, value]) => [key, drawn(value as Template, draws)] as const);
  return Object.fromEntries(entries.filter(([, value]) => value !== undefined));
}

function isList(template: Exclude<Template, string>): template is readonly Template[] {
  return Array.isArray(template);
}

function quantity(text: string, draws: Draws): string {
  const parts = range.exec(text);
  if (parts === null) return text;
  const [a, b] = [Number(parts[1]), Number(parts[2])];
  const value = parts[4] ? draws.decades(a, b) : draws.between(a, b);
  return `${Number(value.toPrecision(6))}${parts[3] ? ` ${parts[3]}` : ""}`;
}
