import { findPart } from "./parts/index.ts";
import { isPlainMap } from "./text/written.ts";
import type { Load, Scenario } from "./types.ts";

/** The ending of the classes of radios that transmit without a pause. */
const TRANSMITTING = ", transmitting";

/** What a load takes in normal service, in its own unit: A, W or ohm. */
export interface ServiceDraw {
  readonly key: "current" | "power" | "resistance" | null;
  readonly receive: number;
  /** By its part class, or its own values and schedule where they are more; equal to `receive` where nobody tells. */
  readonly transmit: number;
  /** The current of the latter, A; of what rises as the voltage falls, at its lowest voltage. */
  readonly largestCurrent: number;
  /** Whether its part class tells what it draws while transmitting. */
  readonly transmits: boolean;
}

/**
 * What each load takes while it receives and while it transmits, by its part class and its own values and schedule. A radio that only receives
 * in the file still transmits on other days.
 *
 * @param written the scenario as plain data, for the names of part classes
 */
export function serviceDraws(scenario: Scenario, written: unknown): readonly ServiceDraw[] {
  const loads = isPlainMap(written) && Array.isArray(written.loads) ? written.loads : [];
  return scenario.loads.map((load, index) => {
    const entry: unknown = loads[index];
    return drawOf(load, isPlainMap(entry) && typeof entry.part === "string" ? entry.part : "");
  });
}

function drawOf(load: Load, part: string): ServiceDraw {
  const planned = load.schedule.map(({ value }) => value);
  const { minimum, maximum } = load.limits;
  switch (load.kind) {
    case "constant current": {
      const sends = part.endsWith(TRANSMITTING);
      const quiet = sends ? part.slice(0, -TRANSMITTING.length) : part;
      const receive = (sends ? classCurrent(quiet) : null) ?? load.current;
      const typical = classCurrent(`${quiet}${TRANSMITTING}`);
      const transmit = Math.max(load.current, ...planned, typical ?? 0);
      return { key: "current", receive, transmit, largestCurrent: transmit, transmits: typical !== null };
    }
    case "constant power": {
      const transmit = Math.max(load.power, ...planned);
      const largestCurrent = transmit / Math.max(minimum, load.kneeVoltage);
      return { key: "power", receive: load.power, transmit, largestCurrent, transmits: false };
    }
    case "resistive": {
      const transmit = Math.min(load.resistance, ...planned);
      return {
        key: "resistance",
        receive: load.resistance,
        transmit,
        largestCurrent: maximum / transmit,
        transmits: false,
      };
    }
    case "lamp": {
      const largestCurrent = load.nominalPower / load.nominalVoltage;
      const power = load.nominalPower;
      return { key: null, receive: power, transmit: power, largestCurrent, transmits: false };
    }
  }
}

function classCurrent(part: string): number | null {
  const value = findPart("load", part)?.values.current?.value;
  return typeof value === "number" ? value : null;
}
