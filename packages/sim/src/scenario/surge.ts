/** A pulse of current: amperes and s. A trapezoid runs from `from` to `to` in a straight line; an exponential decays from `peak`. */
export type Pulse =
  | { readonly shape: "rectangle"; readonly current: number; readonly duration: number }
  | { readonly shape: "trapezoid"; readonly from: number; readonly to: number; readonly duration: number }
  | { readonly shape: "half sine"; readonly peak: number; readonly duration: number }
  | { readonly shape: "triangle"; readonly peak: number; readonly duration: number }
  | { readonly shape: "exponential"; readonly peak: number; readonly timeConstant: number };

/**
 * I²t of a pulse, A²s: rectangle i²t; trapezoid (a² + ab + b²)t/3; half sine i²t/2; triangle i²t/3; exponential i²τ/2.
 * The half sine ties an SCR's I²t to its surge current: I_TSM²·t_p/2.
 * Source: fuse catalogues' pulse charts; each is the integral of the square.
 * @example pulseI2t({ shape: "half sine", peak: 120, duration: 10e-3 }) // 72
 */
export function pulseI2t(pulse: Pulse): number {
  switch (pulse.shape) {
    case "rectangle":
      return pulse.current ** 2 * pulse.duration;
    case "trapezoid":
      return ((pulse.from ** 2 + pulse.from * pulse.to + pulse.to ** 2) * pulse.duration) / 3;
    case "half sine":
      return (pulse.peak ** 2 * pulse.duration) / 2;
    case "triangle":
      return (pulse.peak ** 2 * pulse.duration) / 3;
    case "exponential":
      return (pulse.peak ** 2 * pulse.timeConstant) / 2;
  }
}

/** Pulses and the part of nominal melting I²t that a fuse stands so often, at least 10 s apart. */
export const PULSE_WITHSTAND: readonly { readonly pulses: number; readonly fraction: number }[] = Object.freeze([
  { pulses: 100, fraction: 0.48 },
  { pulses: 1000, fraction: 0.38 },
  { pulses: 10_000, fraction: 0.29 },
  { pulses: 100_000, fraction: 0.22 },
]);

/**
 * Part of its nominal melting I²t that a fuse stands in each of so many pulses, 0 … 1; interpolated over log(pulses).
 * Fewer than 100 pulses count as 100. Source: fuse catalogue, pulse charts (48/38/29/22 %, pulses at least 10 s apart).
 * @returns null above 100 000 pulses, where the table ends
 * @throws RangeError when `pulses` is not a number from 1 on
 * @example pulseWithstand(10_000) // 0.29
 */
export function pulseWithstand(pulses: number): number | null {
  if (!(pulses >= 1)) throw new RangeError(`number of pulses must be 1 or more, got ${pulses}`);
  const first = PULSE_WITHSTAND[0];
  if (pulses <= first.pulses) return first.fraction;
  for (let i = 1; i < PULSE_WITHSTAND.length; i++) {
    const [a, b] = [PULSE_WITHSTAND[i - 1], PULSE_WITHSTAND[i]];
    if (pulses > b.pulses) continue;
    const way = Math.log(pulses / a.pulses) / Math.log(b.pulses / a.pulses);
    return a.fraction + way * (b.fraction - a.fraction);
  }
  return null;
}

/**
 * Nominal melting I²t in A²s that a fuse must exceed to stand pulses of an I²t, when each may use a part of it.
 * @param i2t of one pulse, A²s
 * @param fraction allowed part of nominal melting I²t, for instance from `pulseWithstand`
 * @throws RangeError when the fraction is not between 0 and 1
 * Source: fuse catalogues' selection by pulses.
 * @example meltingI2tToStand(60, 0.35) // 171.4
 */
export function meltingI2tToStand(i2t: number, fraction: number): number {
  if (!(fraction > 0 && fraction <= 1)) throw new RangeError(`fraction must lie between 0 and 1, got ${fraction}`);
  return i2t / fraction;
}

/**
 * I²t of a capacitor bank dumped into an SCR, A²s: (V − V_T0)²·C/(2R); 0 below the threshold voltage.
 * @param voltage across the bank, V
 * @param thresholdVoltage of the SCR, V
 * @param capacitance F
 * @param resistance of the whole loop, SCR included, ohm
 * @throws RangeError when capacitance or resistance is not positive
 * Source: exponential discharge, its inductance neglected.
 * @example capacitorDumpI2t(15, 1, 4.7e-3, 20e-3) // 23.0
 */
export function capacitorDumpI2t(
  voltage: number,
  thresholdVoltage: number,
  capacitance: number,
  resistance: number,
): number {
  if (!(capacitance > 0)) throw new RangeError(`capacitance must be positive, got ${capacitance}`);
  if (!(resistance > 0)) throw new RangeError(`resistance must be positive, got ${resistance}`);
  const peak = Math.max(voltage - thresholdVoltage, 0) / resistance;
  return pulseI2t({ shape: "exponential", peak, timeConstant: resistance * capacitance });
}
