import { parseScenario } from "../../scenario/index.ts";
import type { Load, Scenario, Source } from "../../scenario/types.ts";

/** The source and the load of a bench test. */
export interface BenchSetting {
  /** V. */
  readonly startVoltage: number;
  readonly endVoltage: number;
  /** V/s. */
  readonly slew: number;
  /** A. */
  readonly currentLimit: number;
  /** Ohm. */
  readonly dummy: number;
  /** Trip point in the place of the file's, V; null: as it stands. */
  readonly trip: number | null;
}

/** When the source is first turned up, s. */
export const TURNED_UP = 1;
/** How long the source is watched after its last turn, s. */
const WATCHED = 10;

/** What a bench source is called in a run, and the dummy load. */
export const BENCH = { source: "bench source", dummy: "dummy load" } as const;

/**
 * The line of a scenario on the bench: a current-limited source that is turned up slowly in the place of all sources and their faults, a
 * resistor in the place of all loads; fuse, protector and what else stands in between as they are.
 *
 * @throws Error where the bench's own text has problems: a mistake of the program
 */
export function benchLine(scenario: Scenario, setting: BenchSetting): Scenario {
  const { source, load } = benchParts(setting);
  const { crowbar, seriesSwitch, clamp } = scenario;
  const { trip } = setting;
  return {
    ...scenario,
    faultTime: TURNED_UP,
    endTime: TURNED_UP + (setting.endVoltage - setting.startVoltage) / setting.slew + WATCHED,
    start: "operating",
    sources: [source],
    loads: [load],
    crowbar: crowbar === null || trip === null ? crowbar : { ...crowbar, tripVoltage: trip },
    seriesSwitch:
      seriesSwitch === null || trip === null || crowbar !== null ? seriesSwitch : { ...seriesSwitch, offVoltage: trip },
    clamp:
      clamp === null || trip === null || crowbar !== null || seriesSwitch !== null
        ? clamp
        : { ...clamp, breakdownVoltage: trip },
  };
}

function benchParts(setting: BenchSetting): { readonly source: Source; readonly load: Load } {
  const { startVoltage, endVoltage, slew, currentLimit, dummy } = setting;
  const text = `run for: 10 s
fault at: 1 s
sources:
  - name: ${BENCH.source}
    part: bench supply 3 A, current limited
    # Meter and limit of a bench source count what leaves its terminals.
    bleeder resistance: 100 kohm
    set voltage: ${startVoltage} V
    limit: {style: constant current, current: ${currentLimit} A}
    fault: {kind: voltage turned up, end voltage: ${endVoltage} V, slew: ${slew} V/s}
    lead: {length: 1 m, area: 2.5 mm2}
loads:
  - name: ${BENCH.dummy}
    kind: resistive
    resistance: ${dummy} ohm
    limits: {minimum: 1 V, maximum: 60 V}
    lead: {length: 1 m, area: 2.5 mm2}
`;
  const { scenario, issues } = parseScenario(text, "bench");
  if (scenario === null) throw new Error(issues.map(({ message, path }) => `${path}: ${message}`).join("; "));
  return { source: scenario.sources[0], load: scenario.loads[0] };
}
