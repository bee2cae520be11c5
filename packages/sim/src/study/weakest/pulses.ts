import { faultVoltage } from "../../scenario/prospective.ts";
import type { Crowbar, Scenario, Supply } from "../../scenario/types.ts";
import { chargedCapacitors, dumpI2t } from "./dump.ts";

interface Hiccup {
  readonly supply: Supply;
  readonly limit: Extract<Supply["limit"], { style: "hiccup" }>;
}

/** What a supply that hiccups drives through the SCR, round after round. */
export interface Pulses {
  /** Share of the time in which the SCR conducts, an upper estimate. */
  readonly onShare: number;
  /** Mean power of the SCR, W, an upper estimate. */
  readonly power: number;
}

/**
 * A round of a hiccup supply: it pauses, rises until the SCR fires, gives its limit until that is detected. The SCR goes on for as long as the
 * line's capacitors keep it above its holding current, and their dump at each firing heats it more than the supply does where that stops soon.
 *
 * On-time: t_detect + (τ + R·C)·ln(I/I_H) with the slowest capacitor. Energy: V_T0·q + r_T·∫i², with the charges of limit and capacitors added
 * up; ∫i² of several capacitors together is at most the square of the sum of their roots.
 *
 * @param hiccup a supply of `scenario`, and its limit
 * @param current that flows while it gives its limit, A
 */
export function pulsesOf(scenario: Scenario, { supply, limit }: Hiccup, crowbar: Crowbar, current: number): Pulses {
  const { responseTime } = supply;
  const { thresholdVoltage, slopeResistance, holdingCurrent, tripVoltage } = crowbar;
  // Which of them passes the fuse makes no difference here.
  const charged = chargedCapacitors(scenario, { kind: "main" });
  const slowest = Math.max(0, ...charged.map(({ capacitance, resistance }) => capacitance * resistance));
  const tail = (responseTime + slowest) * Math.log(Math.max(1, current / holdingCurrent));
  const rise = limit.rampTime * Math.min(1, tripVoltage / Math.max(faultVoltage(supply), tripVoltage));
  const period = limit.offTime + rise + limit.detectionTime;
  const dumped = charged.reduce((sum, { voltage, capacitance }) => sum + capacitance * (voltage - thresholdVoltage), 0);
  const given = limit.detectionTime + responseTime;
  const charge = current * given + dumped;
  const roots = charged.reduce((sum, each) => sum + Math.sqrt(dumpI2t(each, crowbar)), 0);
  const i2t = current ** 2 * given + roots ** 2 + 2 * current * dumped;
  return {
    onShare: Math.min(1, (limit.detectionTime + tail) / period),
    power: (thresholdVoltage * charge + slopeResistance * i2t) / period,
  };
}
