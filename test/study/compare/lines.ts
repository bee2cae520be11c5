import { readFileSync } from "node:fs";
import { join } from "node:path";
import { type CompareOptions, type Comparison, compareSchemes, type JudgedRow } from "@railfault/sim";
import { root } from "../../ground/files.ts";

/** A shipped scenario file. */
export function shippedText(name: string): string {
  return readFileSync(join(root, "packages/sim/scenarios", `${name}.yaml`), "utf8");
}

/** The line of a shipped file with these variants. */
export function withVariants(name: string, variants: string): string {
  return `${shippedText(name)}variants:\n${variants}`;
}

export function compared(text: string, options: CompareOptions = {}): Comparison {
  const found = compareSchemes(text, "hut.yaml", options);
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("\n"));
  return found;
}

export function rowOf({ rows }: Comparison, name: string): JudgedRow {
  const row = rows.find((each) => each.name === name);
  if (row?.kind !== "judged") throw new Error(`no verdict for "${name}"`);
  return row;
}
