import { settledLampCurrent } from "./lamp.ts";
import { findPart } from "./parts/index.ts";
import { isPlainMap } from "./text/written.ts";
import type { Load, Scenario, Source } from "./types.ts";

/** The ending of the classes of radios that transmit without a pause. */
const TRANSMITTING = ", transmitting";

/** What a load takes in normal service, in its own unit: A, W or ohm. */
export interface ServiceDraw {
  readonly key: "current" | "power" | "resistance" | null;
  readonly receive: number;
  /**
   * The user's own current where the load is one that transmits; else by its part class, or its own values and schedule where they are more;
   * equal to `receive` where nobody tells.
   */
  readonly transmit: number;
  /** The current of the latter, A; of what rises with the voltage, at its highest voltage, of what rises as it falls, at its lowest. */
  readonly largestCurrent: number;
  /** Whether somebody tells what it draws while transmitting. */
  readonly transmits: boolean;
  /** Whether that is the figure of a part class. */
  readonly byClass: boolean;
}

/**
 * What each load takes while it receives and while it transmits, by its part class and its own values and schedule. A radio that only receives
 * in the file still transmits on other days.
 *
 * @param written the scenario as plain data, for the names of part classes
 */
export function serviceDraws(scenario: Scenario, written: unknown): readonly ServiceDraw[] {
  const loads = isPlainMap(written) && Array.isArray(written.loads) ? written.loads : [];
  const highest = Math.max(...scenario.sources.map(normalVoltage));
  return scenario.loads.map((load, index) => {
    const entry: unknown = loads[index];
    const own = isPlainMap(entry) ? entry : {};
    return drawOf(load, typeof own.part === "string" ? own.part : "", own.current !== undefined, highest);
  });
}

const normalVoltage = (source: Source): number =>
  source.kind === "supply" ? source.setVoltage : source.kind === "battery" ? source.emf : source.openCircuitVoltage;

/**
 * @param ownCurrent whether the user gave the load's current
 * @param highest what its sources come to without a fault, V
 */
function drawOf(load: Load, part: string, ownCurrent: boolean, highest: number): ServiceDraw {
  const planned = load.schedule.map(({ value }) => value);
  const { minimum } = load.limits;
  const maximum = Math.min(load.limits.maximum, highest);
  switch (load.kind) {
    case "constant current": {
      const sends = part.endsWith(TRANSMITTING);
      const quiet = sends ? part.slice(0, -TRANSMITTING.length) : part;
      const receive = (sends ? classCurrent(quiet) : null) ?? load.current;
      const typical = classCurrent(`${quiet}${TRANSMITTING}`);
      // A current measured at a radio that transmits knows better than a class; one measured while it receives says nothing of that.
      const told = sends && ownCurrent ? load.current : (typical ?? 0);
      const transmit = Math.max(load.current, ...planned, told);
      const byClass = transmit === typical && !(sends && ownCurrent);
      return { key: "current", receive, transmit, largestCurrent: transmit, transmits: typical !== null, byClass };
    }
    case "constant power": {
      const transmit = Math.max(load.power, ...planned);
      const largestCurrent = transmit / Math.max(minimum, load.kneeVoltage);
      return { key: "power", receive: load.power, transmit, largestCurrent, transmits: false, byClass: false };
    }
    case "resistive": {
      const transmit = Math.min(load.resistance, ...planned);
      return {
        key: "resistance",
        receive: load.resistance,
        transmit,
        largestCurrent: maximum / transmit,
        transmits: false,
        byClass: false,
      };
    }
    case "lamp": {
      const power = load.nominalPower;
      const largestCurrent = settledLampCurrent(load, maximum, Math.max(power, ...planned));
      return { key: null, receive: power, transmit: power, largestCurrent, transmits: false, byClass: false };
    }
  }
}

function classCurrent(part: string): number | null {
  const value = findPart("load", part)?.values.current?.value;
  return typeof value === "number" ? value : null;
}
