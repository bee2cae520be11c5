import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import type { Run } from "../../packages/sim/src/model/result.ts";
import { type Answered, runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { formatIssues } from "../../packages/sim/src/scenario/index.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";
import type { Judged } from "../../packages/sim/src/verdict/types.ts";

const FOLDER = join(import.meta.dirname, "../../packages/sim/scenarios");

/** Names of the shipped files, without folder, in their order. */
export const FILES: readonly string[] = readdirSync(FOLDER)
  .filter((name) => name.endsWith(".yaml"))
  .sort();

export function textOf(file: string): string {
  return readFileSync(join(FOLDER, file), "utf8");
}

/** Comment lines before the first key, joined. */
export function openingOf(file: string): string {
  const lines = textOf(file).split("\n");
  const end = lines.findIndex((line) => !line.startsWith("#"));
  return lines
    .slice(0, end)
    .map((line) => line.replace(/^# ?/, ""))
    .join(" ");
}

export interface Shown extends Answered {
  readonly verdict: Judged;
}

/** Runs a shipped file and insists on a verdict. */
export function show(file: string): Shown {
  const result = runScenario(textOf(file), file);
  if (result.kind === "refused") throw new Error(formatIssues(result.issues));
  const { verdict } = result;
  if (verdict.kind !== "verdict") throw new Error(verdict.headline);
  return { ...result, verdict };
}

export function scenarioOf(file: string): Scenario {
  return show(file).scenario;
}

export function column(run: Run, name: string): Float64Array {
  const found = run.trace.columns.find((each) => each.name === name);
  if (found === undefined) throw new Error(`no column ${name}, but ${run.trace.columns.map((c) => c.name).join(", ")}`);
  return found.values;
}
