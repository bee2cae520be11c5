import type { Issue } from "../../issue/issue.ts";

/** Issues as a reader of the text meets them; those without a place last. */
export function inTextOrder(issues: readonly Issue[]): Issue[] {
  const place = ({ position }: Issue): number =>
    position === null ? Number.MAX_SAFE_INTEGER : position.line * 1e6 + position.column;
  return [...issues].sort((a, b) => place(a) - place(b));
}
