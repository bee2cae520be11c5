import { positive } from "../wire.ts";

/** One stage of a Foster ladder: K/W and s. */
export interface FosterStage {
  readonly resistance: number;
  readonly timeConstant: number;
}

/** Shares of the resistance from junction to case and time constants, where a data sheet shows only pictures: common practice. */
const USUAL_STAGES = [
  { share: 0.15, timeConstant: 1e-3 },
  { share: 0.35, timeConstant: 10e-3 },
  { share: 0.5, timeConstant: 0.1 },
] as const;

/** Temperature from which ratings of surges start, °C. */
const SURGE_START = 25;
/** Part of the rise up to the failure that the rated surge may use: "below", with room for a surge a little longer. */
const SURGE_USE = 0.95;

/** Windows of the watched RMS current, s, and factors on I_TSM/√2. */
const WINDOWS = [
  { duration: 1e-3, factor: 1.1 },
  { duration: 10e-3, factor: 1.0 },
  { duration: 0.1, factor: 0.6 },
  { duration: 1, factor: 0.38 },
] as const;

/**
 * Foster stages from junction to case (K/W, s) such that the rated half-sine surge from 25 °C stays below the failure
 * temperature.
 *
 * The resistance from junction to case is published and stays; the shares keep their shape. Shares and time constants
 * are only common practice, so where the usual ladder would overheat in the rated surge, all time constants are
 * lengthened by the smallest common factor that brings the rise down to 95 % of the way from 25 °C to the failure:
 * the part is given the heat capacity that its surge rating proves it has. They are never shortened.
 *
 * @param rating junctionToCase K/W, thresholdVoltage V, slopeResistance ohm, surgeCurrent A (peak of the half sine),
 *   surgeDuration s (8.3e-3 or 10e-3), failTemperature °C
 * @throws RangeError when a figure is not positive (the threshold voltage may be 0) or failTemperature is not above 25 °C
 * @example calibrateJunction({ junctionToCase: 1, thresholdVoltage: 0.77, slopeResistance: 14e-3,
 *   surgeCurrent: 300, surgeDuration: 10e-3, failTemperature: 250 }).length // 3
 */
export function calibrateJunction(rating: {
  readonly junctionToCase: number;
  readonly thresholdVoltage: number;
  readonly slopeResistance: number;
  readonly surgeCurrent: number;
  readonly surgeDuration: number;
  readonly failTemperature: number;
}): FosterStage[] {
  const { thresholdVoltage, slopeResistance, surgeCurrent, surgeDuration } = rating;
  const resistance = positive("thermal resistance from junction to case", rating.junctionToCase);
  const allowed = SURGE_USE * positive("failure temperature above 25 °C", rating.failTemperature - SURGE_START);
  const ladder = (stretch: number): FosterStage[] =>
    USUAL_STAGES.map(({ share, timeConstant }) => ({
      resistance: share * resistance,
      timeConstant: timeConstant * stretch,
    }));
  const rise = (stretch: number): number =>
    pulseRise(ladder(stretch), surgeCurrent, surgeDuration, thresholdVoltage, slopeResistance);
  if (rise(1) <= allowed) return ladder(1);
  let low = 1;
  let high = 2;
  while (rise(high) > allowed) {
    low = high;
    high *= 2;
  }
  for (let i = 0; i < 60; i++) {
    const middle = Math.sqrt(low * high);
    if (rise(middle) > allowed) low = middle;
    else high = middle;
  }
  return ladder(high);
}

/**
 * Largest rise of a junction in K during a half-sine pulse of current, P = (V_T0 + r_T·i)·i, from rest.
 * Closed form of each stage's response to sin and sin²; nothing hotter follows the pulse.
 * @param stages Foster stages, K/W and s
 * @param peak of the half sine, A
 * @param duration of the half sine, s
 * @param thresholdVoltage V_T0, V
 * @param slopeResistance r_T, ohm
 * @throws RangeError when peak, duration or slope resistance is not positive or the threshold voltage is negative
 * @example pulseRise([{ resistance: 1, timeConstant: 1 }], 100, 10e-3, 1, 1e-3) // about 0.68 K
 */
export function pulseRise(
  stages: readonly FosterStage[],
  peak: number,
  duration: number,
  thresholdVoltage: number,
  slopeResistance: number,
): number {
  positive("peak of the pulse", peak);
  const omega = Math.PI / positive("duration of the pulse", duration);
  if (!(thresholdVoltage >= 0)) throw new RangeError(`threshold voltage must not be negative, got ${thresholdVoltage}`);
  const linear = thresholdVoltage * peak;
  const square = (positive("slope resistance", slopeResistance) * peak ** 2) / 2;
  const riseAt = (t: number): number => {
    const [sin1, cos1] = [Math.sin(omega * t), Math.cos(omega * t)];
    const [sin2, cos2] = [Math.sin(2 * omega * t), Math.cos(2 * omega * t)];
    return stages.reduce((sum, stage) => {
      const a = omega * stage.timeConstant;
      const decay = Math.exp(-t / stage.timeConstant);
      const sine = (sin1 - a * cos1 + a * decay) / (1 + a * a);
      const cosine = (cos2 + 2 * a * sin2 - decay) / (1 + 4 * a * a);
      return sum + stage.resistance * (linear * sine + square * (1 - decay - cosine));
    }, 0);
  };
  return maximum(riseAt, duration);
}

/**
 * RMS current allowed over windows of 1, 10, 100 and 1000 ms after a firing, A: f·I_TSM/√2, f = 1.1, 1.0, 0.6, 0.38.
 * The 10 ms window is the surge rating itself; 1 ms follows the one published pulse rating of a crowbar-grade part;
 * the longer ones are common practice. A part's own curve takes their place.
 * @param surgeCurrent peak of the rated half sine, A
 * @throws RangeError when it is not positive
 * @example surgeWindows(300)[1] // { duration: 0.01, rms: 212.1 }
 */
export function surgeWindows(surgeCurrent: number): { duration: number; rms: number }[] {
  positive("surge current", surgeCurrent);
  return WINDOWS.map(({ duration, factor }) => ({ duration, rms: (factor * surgeCurrent) / Math.SQRT2 }));
}

/** Largest value over 0 … end of a function with one maximum: a coarse look, then golden sections. */
function maximum(f: (t: number) => number, end: number): number {
  const steps = 32;
  let best = 1;
  let most = f(end / steps);
  for (let i = 2; i <= steps; i++) {
    const value = f((i * end) / steps);
    if (value > most) [best, most] = [i, value];
  }
  let low = ((best - 1) * end) / steps;
  let high = (Math.min(best + 1, steps) * end) / steps;
  const golden = (Math.sqrt(5) - 1) / 2;
  for (let i = 0; i < 40; i++) {
    const left = high - golden * (high - low);
    const right = low + golden * (high - low);
    if (f(left) < f(right)) low = left;
    else high = right;
  }
  return f((low + high) / 2);
}
