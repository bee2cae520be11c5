import type { LampValues } from "./types.ts";

/**
 * What a lamp draws once its filament has settled at a voltage, A: what it is fed equals what it radiates,
 * v²/R(T) = P_n·(T⁴ − T_0⁴)/(T_n⁴ − T_0⁴) with R(T) = (V_n²/P_n)·(T/T_n)^a.
 *
 * @param voltage V, 0 or more
 * @param power nominal power where it is not the lamp's own (a schedule changes it), W
 * @example settledLampCurrent({ nominalPower: 140, nominalVoltage: 12, nominalTemperature: 2800, coldTemperature: 300, exponent: 1.2, heatCapacity: 1 }, 15.9) // 13.6
 */
export function settledLampCurrent(lamp: LampValues, voltage: number, power = lamp.nominalPower): number {
  const { nominalVoltage, nominalTemperature, coldTemperature, exponent } = lamp;
  const fed = (voltage / nominalVoltage) ** 2;
  const conductance = (temperature: number): number => (nominalTemperature / temperature) ** exponent;
  const radiated = (temperature: number): number =>
    (temperature ** 4 - coldTemperature ** 4) / (nominalTemperature ** 4 - coldTemperature ** 4);
  // What is fed falls and what is radiated rises with the temperature; at (1 + fed) times the nominal one more is radiated than fed.
  let [low, high] = [coldTemperature, nominalTemperature * (1 + fed)];
  for (let step = 0; step < 60; step++) {
    const middle = (low + high) / 2;
    if (fed * conductance(middle) > radiated(middle)) low = middle;
    else high = middle;
  }
  return ((power * voltage) / nominalVoltage ** 2) * conductance((low + high) / 2);
}
