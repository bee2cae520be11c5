import { firstAfter } from "../../trace/place.ts";
import type { Curve } from "./curve.ts";

/** A decaying wave: angular frequency in 1/s, and the rate of its decay, 1/s. */
export interface Shape {
  readonly angular: number;
  readonly rate: number;
}

/** What stands around an instant: level + e^(−rate·x)·(cosine·cos ωx + sine·sin ωx), x in s from `origin`. */
interface Wave extends Shape {
  readonly origin: number;
  readonly level: number;
  readonly cosine: number;
  readonly sine: number;
}

/**
 * A wave of known shape through the samples of a third of its period around an instant, three at least, by least squares. A parabola is no cosine: with four
 * samples a period it puts a crest 12 % too low where it lies between two samples, and right where it lies on one. Null where the curve ends.
 */
export function waveAround({ time, values }: Curve, at: number, shape: Shape): Wave | null {
  const high = firstAfter(time, at, 1, time.length - 1);
  const step = time[high] - time[high - 1];
  const place = at - time[high - 1] < time[high] - at ? high - 1 : high;
  const wished = Math.max(1, Math.floor(Math.PI / shape.angular / step / 3));
  const width = Math.min(wished, place, values.length - 1 - place);
  if (!(width >= 1)) return null;
  const origin = time[place];
  let [n, c, d, y, cc, dd, cd, cy, dy] = [0, 0, 0, 0, 0, 0, 0, 0, 0];
  for (let k = place - width; k <= place + width; k++) {
    const x = time[k] - origin;
    const size = Math.exp(-shape.rate * x);
    const [cosine, sine] = [size * Math.cos(shape.angular * x), size * Math.sin(shape.angular * x)];
    n++;
    c += cosine;
    d += sine;
    y += values[k];
    cc += cosine * cosine;
    dd += sine * sine;
    cd += cosine * sine;
    cy += cosine * values[k];
    dy += sine * values[k];
  }
  // About the means, so that the level takes no part.
  [cc, dd, cd, cy, dy] = [cc - (c * c) / n, dd - (d * d) / n, cd - (c * d) / n, cy - (c * y) / n, dy - (d * y) / n];
  const whole = cc * dd - cd * cd;
  if (!(whole > 1e-9)) return null;
  const cosine = (cy * dd - dy * cd) / whole;
  const sine = (dy * cc - cy * cd) / whole;
  return { ...shape, origin, level: (y - cosine * c - sine * d) / n, cosine, sine };
}

/** When the wave stands farthest from its level, but for what its decay moves: `up` above it, else below. */
export function crestOf({ origin, angular, cosine, sine }: Wave, up: boolean): number {
  const sign = up ? 1 : -1;
  return origin + Math.atan2(sign * sine, sign * cosine) / angular;
}

export function waveAt({ origin, level, angular, rate, cosine, sine }: Wave, at: number): number {
  const x = at - origin;
  return level + Math.exp(-rate * x) * (cosine * Math.cos(angular * x) + sine * Math.sin(angular * x));
}
