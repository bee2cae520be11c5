import { remember } from "../hybrid/memento.ts";
import type { Gauge, Repeating } from "../hybrid/rounds-types.ts";
import type { Scenario } from "../scenario/types.ts";
import type { Assembly } from "./assemble.ts";
import { columnName, type Places } from "./readings.ts";

/**
 * What a line tells of itself to one that looks for rounds: its states' roles, the levels that no jump may pass (fuses that melt, junctions at
 * their limit and their failure, clamps at their energy), and what is kept beside the states.
 */
export function repeatingLine(scenario: Scenario, assembly: Assembly, places: Places): Repeating {
  const { line, devices, journal, loads } = assembly;
  const remembering = devices.filter((device) => device.memory().length > 0);
  const drops = loads.flatMap(({ load }) => ("drops" in load ? [load] : []));
  return {
    names: line.names,
    roles: line.roles,
    gauges: [...junctions(scenario, assembly, places), ...fuses(assembly, places), ...clamps(assembly, places)],
    tallies: () => [...devices.map(({ loss }) => loss), ...drops.map((load) => load.drops)],
    addToTallies(gains) {
      devices.forEach((device, k) => {
        device.loss += gains[k];
      });
      drops.forEach((load, k) => {
        load.drops += Math.round(gains[devices.length + k]);
      });
    },
    memory: () => remembering.flatMap((device) => device.memory()),
    remember: () => remember(devices, [journal]),
    tell(target) {
      journal.target = target;
    },
  };
}

function junctions(scenario: Scenario, { crowbar, sources, line }: Assembly, { probe }: Places): Gauge[] {
  const gauge = (device: NonNullable<Assembly["crowbar"]>, reading: string, limit: number): Gauge => ({
    probe: probe(columnName(`${reading} junction`, "degC")),
    states: device.ladder.states,
    levels: [limit - line.ambient, device.values.failTemperature - line.ambient],
    offset: line.ambient,
  });
  const own = scenario.sources.flatMap((source, k) => {
    const device = sources[k].ownCrowbar;
    if (source.kind !== "supply" || source.ownCrowbar === null || device === null) return [];
    return [gauge(device, `${source.name} own crowbar`, source.ownCrowbar.ratings.junctionTemperature)];
  });
  if (scenario.crowbar === null || crowbar === null) return own;
  return [gauge(crowbar, "crowbar", scenario.crowbar.ratings.junctionTemperature), ...own];
}

function fuses({ mainFuse, sources, loads }: Assembly, { probe }: Places): Gauge[] {
  const melting = [
    ...(mainFuse ? [{ name: "main fuse", element: mainFuse.element }] : []),
    ...[...sources, ...loads].flatMap(({ name, lead: { element } }) =>
      element ? [{ name: `${name} fuse`, element }] : [],
    ),
  ];
  return melting.map(({ name, element }) => ({
    probe: probe(columnName(`${name} melt`, "share")),
    states: element.states,
    levels: [1],
    offset: 0,
  }));
}

function clamps({ clamp, loads }: Assembly, { probe }: Places): Gauge[] {
  const all = [
    ...(clamp ? [{ name: "clamp", device: clamp }] : []),
    ...loads.flatMap(({ name, clamp: own }) => (own ? [{ name: `${name} clamp`, device: own }] : [])),
  ];
  return all.map(({ name, device }) => ({
    probe: probe(columnName(`${name} energy`, "J")),
    states: [device.energyState],
    levels: device.values.failureEnergy === null ? [] : [device.values.failureEnergy],
    offset: 0,
  }));
}
