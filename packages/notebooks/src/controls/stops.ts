/** Where a slider may stand, in rising order. */
export interface Stops {
  readonly count: number;
  valueAt(index: number): number;
  /** The nearest stop, by the scale's own measure; fractions tell how far along a value lies. */
  placeOf(value: number): number;
}

export interface StopsOptions {
  readonly min: number;
  readonly max: number;
  /** Distance of linear stops; default a hundredth of the range, made round. */
  readonly step?: number;
  /** The only values there are: ratings on sale. */
  readonly steps?: readonly number[];
  /** Stops at preferred numbers, 24 a decade, as parts are sold. `min` must be above 0. */
  readonly log?: boolean;
}

/** E24 of IEC 60063: each about 10 % above the one before. */
const PREFERRED = [
  10, 11, 12, 13, 15, 16, 18, 20, 22, 24, 27, 30, 33, 36, 39, 43, 47, 51, 56, 62, 68, 75, 82, 91,
] as const;

/**
 * Stops of a slider.
 *
 * @throws RangeError when the range is empty or not finite, or a logarithmic one does not begin above 0
 * @example stopsOf({ min: 12, max: 18, step: 0.1 }).valueAt(30) // 15
 */
export function stopsOf(options: StopsOptions): Stops {
  const { min, max, step, steps, log = false } = options;
  if (!Number.isFinite(min) || !Number.isFinite(max) || !(max > min)) {
    throw new RangeError(`A slider needs a range: received ${min} to ${max}; allowed: two finite numbers, rising.`);
  }
  if (steps !== undefined) return listed(within(steps, min, max), false);
  if (log) {
    if (!(min > 0)) throw new RangeError(`A logarithmic slider begins above 0: received ${min}.`);
    return listed(preferred(min, max), true);
  }
  return linear(min, max, step ?? roundStep((max - min) / 100));
}

function within(steps: readonly number[], min: number, max: number): number[] {
  const kept = [...new Set(steps)].filter((value) => value >= min && value <= max).sort((a, b) => a - b);
  if (kept.length < 2) throw new RangeError(`A slider needs two steps at least between ${min} and ${max}.`);
  return kept;
}

function linear(min: number, max: number, step: number): Stops {
  if (!(step > 0)) throw new RangeError(`A step is above 0: received ${step}.`);
  const count = Math.floor((max - min) / step + 1e-9) + 1;
  const decimals = Math.min(15, Math.max(0, 1 - Math.floor(Math.log10(step))));
  // The last stop is the end itself, also where the steps do not reach it.
  const reached = min + (count - 1) * step;
  const whole = max - reached < 1e-9 * (max - min) ? count : count + 1;
  const last = whole - 1;
  return {
    count: whole,
    valueAt: (index) => (index >= last ? max : Number((min + Math.max(0, index) * step).toFixed(decimals))),
    placeOf: (value) =>
      value >= max
        ? last
        : value > reached
          ? count - 1 + (value - reached) / (max - reached)
          : Math.max(0, (value - min) / step),
  };
}

function roundStep(step: number): number {
  const power = 10 ** Math.floor(Math.log10(step) + 1e-9);
  return [1, 2, 5, 10].map((digit) => digit * power).find((round) => round >= step * 0.999) ?? step;
}

function preferred(min: number, max: number): number[] {
  const values = [min];
  for (let exponent = Math.floor(Math.log10(min)) - 1; 10 ** exponent <= max; exponent++) {
    for (const digits of PREFERRED) {
      const value = Number(`${digits}e${exponent - 1}`);
      if (value > min * 1.001 && value < max * 0.999) values.push(value);
    }
  }
  return [...values, max];
}

function listed(values: readonly number[], byRatio: boolean): Stops {
  const measure = byRatio ? Math.log : (value: number) => value;
  return {
    count: values.length,
    valueAt: (index) => values[Math.min(values.length - 1, Math.max(0, Math.round(index)))],
    placeOf: (value) => {
      const above = values.findIndex((each) => each >= value);
      if (above <= 0) return above === 0 ? 0 : values.length - 1;
      const [low, high] = [measure(values[above - 1]), measure(values[above])];
      return above - 1 + (measure(value) - low) / (high - low);
    },
  };
}
