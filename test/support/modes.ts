import { Simulation } from "../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";

/** The inside of a simulation, for checks that look at equations rather than at results. */
export function inside(simulation: Simulation) {
  return {
    assembly: simulation["assembly"],
    line: simulation["assembly"].line,
    y: simulation["loop"].state,
    local: simulation["loop"]["local"],
  };
}
export type Inside = ReturnType<typeof inside>;

/** Every device's mode by name; what is not there is left out. */
function modesOf({ assembly }: Inside): string[] {
  const { sources, loads, mainFuse, crowbar, clamp, seriesSwitch } = assembly;
  const modes: string[] = [];
  const scr = (name: string, part: NonNullable<typeof crowbar>) => {
    const branch = part["forward"] ? "forward" : "at zero";
    modes.push(`${name}: ${part.conducting ? branch : "blocking"}${part.failedShort ? ", failed short" : ""}`);
  };
  const clamped = (name: string, part: NonNullable<typeof clamp>) =>
    modes.push(`${name}: ${part.failedShort ? "short" : part.conducting ? "on" : "off"}`);
  const path = (name: string, part: NonNullable<typeof mainFuse>["path"]) =>
    modes.push(`${name}: ${part.state}${part.state === "clearing" ? (part.conducting ? " on" : " blocked") : ""}`);
  for (const { regulator, reservoir, panel, cell, ownCrowbar } of sources) {
    if (regulator) modes.push(`supply: ${regulator["piece"]}`, `supply: ${regulator.phase}`);
    if (regulator && regulator["target"]["rampTime"] > 0) modes.push(`supply: ramp, ${regulator["piece"]}`);
    if (regulator && regulator["target"]["slope"] !== 0) modes.push(`supply: moving, ${regulator["piece"]}`);
    if (regulator?.values.limit.current !== regulator?.values.limit.shortCircuitCurrent)
      modes.push(`foldback: ${regulator?.["piece"]}`);
    if (reservoir)
      modes.push(
        `reservoir: ${reservoir.values.ripple ? "ripple, " : ""}${reservoir["charging"] ? "charging" : "idle"}`,
      );
    if (panel)
      modes.push(`panel: ${panel["struck"] ? (panel["delivering"] ? "delivering" : "above open circuit") : "off"}`);
    if (cell) modes.push(`battery: segment ${cell["segment"]}`);
    if (ownCrowbar) scr("own crowbar", ownCrowbar);
  }
  for (const { lead } of [...sources, ...loads]) {
    if (lead.element) modes.push(`lead fuse: ${lead.fuseState}`);
    if (lead.values.contact) modes.push(`contact: ${lead.contactGap.state}`);
    if (lead.values.diode) modes.push(`diode: ${lead["blocked"] ? "blocked" : "conducting"}`);
  }
  for (const { load, node, clamp: own } of loads) {
    if ("law" in load) {
      const { kind } = load.values;
      const below = load["belowKnee"] ? "below" : "above";
      modes.push(
        `load: ${kind}${load.asleep ? ` asleep ${below}` : kind === "resistive" ? "" : ` ${below}`}${node.state < 0 ? " without capacitor" : ""}`,
      );
    } else modes.push(`lamp: ${node.state < 0 ? "without" : "with"} capacitor`);
    if (own) clamped("load clamp", own);
  }
  if (mainFuse) path("main fuse", mainFuse.path);
  if (seriesSwitch) {
    path("switch path", seriesSwitch.path);
    modes.push(`switch: ${seriesSwitch.state}`);
  }
  if (crowbar) scr("crowbar", crowbar);
  if (clamp) clamped("clamp", clamp);
  return modes;
}

/** Steps through a run and looks at the equations in each combination of modes it comes to, just after entering it and some steps later. */
export function visitModes(scenario: Scenario, look: (inside: Inside, modes: string[]) => void): Set<string> {
  const simulation = new Simulation(scenario, { record: false });
  const seen = new Map<string, number>();
  const visited = new Set<string>();
  do {
    const view = inside(simulation);
    const modes = modesOf(view);
    const key = modes.join("; ");
    const times = seen.get(key) ?? 0;
    seen.set(key, times + 1);
    if (times < 2 || times === 12) {
      for (const mode of modes) visited.add(mode);
      look(view, modes);
    }
  } while (simulation.advance(1) === "running");
  return visited;
}

/** By how much currents fail to sum to zero at the worst node, A. */
export function imbalance({ assembly, line, y, local }: Inside): number {
  line.observe(local, y);
  const { sources, loads, mainFuse, crowbar, clamp, seriesSwitch, supplySide, protectedSide, radioSide } = assembly;
  const sum = (list: readonly number[]) => list.reduce((a, b) => a + b, 0);
  const into = new Map([supplySide, protectedSide, radioSide].map((node) => [node, 0]));
  const flow = (node: typeof supplySide, current: number) => into.set(node, (into.get(node) ?? 0) + current);
  const leak = (part: NonNullable<typeof crowbar>) =>
    part.conducting ? 0 : part.node.voltage / part.values.leakResistance;
  flow(supplySide, sum(sources.map(({ lead }) => lead.current)));
  flow(radioSide, -sum(loads.map(({ lead }) => lead.current)));
  for (const part of [mainFuse, seriesSwitch]) {
    if (!part) continue;
    flow(part.path.a, -part.current);
    flow(part.path.b, part.current);
  }
  if (crowbar) flow(protectedSide, -crowbar.current - leak(crowbar));
  if (clamp) flow(protectedSide, -clamp.current);
  const gaps = [...into].map(([node, current]) => current - node.capacitorCurrent);
  for (const { node, lead, regulator, panel, ownCrowbar } of sources) {
    const made = regulator
      ? regulator.delivered - node.voltage / regulator.values.bleederResistance
      : (panel?.delivered ?? 0);
    const own = ownCrowbar ? ownCrowbar.current + leak(ownCrowbar) : 0;
    gaps.push(made - own - lead.current - node.capacitorCurrent);
  }
  for (const { node, lead, load, clamp: own } of loads)
    gaps.push(lead.current - load.current - (own?.current ?? 0) - node.capacitorCurrent);
  return Math.max(...gaps.map(Math.abs));
}
