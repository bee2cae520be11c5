import type { HybridSystem } from "./types.ts";

/** A state may drift by this share of its size until the end and still counts as at rest. */
const SMALLEST_DRIFT = 1e-6;

/** Nothing moves any more: |x'|·(time left) is below a millionth of each state's size. `rates` is room to work in. */
export function nothingMoves(
  system: HybridSystem,
  local: number,
  y: Float64Array,
  left: number,
  rates: Float64Array,
): boolean {
  if (!(left > 0) || system.restless()) return false;
  system.rates(local, y, rates);
  for (let i = 0; i < y.length; i++) {
    if (!(Math.abs(rates[i]) * left < SMALLEST_DRIFT * Math.max(Math.abs(y[i]), system.scales[i]))) return false;
  }
  return true;
}
