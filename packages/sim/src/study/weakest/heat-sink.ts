/**
 * Largest thermal resistance from case to ambient, K/W, with which a part that carries a power for good keeps its junction at its limit:
 * R_CA = (T_j − T_A)/P − R_JC.
 *
 * @param of.power W, steady (or the mean of repeated pulses short beside the heat sink's own time)
 * @param of.limit of the junction, °C
 * @param of.ambient °C
 * @param of.junctionToCase K/W, everything between junction and the place where the heat sink begins
 * @returns 0 or less where no heat sink is able to
 * @throws RangeError when the power is not positive
 * Source: the thermal chain T_j = T_A + P·(R_JC + R_CS + R_SA) of any power electronics textbook.
 * @example heatSinkNeeded({ power: 42, limit: 125, ambient: 25, junctionToCase: 0.9 }) // 1.48
 */
export function heatSinkNeeded(of: {
  readonly power: number;
  readonly limit: number;
  readonly ambient: number;
  readonly junctionToCase: number;
}): number {
  if (!(of.power > 0)) throw new RangeError(`power must be positive, got ${of.power}`);
  return (of.limit - of.ambient) / of.power - of.junctionToCase;
}

/** A little below what is needed, so that the estimate of a run with it stays below the limit too. */
const CLOSE = 0.98;

/**
 * The heat sink that is named and run where one is needed, K/W: two digits, always on the side that keeps the junction cooler.
 *
 * @param needed largest that would do, K/W; more than 0
 * @example heatSinkToTake(1.466) // 1.4
 */
export function heatSinkToTake(needed: number): number {
  const unit = 10 ** (Math.floor(Math.log10(CLOSE * needed)) - 1);
  return Number((Math.floor((CLOSE * needed) / unit) * unit).toPrecision(2));
}

/**
 * Power in W that an SCR turns into heat while it carries a current: V_T0·i + r_T·i².
 *
 * @example onStatePower({ thresholdVoltage: 1, slopeResistance: 8.5e-3 }, 33) // 42.3
 */
export function onStatePower(
  scr: { readonly thresholdVoltage: number; readonly slopeResistance: number },
  current: number,
): number {
  return (scr.thresholdVoltage + scr.slopeResistance * current) * current;
}
