import type { Finding, Pending, TooClose } from "./types.ts";

/** Something was used beyond its rating, or nobody can say how it ends. */
export function isBeyond({ severity }: Finding): boolean {
  return severity === "beyond" || severity === "unknown";
}

const AT_LOADS: readonly Pending["kind"][] = ["set voltage moving", "voltage rising with charge", "above its maximum"];

/** A pending matter that, where it passes a rating, passes that of a load. */
const endangersLoad = ({ kind }: Pending): boolean => AT_LOADS.includes(kind);

/**
 * Exit status of the command for a verdict: 0 every load safe and nothing beyond its rating; 1 a load endangered, or too close to call;
 * 4 every load safe but something else beyond its rating. What the end of the run cuts off counts as its estimate says. A fuse that did its work is
 * no finding, and a surge used up is inside its rating.
 */
export function exitStatus(
  safe: boolean,
  close: readonly TooClose[],
  findings: readonly Finding[],
  pending: readonly Pending[],
): 0 | 1 | 4 {
  const coming = pending.filter(({ passesRating }) => passesRating);
  if (!safe || close.length > 0 || coming.some(endangersLoad)) return 1;
  return coming.length > 0 || findings.some(isBeyond) ? 4 : 0;
}
