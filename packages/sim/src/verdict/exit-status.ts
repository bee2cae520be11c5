import type { Finding, Pending, TooClose } from "./types.ts";

/** Something was used beyond its rating, or nobody can say how it ends. */
export function isBeyond({ severity }: Finding): boolean {
  return severity === "beyond" || severity === "unknown";
}

const AT_LOADS: readonly Pending["kind"][] = ["set voltage moving", "voltage rising with charge", "above its maximum"];

/**
 * Something that goes on when the run ends takes a load past what it stands, by estimate: until now it is safe or has withstood it, no more.
 */
export const endangeredLater = (pending: readonly Pending[]): boolean =>
  pending.some(({ kind, passesRating }) => passesRating && AT_LOADS.includes(kind));

/**
 * Exit status of the command for a verdict: 0 every load safe and nothing beyond its rating; 1 a load above its maximum, withstood or beyond, or too close to call;
 * 4 every load safe but something else beyond its rating. What the end of the run cuts off counts as its estimate says. A fuse that did its work is
 * no finding, and a surge used up is inside its rating.
 */
export function exitStatus(
  safe: boolean,
  close: readonly TooClose[],
  findings: readonly Finding[],
  pending: readonly Pending[],
): 0 | 1 | 4 {
  if (!safe || close.length > 0 || endangeredLater(pending)) return 1;
  return pending.some(({ passesRating }) => passesRating) || findings.some(isBeyond) ? 4 : 0;
}
