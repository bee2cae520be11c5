import { max, scaleLinear, scaleSymlog, sum } from "d3";
import type { Stretch } from "./curve.ts";
import { formatNumber } from "./time-format.ts";

/** The upright scale of one panel. */
export interface ValueScale {
  readonly domain: readonly [number, number];
  position(value: number): number;
  /** The value at a height, CSS pixels; also beyond the frame. */
  invert(y: number): number;
  readonly ticks: readonly { readonly y: number; readonly label: string }[];
  /** Above this size the scale is compressed; null for a linear one. */
  readonly compressedAbove: number | null;
}

interface Height {
  readonly top: number;
  readonly bottom: number;
}

const tickSpacing = 30;
/** Ticks that are asked for until two come. */
const MOST_ASKED = 9;
/** Peak over usual current from which on a linear scale would press the usual flat. */
const dwarfing = 10;

/** A linear scale that covers the extent, from zero where zero is near. */
export function linearScale(extent: readonly [number, number], height: Height): ValueScale {
  const [low, high] = roomy(extent);
  const scale = scaleLinear([low, high], [height.bottom, height.top]);
  let count = Math.max(2, Math.floor((height.bottom - height.top) / tickSpacing));
  // Asked for two, some extents give a single one, off which no scale can be read.
  while (count < MOST_ASKED && scale.ticks(count).length < 2) count++;
  return {
    domain: [low, high],
    position: (value) => scale(value),
    invert: (y) => scale.invert(y),
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
 * Where a scale should begin to compress so that a spike of hundreds of amperes leaves the rest readable: what usually
 * flows in the busiest lead, as a round number; null where a linear scale shows everything.
 */
export function compressionOf(curves: readonly (readonly Stretch[])[]): number | null {
  const peak = max(curves, (parts) => max(parts, (part) => max(part.values, Math.abs))) ?? 0;
  const usual = max(curves, usualSize) ?? 0;
  if (!(usual > 1e-3 * peak) || peak < dwarfing * usual) return null;
  const round = [1, 2, 5].flatMap((digit) => [-2, -1, 0, 1, 2, 3].map((power) => Number(`${digit}e${power}`)));
  return max(round.filter((value) => value <= usual)) ?? null;
}

/** The size that is exceeded along half of the axis, however unevenly it is sampled. */
function usualSize(parts: readonly Stretch[]): number {
  const steps = parts.flatMap(({ x, values }) =>
    Array.from(x.subarray(1), (right, i) => ({ width: right - x[i], size: Math.abs(values[i]) })),
  );
  steps.sort((a, b) => a.size - b.size);
  let remaining = sum(steps, (step) => step.width) / 2;
  for (const step of steps) {
    remaining -= step.width;
    if (remaining <= 0) return step.size;
  }
  return 0;
}

/** Nearly linear up to `knee`, logarithmic above it, both ways. */
export function compressedScale(extent: readonly [number, number], knee: number, height: Height): ValueScale {
  const low = Math.min(0, extent[0] * 1.1);
  const high = Math.max(extent[1] * 1.15, knee);
  const scale = scaleSymlog([low, high], [height.bottom, height.top]).constant(knee);
  const powers = [-1, 0, 1, 2, 3, 4];
  const steps = [1, 2, 5].flatMap((digit) => powers.map((power) => Number(`${digit}e${power}`)));
  // Where room is short the powers of ten stay, then the twos.
  const candidates = [0, ...steps, ...steps.map((step) => -step)].filter((value) => value >= low && value <= high);
  const ticks: { y: number; label: string }[] = [];
  for (const value of candidates) {
    const y = scale(value);
    if (ticks.every((tick) => Math.abs(tick.y - y) >= 17)) ticks.push({ y, label: formatNumber(value, 6) });
  }
  return {
    domain: [low, high],
    position: (value) => scale(value),
    invert: (y) => scale.invert(y),
    ticks,
    compressedAbove: knee,
  };
}
