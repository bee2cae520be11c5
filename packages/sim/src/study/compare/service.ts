import { InvalidInput } from "../../issue/issue.ts";
import { columnName } from "../../model/readings.ts";
import { Simulation } from "../../model/run.ts";
import { type ScenarioResult, type ServiceDraw, serviceDraws } from "../../scenario/index.ts";
import type { Load, Scenario } from "../../scenario/types.ts";
import type { NormalService, ServicePoint } from "./types.ts";

/**
 * What the healthy line takes on its way from supply to load, from its operating point: once with the loads as they receive, once as they
 * transmit. Only the start is worked out; nothing runs.
 *
 * @param parsed a scenario without errors
 * @returns drops in V, losses in W; null where the scenario has errors
 * @example normalService(parseScenario(text, "hut.yaml"))?.transmit
 */
export function normalService({ scenario, written }: ScenarioResult): NormalService | null {
  if (scenario === null) return null;
  const draws = serviceDraws(scenario, written);
  const varies = draws.some(({ receive, transmit }) => receive !== transmit);
  return {
    receive: pointOf(drawing(scenario, draws, "receive")),
    transmit: varies ? pointOf(drawing(scenario, draws, "transmit")) : null,
  };
}

function drawing(scenario: Scenario, draws: readonly ServiceDraw[], when: "receive" | "transmit"): Scenario {
  const loads = scenario.loads.map((load, k): Load => {
    const { key, [when]: value } = draws[k];
    // Each kind of load has its own key, and a draw has that of its load.
    return key === null ? load : ({ ...load, [key]: value } as Load);
  });
  return { ...scenario, start: "operating", loads };
}

function pointOf(scenario: Scenario): ServicePoint {
  try {
    return read(scenario, new Simulation(scenario, { record: false }).result().atEnd);
  } catch (error) {
    if (!(error instanceof InvalidInput)) throw error;
    return { kind: "refused", why: error.issues.map(({ message }) => message).join(" ") };
  }
}

function read({ sources, loads }: Scenario, columns: Readonly<Record<string, number>>): ServicePoint {
  const at = ({ name }: { readonly name: string }) => ({
    voltage: columns[columnName(name, "V")],
    current: columns[columnName(name, "A")],
  });
  const given = sources.map(at);
  const taken = loads.map(at);
  const power = (sum: number, { voltage, current }: ReturnType<typeof at>): number => sum + voltage * current;
  const most = given.reduce((a, b) => (b.current > a.current ? b : a));
  const least = taken.reduce((a, b) => (b.voltage < a.voltage ? b : a));
  return {
    kind: "found",
    current: taken.reduce((sum, { current }) => sum + current, 0),
    drop: most.voltage - least.voltage,
    loss: given.reduce(power, 0) - taken.reduce(power, 0),
  };
}
