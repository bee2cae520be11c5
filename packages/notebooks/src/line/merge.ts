import type { FitMemory } from "@railfault/sim";
import type { Change, Path } from "../kept/state.ts";
import { applyChanges } from "./apply.ts";

/**
 * Changes with others on top. Later ones stand for earlier ones of the same path, and what is changed below a path that
 * is replaced goes with it. What is set back to what the text says anyway is no change any more.
 *
 * @param base the text that the changes are made on
 * @param memory of earlier readings of it
 */
export function mergeChanges(
  base: string,
  before: readonly Change[],
  added: readonly Change[],
  memory?: FitMemory,
): readonly Change[] {
  return added.reduce<readonly Change[]>((kept, change) => {
    const rest = kept.filter(([path]) => !startsWith(path, change[0]));
    const stands = rest.some(([path]) => startsWith(change[0], path));
    const alone = stands ? null : applyChanges(base, [change], memory);
    return alone !== null && alone.refused.length === 0 && alone.text === base ? rest : [...rest, change];
  }, before);
}

/** Whether two paths lead to the same value. */
export function samePath(a: Path, b: Path): boolean {
  return a.length === b.length && startsWith(a, b);
}

/** Whether a path leads through another, or is it. */
export function startsWith(path: Path, start: Path): boolean {
  return path.length >= start.length && start.every((step, i) => path[i] === step);
}
