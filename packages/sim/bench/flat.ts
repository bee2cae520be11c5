import type { Run } from "../src/index.ts";
import { meltingCurrentAt } from "../src/scenario/melting-current.ts";
import type { Fuse, Scenario } from "../src/scenario/types.ts";

/**
 * The whole scenario with the state it starts from as lines `path<tab>value`, for a program in another language: the very same model,
 * nothing written twice. Every fuse carries its melting current at the scenario's ambient temperature as well.
 */
export function flattened(scenario: Scenario, operatingPoint: Run["operatingPoint"], tolerance: number): string {
  const { start, ...rest } = scenario;
  const rated = withMeltingCurrents(rest, scenario.ambient);
  const lines = [`tolerance\t${tolerance}`, `start of run\t${start}`, ...linesOf("", rated)];
  for (const [name, value] of Object.entries(operatingPoint)) lines.push(`start.${name}\t${value}`);
  return `${lines.join("\n")}\n`;
}

function linesOf(path: string, value: unknown): string[] {
  if (Array.isArray(value))
    return [
      `${path}\tlist`,
      `${path}.length\t${value.length}`,
      ...value.flatMap((each, k) => linesOf(`${path}.${k}`, each)),
    ];
  if (typeof value === "object" && value !== null)
    return [
      ...(path === "" ? [] : [`${path}\tmap`]),
      ...Object.entries(value).flatMap(([key, each]) => linesOf(path === "" ? key : `${path}.${key}`, each)),
    ];
  return [`${path}\t${value}`];
}

function withMeltingCurrents(value: unknown, ambient: number): unknown {
  if (Array.isArray(value)) return value.map((each) => withMeltingCurrents(each, ambient));
  if (typeof value !== "object" || value === null) return value;
  const inner = Object.fromEntries(
    Object.entries(value).map(([key, each]) => [key, withMeltingCurrents(each, ambient)]),
  );
  return "minimumMeltingCurrent" in value
    ? { ...inner, meltingCurrentAtAmbient: meltingCurrentAt(value as Fuse, ambient) }
    : inner;
}
