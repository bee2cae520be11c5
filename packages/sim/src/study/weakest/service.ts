import { type ScenarioResult, serviceDraws } from "../../scenario/index.ts";
import { capacitorDumpI2t } from "../../scenario/surge.ts";
import type { Scenario } from "../../scenario/types.ts";

/** What one load draws at its most in normal service, A. */
export interface Draw {
  /** Its name. */
  readonly load: string;
  /** A. */
  readonly current: number;
  /** Whether somebody tells what it draws while transmitting. */
  readonly transmits: boolean;
  /** Whether that is the figure of a part class. */
  readonly byClass: boolean;
}

/**
 * What each load draws at its most in normal service, A: by the user's own values and schedule, and on transmit as its part class tells where
 * the user gave no current of a radio that transmits. A radio that only receives in the file still transmits on other days.
 *
 * @param parsed a scenario file without errors
 * @returns one entry a load; empty where the file has errors
 * @example largestDraws(parseScenario(text, "hut.yaml"))[0].current // 21
 */
export function largestDraws({ scenario, written }: ScenarioResult): readonly Draw[] {
  if (scenario === null) return [];
  return serviceDraws(scenario, written).map(({ largestCurrent, transmits, byClass }, k) => ({
    load: scenario.loads[k].name,
    current: largestCurrent,
    transmits,
    byClass,
  }));
}

/**
 * I²t in A²s of charging the loads' input capacitors when the line is switched on: what a fuse gets each time, by V²·C/(2R) over leads and
 * capacitors alone. The supply's limit and the inductances, which only lower it, are left out.
 *
 * @param voltage of the line, V
 */
export function switchOnI2t({ sources, loads }: Scenario, voltage: number): number {
  const feed = Math.min(...sources.map(({ lead }) => lead.resistance));
  return loads.reduce((sum, { inputCapacitance, esr, lead }) => {
    if (!(inputCapacitance > 0)) return sum;
    return sum + capacitorDumpI2t(voltage, 0, inputCapacitance, esr + lead.resistance + feed);
  }, 0);
}
