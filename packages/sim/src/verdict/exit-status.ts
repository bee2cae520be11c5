import type { Finding, TooClose } from "./types.ts";

/** Something was used beyond its rating, or nobody can say how it ends. */
export function isBeyond({ severity }: Finding): boolean {
  return severity === "beyond" || severity === "unknown";
}

/**
 * Exit status of the command for a verdict: 0 every load safe and nothing beyond its rating; 1 a load endangered, or too close to call;
 * 4 every load safe but something else beyond its rating. A fuse that did its work is no finding, and a surge used up is inside its rating.
 */
export function exitStatus(safe: boolean, close: readonly TooClose[], findings: readonly Finding[]): 0 | 1 | 4 {
  if (!safe || close.length > 0) return 1;
  return findings.some(isBeyond) ? 4 : 0;
}
