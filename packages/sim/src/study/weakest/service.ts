import type { ScenarioResult } from "../../scenario/index.ts";
import { findPart } from "../../scenario/parts/index.ts";
import { capacitorDumpI2t } from "../../scenario/surge.ts";
import { isPlainMap } from "../../scenario/text/written.ts";
import type { Load, Scenario } from "../../scenario/types.ts";

/** The ending of the classes of radios that transmit without a pause. */
const TRANSMITTING = ", transmitting";

/** What one load draws at its most in normal service, A. */
export interface Draw {
  readonly load: string;
  readonly current: number;
  /** Whether its part class tells what it draws while transmitting. */
  readonly transmits: boolean;
}

/**
 * What each load draws at its most in normal service, A: on transmit where its part class has a transmitting sister, else by its own values
 * and its schedule. A radio that only receives in the file still transmits on other days.
 *
 * @param parsed a scenario file without errors
 * @returns one entry a load; empty where the file has errors
 * @example serviceDraws(parseScenario(text, "hut.yaml"))[0].current // 21
 */
export function serviceDraws({ scenario, written }: ScenarioResult): readonly Draw[] {
  if (scenario === null) return [];
  const loads = isPlainMap(written) && Array.isArray(written.loads) ? written.loads : [];
  return scenario.loads.map((load, index) => {
    const entry: unknown = loads[index];
    const name = isPlainMap(entry) && typeof entry.part === "string" ? entry.part : "";
    const sending = name.endsWith(TRANSMITTING) ? name : `${name}${TRANSMITTING}`;
    const typical = findPart("load", sending)?.values.current?.value;
    const own = largestOwn(load);
    return typeof typical === "number"
      ? { load: load.name, current: Math.max(typical, own), transmits: true }
      : { load: load.name, current: own, transmits: false };
  });
}

/** The most that a load draws by its own values and schedule, A; of what rises as the voltage falls, at its lowest voltage. */
function largestOwn(load: Load): number {
  const planned = load.schedule.map(({ value }) => value);
  switch (load.kind) {
    case "constant current":
      return Math.max(load.current, ...planned);
    case "constant power":
      return Math.max(load.power, ...planned) / Math.max(load.limits.minimum, load.kneeVoltage);
    case "resistive":
      return load.limits.maximum / Math.min(load.resistance, ...planned);
    case "lamp":
      return load.nominalPower / load.nominalVoltage;
  }
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
