import type { Device } from "../devices/device.ts";
import type { Assembly } from "./assemble.ts";
import { FED, HEAT, TURNED_OVER } from "./energy-balance.ts";
import type { Reading } from "./line.ts";
import { SOURCE_STATES, sourceState } from "./source-state.ts";

/** Where each watched quantity stands among the probes and flows. */
export interface Places {
  readonly probe: (name: string) => number;
  readonly flow: (name: string) => number;
}

/** Who turns energy into heat or takes it, by the names a user knows. */
function heatGroups(assembly: Assembly): readonly { readonly label: string; readonly parts: readonly Device[] }[] {
  const { sources, loads, mainFuse, crowbar, clamp, seriesSwitch, supplySide, protectedSide, radioSide } = assembly;
  const groups: { label: string; parts: (Device | null)[] }[] = [
    ...sources.flatMap(({ name, node, lead, ownCrowbar }) => [
      { label: name, parts: [node, ownCrowbar] },
      { label: `${name} lead`, parts: [lead] },
    ]),
    ...loads.flatMap(({ name, node, lead, load, clamp: ownClamp }) => [
      { label: name, parts: [node, load, ownClamp] },
      { label: `${name} lead`, parts: [lead] },
    ]),
    { label: "main fuse", parts: [mainFuse] },
    { label: "crowbar", parts: [crowbar] },
    { label: "clamp", parts: [clamp] },
    { label: "series switch", parts: [seriesSwitch] },
    { label: "line capacitors", parts: [...new Set([supplySide, protectedSide, radioSide])] },
  ];
  return groups
    .map(({ label, parts }) => ({ label, parts: parts.filter((part) => part !== null) }))
    .filter(({ parts }) => parts.length > 0);
}

/** A name as it stands in a column: spaces become underscores. */
export function columnName(name: string, unit: string): string {
  return `${name.replaceAll(/\s+/g, "_")}_${unit}`;
}

/** Decides what of a line is recorded (voltages, currents, temperatures, melt shares) and what is integrated (powers, squared currents). */
export function readLine(assembly: Assembly): Places {
  const probes: Reading[] = [];
  const flows: Reading[] = [];
  const probe = (name: string, unit: string, read: () => number) =>
    probes.push({ name: columnName(name, unit), unit, read });
  const flow = (name: string, unit: string, read: () => number) => flows.push({ name, unit, read });
  const { sources, loads, mainFuse, crowbar, clamp, seriesSwitch, supplySide, protectedSide, radioSide } = assembly;

  if (supplySide !== protectedSide) probe("supply_side", "V", () => supplySide.voltage);
  probe("protected_side", "V", () => protectedSide.voltage);
  if (radioSide !== protectedSide) probe("radio_side", "V", () => radioSide.voltage);
  for (const { name, node, lead, cell, ownCrowbar, regulator } of sources) {
    probe(name, "V", () => node.voltage);
    probe(name, "A", () => lead.current);
    if (regulator) probe(name, "state", () => SOURCE_STATES.indexOf(sourceState(regulator)));
    if (cell) probe(`${name} charge`, "share", () => cell.charge);
    if (ownCrowbar) readScr(`${name} own crowbar`, ownCrowbar);
  }
  for (const { name, node, lead, clamp: ownClamp } of loads) {
    probe(name, "V", () => node.voltage);
    probe(name, "A", () => lead.current);
    if (ownClamp) readClamp(`${name} clamp`, ownClamp);
  }
  for (const { name, lead } of [...sources, ...loads]) {
    probe(`${name} lead rise`, "K", () => lead.rise);
    flow(`${name} lead`, "A²", () => lead.current * lead.current);
    const { element } = lead;
    if (!element) continue;
    probe(`${name} fuse melt`, "share", () => element.theta);
    probe(`${name} fuse`, "V", () => Math.abs(lead.fuseVoltage));
  }
  if (mainFuse) {
    probe("main fuse", "A", () => mainFuse.current);
    probe("main fuse melt", "share", () => mainFuse.element.theta);
    probe("main fuse", "V", () => Math.abs(mainFuse.from.voltage - mainFuse.to.voltage));
    flow("main fuse", "A²", () => mainFuse.current * mainFuse.current);
  }
  if (crowbar) readScr("crowbar", crowbar);
  if (clamp) readClamp("clamp", clamp);
  if (seriesSwitch) {
    probe("series switch", "A", () => seriesSwitch.current);
    probe("series switch", "V", () => Math.abs(seriesSwitch.path.a.voltage - seriesSwitch.path.b.voltage));
    probe("series switch sense", "V", () => seriesSwitch.filter.value);
  }
  const feeders = sources.map(({ regulator, panel, node }) => regulator ?? panel ?? node);
  flow(FED, "W", () => {
    let sum = 0;
    for (let k = 0; k < feeders.length; k++) sum += feeders[k].fed();
    return sum;
  });
  flow(TURNED_OVER, "W", () => {
    let sum = 0;
    for (let k = 0; k < feeders.length; k++) sum += Math.abs(feeders[k].fed());
    return sum;
  });
  for (const { label, parts } of heatGroups(assembly)) {
    const [only] = parts;
    if (parts.length === 1) flow(`${HEAT}${label}`, "W", () => only.dissipation());
    else
      flow(`${HEAT}${label}`, "W", () => {
        let sum = 0;
        for (let k = 0; k < parts.length; k++) sum += parts[k].dissipation();
        return sum;
      });
  }
  for (const list of [probes, flows]) {
    const twin = list.find(({ name }, k) => list.findIndex((other) => other.name === name) !== k);
    if (twin) throw new Error(`two readings are called ${twin.name}`);
  }
  assembly.line.read(probes, flows);
  const find = (list: readonly Reading[], name: string) => {
    const index = list.findIndex((reading) => reading.name === name);
    if (index < 0) throw new Error(`no reading is called ${name}`);
    return index;
  };
  return { probe: (name) => find(probes, name), flow: (name) => find(flows, name) };

  function readScr(name: string, scr: NonNullable<Assembly["crowbar"]>): void {
    probe(name, "A", () => scr.current);
    probe(`${name} junction`, "degC", () => scr.ladder.temperature);
    probe(`${name} sense`, "V", () => scr.sensed);
    probe(`${name} rise`, "A_per_s", () => scr.rise);
    flow(name, "A²", () => scr.current * scr.current);
    flow(`${name} junction`, "W", () => scr.junctionPower);
  }

  function readClamp(name: string, part: NonNullable<Assembly["clamp"]>): void {
    probe(name, "A", () => part.current);
    probe(`${name} rise`, "K", () => part.riseAboveAmbient);
    probe(`${name} energy`, "J", () => part.energy);
    flow(`${name} energy`, "W", () => part.dissipation());
  }
}
