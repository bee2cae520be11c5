import { runScenario } from "@railfault/sim";
import { expect } from "vitest";
import type { Change } from "../../../packages/notebooks/src/kept/state.ts";
import { applyChanges } from "../../../packages/notebooks/src/line/apply.ts";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { outcomeOf } from "../../../packages/notebooks/src/pages/hiccup/outcome.ts";
import { returnOf } from "../../../packages/notebooks/src/pages/hiccup/return.ts";
import { limitSchemes } from "../../../packages/notebooks/src/pages/hiccup/styles.ts";
import type { RunRequest } from "../../../packages/notebooks/src/run/protocol.ts";

export const open = (name = "02-hiccup-supply", view: Record<string, string> = {}) =>
  new Line({ line: { kind: "shipped", name }, changes: [], view });

/** A line with changes of a reader's. */
export function changed(name: string, ...changes: readonly Change[]): Line {
  const line = open(name);
  line.set("changed", changes);
  return line;
}

/** A run as the page's worker makes it, but for the rows that it leaves out. */
export function answered({ text, file, record, secondRun }: RunRequest) {
  const options = { ...(record === undefined ? {} : { record }), ...(secondRun === undefined ? {} : { secondRun }) };
  const result = runScenario(text, file, options);
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
  return result;
}

/** A style as its picture shows it. */
export function inStyle(line: Line, style: string) {
  const scheme = limitSchemes.find(({ name }) => name === style);
  const { text, refused } = applyChanges(line.now.text, scheme?.changes?.(line.now) ?? []);
  expect(refused).toEqual([]);
  const answer = answered({ text, file: "line.yaml" });
  const outcome = outcomeOf(answer);
  return { answer, outcome, back: returnOf(answer, outcome) };
}
