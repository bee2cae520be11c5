import { max, median, scaleLinear, scaleSymlog } from "d3";
import type { Stretch } from "./curve.ts";
import { formatNumber } from "./time-format.ts";

/** The upright scale of one panel. */
export interface ValueScale {
  readonly domain: readonly [number, number];
  position(value: number): number;
  readonly ticks: readonly { readonly y: number; readonly label: string }[];
  /** Above this size the scale is compressed; null for a linear one. */
  readonly compressedAbove: number | null;
}

interface Height {
  readonly top: number;
  readonly bottom: number;
}

const tickSpacing = 30;

/** A linear scale that covers the extent, from zero where zero is near. */
export function linearScale(extent: readonly [number, number], height: Height): ValueScale {
  const [low, high] = roomy(extent);
  const count = Math.max(2, Math.floor((height.bottom - height.top) / tickSpacing));
  const scale = scaleLinear([low, high], [height.bottom, height.top]);
  return {
    domain: [low, high],
    position: (value) => scale(value),
    ticks: scale.ticks(count).map((value) => ({ y: scale(value), label: formatNumber(value, 6) })),
    compressedAbove: null,
  };
}

function roomy([low, high]: readonly [number, number]): readonly [number, number] {
  const padding = 0.06 * (high - low) || Math.max(0.1 * Math.abs(high), 0.5);
  const nearZero = low >= 0 && low - padding < 0.35 * high;
  return [nearZero ? 0 : low - padding, high <= 0 && high > -padding ? 0 : high + padding];
}

/**
 * Where a scale should begin to compress so that a spike of hundreds of amperes leaves the rest readable:
 * half of what usually flows, as a round number; null where a linear scale shows everything.
 */
export function compressionOf(curves: readonly (readonly Stretch[])[]): number | null {
  const sizes = curves.flatMap((parts) => parts.flatMap((part) => Array.from(part.values, Math.abs)));
  const peak = max(sizes) ?? 0;
  const usual = median(sizes.filter((size) => size > 0.02 * peak)) ?? 0;
  if (!(usual > 0) || peak < 8 * usual) return null;
  const round = [1, 2, 5].flatMap((digit) => [-2, -1, 0, 1, 2, 3].map((power) => Number(`${digit}e${power}`)));
  return max(round.filter((value) => value <= usual)) ?? null;
}

/** Nearly linear up to `knee`, logarithmic above it, both ways. */
export function compressedScale(extent: readonly [number, number], knee: number, height: Height): ValueScale {
  const low = Math.min(0, extent[0] * 1.1);
  const high = Math.max(extent[1] * 1.15, knee);
  const scale = scaleSymlog([low, high], [height.bottom, height.top]).constant(knee);
  const steps = [0, ...[1, 2, 4, 10, 20, 40, 100, 200, 400, 1000].map((factor) => factor * knee)];
  const candidates = [...steps, ...steps.slice(1).map((value) => -value)].filter((v) => v >= low && v <= high);
  const ticks: { y: number; label: string }[] = [];
  for (const value of candidates) {
    const y = scale(value);
    if (ticks.every((tick) => Math.abs(tick.y - y) >= 17)) ticks.push({ y, label: formatNumber(value, 6) });
  }
  return { domain: [low, high], position: (value) => scale(value), ticks, compressedAbove: knee };
}
