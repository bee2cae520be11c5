import type { Curve } from "../../capture/judge/curve.ts";
import { flatTopOf } from "../../capture/judge/flat-top.ts";
import { resolutionOf } from "../../capture/judge/resolution.ts";
import type { Resolution } from "../../capture/judge/types.ts";

/** An end of an instrument's range, V or A, and how many samples stand at it. */
export interface CutOff {
  readonly value: number;
  readonly samples: number;
}

/** Ends at which an instrument cut a curve off, which samples stand there, and how well it knows the others. */
export function cutOffs(curve: Curve): {
  readonly ends: readonly CutOff[];
  readonly isCut: Uint8Array;
  readonly resolution: Resolution;
} {
  const resolution = resolutionOf(curve);
  const { values } = curve;
  const isCut = new Uint8Array(values.length);
  const ends = [1, -1].flatMap((side): CutOff[] => {
    const upright = side > 0 ? curve : { ...curve, values: values.map((value) => -value) };
    const flat = flatTopOf(upright, side > 0 ? resolution : resolutionOf(upright));
    if (flat?.clipped !== true) return [];
    const value = values[curve.time.indexOf(flat.time)];
    let samples = 0;
    for (let i = 0; i < values.length; i++) {
      if (values[i] !== value) continue;
      isCut[i] = 1;
      samples++;
    }
    return [{ value, samples }];
  });
  return { ends, isCut, resolution: ends.length === 0 ? resolution : resolutionOf(without(curve, isCut)) };
}

/** What stands at an end of the range has no noise: of the rest alone it can be told. */
function without(curve: Curve, isCut: Uint8Array): Curve {
  const pieces = curve.pieces.flatMap(([first, end]) => {
    const parts: [number, number][] = [];
    for (let i = first; i < end; i++) {
      if (isCut[i] === 1) continue;
      const last = parts.at(-1);
      if (last !== undefined && last[1] === i) last[1] = i + 1;
      else parts.push([i, i + 1]);
    }
    return parts;
  });
  return pieces.length === 0 ? curve : { ...curve, pieces };
}
