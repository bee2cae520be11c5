import { BatteryCell } from "../devices/battery-cell.ts";
import { Clamp as ClampDevice } from "../devices/clamp.ts";
import { type Device, SLACK, type Surroundings } from "../devices/device.ts";
import { Lamp } from "../devices/lamp.ts";
import { Lead as LeadDevice } from "../devices/lead.ts";
import { Load as LoadDevice } from "../devices/load.ts";
import { MainFuse } from "../devices/main-fuse.ts";
import { Node } from "../devices/node.ts";
import { Panel as PanelDevice } from "../devices/panel.ts";
import { Regulator } from "../devices/regulator.ts";
import { Reservoir } from "../devices/reservoir.ts";
import { Scr } from "../devices/scr.ts";
import { SeriesSwitch } from "../devices/series-switch.ts";
import { Timer } from "../hybrid/parts.ts";
import type { Clamp, Lead, Load, Scenario, Source } from "../scenario/types.ts";
import { JournalRelay, Line } from "./line.ts";
import { Subjects } from "./subjects.ts";
import { clampValues, fuseValues, leadValues, loadValues, regulatorValues, scrValues } from "./values.ts";

export interface SourceBranch {
  readonly name: string;
  readonly node: Node;
  readonly lead: LeadDevice;
  readonly regulator: Regulator | null;
  readonly reservoir: Reservoir | null;
  readonly panel: PanelDevice | null;
  readonly cell: BatteryCell | null;
  readonly ownCrowbar: Scr | null;
}

export interface LoadBranch {
  readonly name: string;
  readonly node: Node;
  readonly lead: LeadDevice;
  readonly load: LoadDevice | Lamp;
  readonly clamp: ClampDevice | null;
}

/** The line and its parts, for whoever reads them. */
export interface Assembly {
  readonly line: Line;
  readonly devices: readonly Device[];
  readonly journal: JournalRelay;
  readonly subjects: Subjects;
  readonly sources: readonly SourceBranch[];
  readonly loads: readonly LoadBranch[];
  readonly supplySide: Node;
  readonly protectedSide: Node;
  readonly radioSide: Node;
  readonly mainFuse: MainFuse | null;
  readonly crowbar: Scr | null;
  readonly clamp: ClampDevice | null;
  readonly seriesSwitch: SeriesSwitch | null;
}

/** Builds the star that a scenario describes. `relative` is the integration's relative tolerance; the corners' dead bands follow it. */
export function assemble(scenario: Scenario, relative: number): Assembly {
  const journal = new JournalRelay();
  const subjects = new Subjects();
  const around: Surroundings = {
    journal,
    ambient: scenario.ambient,
    voltageBand: relative,
    currentBand: 10 * relative,
  };
  const start = startVoltage(scenario);
  const { nodes } = scenario;
  const hubNode = (name: string, { capacitance, resistance }: { capacitance: number; resistance: number }) =>
    new Node(name, capacitance, resistance, start, false, SLACK.hubNode);
  const protectedSide = hubNode("vC2", nodes.protectedSide);
  const supplySide = scenario.mainFuse ? hubNode("vC1", nodes.supplySide) : protectedSide;
  const radioSide = scenario.seriesSwitch ? hubNode("vC3", nodes.radioSide) : protectedSide;

  const faultId = subjects.add("line");
  const sources = scenario.sources.map((source) => sourceBranch(source, scenario, supplySide, start, subjects, around));
  const loads = scenario.loads.map((load) => loadBranch(load, scenario, radioSide, start, subjects, around));
  const mainFuse = scenario.mainFuse
    ? new MainFuse(
        "main fuse",
        fuseValues(scenario.mainFuse, scenario.ambient),
        supplySide,
        protectedSide,
        subjects.add("main fuse"),
        around,
      )
    : null;
  const { seriesSwitch: switchText } = scenario;
  const seriesSwitch = switchText
    ? new SeriesSwitch(
        "series switch",
        switchText,
        protectedSide,
        radioSide,
        switchText.sense === "supply side" ? supplySide : protectedSide,
        subjects.add("series switch"),
        around,
      )
    : null;
  const { crowbar: crowbarText } = scenario;
  const crowbar = crowbarText
    ? new Scr("", scrValues(crowbarText), protectedSide, subjects.add("crowbar"), around, () => {
        if (crowbarText.variant === "latched") seriesSwitch?.disconnect();
      })
    : null;
  const clamp = scenario.clamp ? clampDevice("", scenario.clamp, protectedSide, subjects.add("clamp"), around) : null;

  const fault = new Timer(() => {
    journal.log(faultId, "fault", "the fault strikes");
    for (const { regulator, panel } of sources) {
      regulator?.strike();
      panel?.strike();
    }
  });
  fault.start(scenario.faultTime);

  const hub = [...new Set([supplySide, protectedSide, radioSide])];
  const present = (...parts: (Device | null)[]): Device[] => parts.filter((part) => part !== null);
  const devices = [
    ...sources.flatMap((branch) =>
      present(
        branch.lead,
        branch.ownCrowbar,
        branch.node,
        branch.regulator,
        branch.reservoir,
        branch.panel,
        branch.cell,
      ),
    ),
    ...loads.flatMap(({ lead, clamp: ownClamp, load, node }) =>
      // A filament's temperature is eliminated before the node it hangs on.
      load instanceof Lamp ? present(lead, ownClamp, load, node) : present(lead, ownClamp, node, load),
    ),
    ...present(crowbar, clamp, mainFuse, seriesSwitch),
    ...hub,
  ];
  const loadClamps = loads.map((branch) => branch.clamp);
  const line = new Line({
    devices,
    hub,
    links: [mainFuse?.path, seriesSwitch?.path].filter((path) => path !== undefined),
    rectifiers: [mainFuse?.path, seriesSwitch?.path, clamp, ...loadClamps].filter(
      (part) => part !== undefined && part !== null,
    ),
    timers: [fault],
    surroundings: around,
  });
  return {
    line,
    devices,
    journal,
    subjects,
    sources,
    loads,
    supplySide,
    protectedSide,
    radioSide,
    mainFuse,
    crowbar,
    clamp,
    seriesSwitch,
  };
}

