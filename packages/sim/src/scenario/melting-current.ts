import type { Fuse } from "./types.ts";

/** Minimum melting current at an ambient temperature: I_inf·sqrt((T_melt − T_amb)/(T_melt − 25 °C)) where T_melt is given. */
export function meltingCurrentAt(fuse: Fuse, ambient: number): number {
  const { meltingTemperature, minimumMeltingCurrent } = fuse;
  if (meltingTemperature === null) return minimumMeltingCurrent;
  return minimumMeltingCurrent * Math.sqrt(Math.max(0, meltingTemperature - ambient) / (meltingTemperature - 25));
}
