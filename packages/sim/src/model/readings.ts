import type { Device } from "../devices/device.ts";
import type { Assembly } from "./assemble.ts";
import { FED, HEAT, TURNED_OVER } from "./energy-balance.ts";
import { ReadingTable } from "./reading-table.ts";
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
  const table = new ReadingTable(columnName);
  const { sources, loads, mainFuse, crowbar, clamp, seriesSwitch, supplySide, protectedSide, radioSide } = assembly;

  if (supplySide !== protectedSide) table.voltage("supply_side", supplySide);
  table.voltage("protected_side", protectedSide);
  if (radioSide !== protectedSide) table.voltage("radio_side", radioSide);
  for (const { name, node, lead, cell, ownCrowbar, regulator } of sources) {
    table.voltage(name, node);
    table.current(name, lead);
    if (regulator) table.probe(name, "state", () => SOURCE_STATES.indexOf(sourceState(regulator)));
    if (cell) table.probe(`${name} charge`, "share", () => cell.charge);
    if (ownCrowbar) table.scr(`${name} own crowbar`, ownCrowbar);
  }
  for (const { name, node, lead, clamp: ownClamp } of loads) {
    table.voltage(name, node);
    table.current(name, lead);
    if (ownClamp) readClamp(`${name} clamp`, ownClamp);
  }
  for (const { name, lead } of [...sources, ...loads]) {
    table.rise(`${name} lead rise`, lead);
    table.squaredCurrent(`${name} lead`, lead);
    const { element } = lead;
    if (!element) continue;
    table.probe(`${name} fuse melt`, "share", () => element.theta);
    table.probe(`${name} fuse`, "V", () => Math.abs(lead.fuseVoltage));
  }
  if (mainFuse) table.fuse("main fuse", mainFuse);
  if (crowbar) table.scr("crowbar", crowbar);
  if (clamp) readClamp("clamp", clamp);
  if (seriesSwitch) {
    table.probe("series switch", "A", () => seriesSwitch.current);
    table.probe("series switch", "V", () => Math.abs(seriesSwitch.path.a.voltage - seriesSwitch.path.b.voltage));
    table.probe("series switch sense", "V", () => seriesSwitch.filter.value);
  }
  const feeders = sources.map(({ regulator, panel, node }) => regulator ?? panel ?? node);
  table.feeds(FED, TURNED_OVER, feeders);
  for (const { label, parts } of heatGroups(assembly)) table.heat(`${HEAT}${label}`, parts);
  assembly.line.read(table);
  return { probe: (name) => table.probeNamed(name), flow: (name) => table.flowNamed(name) };

  function readClamp(name: string, part: NonNullable<Assembly["clamp"]>): void {
    table.probe(name, "A", () => part.current);
    table.probe(`${name} rise`, "K", () => part.riseAboveAmbient);
    table.probe(`${name} energy`, "J", () => part.energy);
    table.flow(`${name} energy`, "W", () => part.dissipation());
  }
}