/** The set voltage of the first supply, else a battery's EMF: where the search for the operating point starts. */
function startVoltage(scenario: Scenario): number {
  const supply = scenario.sources.find((source) => source.kind === "supply");
  if (supply) return supply.setVoltage;
  const battery = scenario.sources.find((source) => source.kind === "battery");
  return battery ? battery.emf : 12.8;
}

function leadDevice(
  lead: Lead,
  source: Source | null,
  name: string,
  from: Node,
  to: Node,
  subjects: Subjects,
  around: Surroundings,
  ambient: number,
) {
  const ids = { fuse: subjects.add("in-line fuse", name), contact: subjects.add(source ? "source" : "load", name) };
  return new LeadDevice(name, leadValues(lead, source?.diode ?? null, ambient), from, to, ids, around);
}

function clampDevice(name: string, clamp: Clamp, node: Node, id: number, around: Surroundings): ClampDevice {
  return new ClampDevice(name, clampValues(clamp), node, id, around);
}

function sourceBranch(
  source: Source,
  scenario: Scenario,
  hub: Node,
  start: number,
  subjects: Subjects,
  around: Surroundings,
): SourceBranch {
  const { name } = source;
  const id = subjects.add("source", name);
  const none = { regulator: null, reservoir: null, panel: null, cell: null, ownCrowbar: null };
  const lead = (node: Node) => leadDevice(source.lead, source, name, node, hub, subjects, around, scenario.ambient);
  switch (source.kind) {
    case "battery": {
      const table = source.emfTable ?? [
        { charge: 0, emf: source.emf },
        { charge: 1, emf: source.emf + source.emfPerCharge },
      ];
      const node = new Node(
        `${name}.vb`,
        (3600 * source.capacityAh) / source.emfPerCharge,
        source.internalResistance,
        source.emf,
        true,
      );
      const cell = new BatteryCell({ ...source, emfTable: table }, node, source.emf, around.voltageBand);
      return { ...none, name, node, lead: lead(node), cell };
    }
    case "panel": {
      const node = new Node(`${name}.vo`, source.outputCapacitance, source.esr, start);
      const panel = new PanelDevice(
        name,
        { ...source, failsShorted: source.fault.kind === "shorted controller" },
        node,
        around,
      );
      return { ...none, name, node, lead: lead(node), panel };
    }
    case "supply": {
      const node = new Node(`${name}.vo`, source.outputCapacitance, source.esr, start);
      // The two refer to each other: one draws, the other bounds.
      let regulator: Regulator | null = null;
      const reservoir = source.reservoir
        ? new Reservoir(name, source.reservoir, () => regulator?.state ?? -1, around)
        : null;
      regulator = new Regulator(name, regulatorValues(source, scenario.start === "dead"), node, reservoir, id, around);
      const ownCrowbar = source.ownCrowbar
        ? new Scr(
            `${name} own`,
            scrValues(source.ownCrowbar),
            node,
            subjects.add("own crowbar", name),
            around,
            () => {},
          )
        : null;
      return { ...none, name, node, lead: lead(node), regulator, reservoir, ownCrowbar };
    }
  }
}

function loadBranch(
  load: Load,
  scenario: Scenario,
  hub: Node,
  start: number,
  subjects: Subjects,
  around: Surroundings,
): LoadBranch {
  const { name } = load;
  const id = subjects.add("load", name);
  const node = new Node(`${name}.vc`, load.inputCapacitance, load.esr, start);
  const lead = leadDevice(load.lead, null, name, hub, node, subjects, around, scenario.ambient);
  const device =
    load.kind === "lamp"
      ? new Lamp(name, load, node, id, around)
      : new LoadDevice(name, loadValues(load), node, id, around);
  const clamp = load.clamp ? clampDevice(name, load.clamp, node, subjects.add("load clamp", name), around) : null;
  return { name, node, lead, load: device, clamp };
}
