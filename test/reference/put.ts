import { readFileSync } from "node:fs";
import { join } from "node:path";

export type Tree = Record<string, unknown>;

/** Every reference case with what is expected of it, read anew. */
export function readCases(): { readonly case: Tree; readonly expected: Tree }[] {
  return JSON.parse(readFileSync(join(import.meta.dirname, "cases.json"), "utf8"));
}

/** Another value at a place such as `feeds.0.lead`; undefined: none. */
export function put(tree: object, place: string, value: unknown): void {
  const keys = place.split(".");
  const last = keys.pop() ?? "";
  keys.reduce((at, key) => at[key] as Tree, tree as Tree)[last] = value;
}
