import type { Load as LoadDevice } from "../../packages/sim/src/devices/load.ts";
import type { Scr } from "../../packages/sim/src/devices/scr.ts";
import type { Simulation } from "../../packages/sim/src/model/run.ts";
import type { Clamp, Crowbar, Fuse, Lead, Load, Scenario, Supply } from "../../packages/sim/src/scenario/types.ts";
import { inside } from "./modes.ts";

/*
 * The equations of the physics page once more, straight from a scenario's values: what each state's rate is at a state of the line. From the
 * devices come only the voltages of the nodes, of which other tests check that the currents sum to zero, and modes that the past has decided.
 */

/** Where along its dead band a corner may still lie on the old piece: V and A. */
const BAND = { volt: 2e-6, ampere: 2e-5 };

/** A rate, and by how much a corner's dead band may move it. */
export interface Rate {
  readonly value: number;
  readonly band: number;
}
type Rates = Map<string, Rate>;

const max0 = (value: number): number => Math.max(0, value);
const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

/** Every state's rate by its name. */
export function lawfulRates(simulation: Simulation, scenario: Scenario): Rates {
  const { assembly, line, y, local } = inside(simulation);
  line.observe(local, y);
  const at = (name: string): number => {
    const index = line.names.indexOf(name);
    if (index < 0) throw new Error(`no state is called ${name}`);
    return y[index];
  };
  const rates: Rates = new Map();
  const set = (name: string, value: number, band = 0): void => {
    rates.set(name, { value, band });
  };
  const stages = (name: string, count: number): string[] =>
    count === 1 && !name.endsWith("theta") ? [name] : Array.from({ length: count }, (_, k) => `${name}${k + 1}`);
  const resistanceOf = (fuse: Fuse, name: string, melted: boolean): { ohm: number; theta: number } => {
    const theta = melted ? 1 : sum(stages(`${name}.theta`, fuse.stages.length).map(at));
    return { ohm: fuse.coldResistance * (1 + (fuse.resistanceRatio - 1) * theta), theta };
  };
  const melting = (fuse: Fuse, name: string, current: number, melted: boolean): void => {
    const { theta } = resistanceOf(fuse, name, melted);
    const rerated =
      fuse.meltingTemperature === null
        ? fuse.minimumMeltingCurrent
        : fuse.minimumMeltingCurrent *
          Math.sqrt((fuse.meltingTemperature - scenario.ambient) / (fuse.meltingTemperature - 25));
    const q = ((current / rerated) ** 2 * (1 + (fuse.resistanceRatio - 1) * theta)) / fuse.resistanceRatio;
    fuse.stages.forEach(({ weight, timeConstant }, m) => {
      const state = `${name}.theta${m + 1}`;
      set(state, melted ? 0 : (weight * q - at(state)) / timeConstant);
    });
  };
  const ladder = (name: string, list: Crowbar["junctionStages"], power: number): void =>
    stages(name, list.length).forEach((state, k) => {
      set(state, (list[k].resistance * power - at(state)) / list[k].timeConstant);
    });

  /** Of a lead; `drop` is what its diode adds. */
  const lead = (
    name: string,
    values: Lead,
    diode: { forwardVoltage: number; resistance: number } | null,
    part: (typeof assembly.loads)[number]["lead"],
  ): void => {
    const i = at(`${name}.i`);
    const melted = values.fuse !== null && part.fuseState !== "intact";
    const fuseOhm = values.fuse === null ? 0 : resistanceOf(values.fuse, `${name} fuse`, melted).ohm;
    const ohm = values.resistance + fuseOhm + (values.contact?.resistance ?? 0) + (diode?.resistance ?? 0);
    let arcs = 0;
    if (part.fuseState === "clearing") arcs += part.fuseGap.direction * (values.fuse?.arcVoltage ?? 0);
    if (part.contactGap.state === "clearing") arcs += part.contactGap.direction * (values.contact?.arcVoltage ?? 0);
    const open = part.fuseState === "open" || part.contactGap.state === "open";
    const drive = part.from.voltage - part.to.voltage - arcs - (diode?.forwardVoltage ?? 0);
    const blocks = diode !== null && i <= 0 && drive <= BAND.volt;
    set(
      `${name}.i`,
      open || blocks ? 0 : (drive - ohm * i) / values.inductance,
      diode ? BAND.volt / values.inductance : 0,
    );
    set(`${name}.dT`, (5e-15 * i * i) / values.copperArea ** 2 - at(`${name}.dT`) / values.thermalTimeConstant);
    if (values.fuse) melting(values.fuse, `${name} fuse`, i, melted);
  };

  /** Of an SCR; gives the current it takes from its node. */
  const scr = (prefix: string, values: Crowbar, part: Scr): number => {
    const i = at(`${prefix}i_scr`);
    const v = part.node.voltage;
    set(`${prefix}vf`, (v - at(`${prefix}vf`)) / values.senseTimeConstant);
    const power = (values.thresholdVoltage + values.slopeResistance * i) * i;
    const sink = { resistance: values.caseToAmbient, timeConstant: values.caseToAmbient * values.caseHeatCapacity };
    ladder(`${prefix}dTj`, [...values.junctionStages, sink], power);
    const conducts = part.conducting && (i > 0 || v > values.thresholdVoltage);
    const drive = v - values.thresholdVoltage - (values.slopeResistance + values.stubResistance) * i;
    set(`${prefix}i_scr`, conducts ? drive / values.inductance : 0, i > 0 ? 0 : BAND.volt / values.inductance);
    return i + (part.conducting ? 0 : v / values.leakResistance);
  };

  /** Of a clamp; gives the current it takes. */
  const clamp = (prefix: string, values: Clamp, failedShort: boolean, v: number): number => {
    const i = failedShort ? v / values.shortResistance : max0(v - values.breakdownVoltage) / values.slopeResistance;
    const slack = failedShort ? 0 : (v * BAND.volt) / values.slopeResistance;
    const { thermalResistance: R, thermalTimeConstant: tau } = values;
    const name = prefix === "" ? ["dTclamp", "clamp energy"] : [`${prefix}.dTclamp`, `${prefix} clamp energy`];
    set(name[0], (R * v * i - at(name[0])) / tau, (R * slack) / tau);
    set(name[1], v * i, slack);
    return i;
  };

  for (const source of scenario.sources) {
    const part = assembly.sources.find(({ name }) => name === source.name);
    if (!part) throw new Error(`no source is called ${source.name}`);
    const { name } = source;
    lead(name, source.lead, source.diode, part.lead);
    const v = part.node.voltage;
    const i = at(`${name}.i`);
    if (source.kind === "battery") {
      const emf = at(`${name}.vb`);
      const table = source.emfTable ?? [
        { charge: 0, emf: source.emf },
        { charge: 1, emf: source.emf + source.emfPerCharge },
      ];
      const above = table.findIndex((point, k) => k > 0 && (emf <= point.emf || k === table.length - 1));
      const [a, b] = [table[above - 1], table[above]];
      const slope = (b.emf - a.emf) / (b.charge - a.charge);
      const near = table.some((point) => Math.abs(point.emf - emf) < 1e-4);
      set(`${name}.vb`, (-i * slope) / (3600 * source.capacityAh), near ? Number.POSITIVE_INFINITY : 0);
      continue;
    }
    const vo = at(`${name}.vo`);
    if (source.kind === "panel") {
      const knee = Math.min(600, vo / source.kneeVoltage);
      const law = 1 - Math.expm1(knee) / Math.expm1(source.openCircuitVoltage / source.kneeVoltage);
      const failed = source.fault.kind === "shorted controller" && struck(simulation);
      const made = failed ? max0(source.shortCircuitCurrent * law) : 0;
      set(`${name}.vo`, (made - i) / source.outputCapacitance, BAND.ampere / source.outputCapacitance);
      continue;
    }
    const is = at(`${name}.is`);
    const own = source.ownCrowbar && part.ownCrowbar ? scr(`${name} own.`, source.ownCrowbar, part.ownCrowbar) : 0;
    set(`${name}.vo`, (is - v / source.bleederResistance - own - i) / source.outputCapacitance);
    const asked = regulated(simulation, scenario, source, vo, source.reservoir ? at(`${name}.vres`) : null);
    set(`${name}.is`, (asked - is) / source.responseTime, BAND.ampere / source.responseTime);
    if (source.reservoir) {
      const { rawVoltage, rawResistance, capacitance, ripple, mainsFrequency } = source.reservoir;
      const raw = ripple ? rawVoltage * Math.abs(Math.sin(2 * Math.PI * mainsFrequency * simulation.time)) : rawVoltage;
      const vres = at(`${name}.vres`);
      const charging = supplyPhase(simulation, scenario, source).connected ? max0(raw - vres) / rawResistance : 0;
      set(`${name}.vres`, (charging - is) / capacitance, (2 * BAND.volt) / rawResistance / capacitance);
    }
  }

  for (const load of scenario.loads) {
    const part = assembly.loads.find(({ name }) => name === load.name);
    if (!part) throw new Error(`no load is called ${load.name}`);
    const { name } = load;
    lead(name, load.lead, null, part.lead);
    const v = part.node.voltage;
    const taken = load.clamp && part.clamp ? clamp(name, load.clamp, part.clamp.failedShort, v) : 0;
    const across = load.inputCapacitance > 0 ? at(`${name}.vc`) : v;
    const drawn = drawnBy(load, part.load as LoadDevice, across, load.kind === "lamp" ? at(`${name}.T`) : 0);
    if (load.kind === "lamp") {
      const radiated = (T: number): number => T ** 4 - load.coldTemperature ** 4;
      const lost = (load.nominalPower * radiated(at(`${name}.T`))) / radiated(load.nominalTemperature);
      set(`${name}.T`, (across * drawn - lost) / load.heatCapacity);
    }
    const slack = load.clamp ? BAND.volt / load.clamp.slopeResistance : 0;
    if (load.inputCapacitance > 0)
      set(
        `${name}.vc`,
        (at(`${name}.i`) - drawn - taken) / load.inputCapacitance,
        (slack + BAND.ampere) / load.inputCapacitance,
      );
  }

  const { mainFuse, crowbar, seriesSwitch } = assembly;
  if (scenario.mainFuse && mainFuse)
    melting(scenario.mainFuse, "main fuse", mainFuse.current, mainFuse.state !== "intact");
  if (scenario.crowbar && crowbar) scr("", scenario.crowbar, crowbar);
  if (scenario.clamp && assembly.clamp)
    clamp("", scenario.clamp, assembly.clamp.failedShort, assembly.protectedSide.voltage);
  if (scenario.seriesSwitch && seriesSwitch) {
    const { sense, senseTimeConstant } = scenario.seriesSwitch;
    const sensed = sense === "supply side" ? assembly.supplySide : assembly.protectedSide;
    set("vf_switch", (sensed.voltage - at("vf_switch")) / senseTimeConstant);
  }
  // The node capacitors: v = vC + r·C·vC'.
  const hub = [
    ["vC1", assembly.supplySide, scenario.nodes.supplySide],
    ["vC2", assembly.protectedSide, scenario.nodes.protectedSide],
    ["vC3", assembly.radioSide, scenario.nodes.radioSide],
  ] as const;
  for (const [name, node, { capacitance, resistance }] of hub)
    if (line.names.includes(name)) set(name, (node.voltage - at(name)) / (resistance * capacitance));
  return rates;
}

const struck = (simulation: Simulation): boolean => simulation["events"].some(({ kind }) => kind === "fault");

/** Of a supply's regulator, from what the events say. */
function supplyPhase(simulation: Simulation, scenario: Scenario, { name, switchOn, limit }: Supply) {
  const own = simulation["events"].filter(({ subject }) => subject.owner === name);
  const last = (...kinds: string[]) => own.findLast(({ kind }) => kinds.includes(kind));
  const started = last("switched on");
  const stopped = last("limiter trips", "over-voltage shutdown");
  const again = last("restarts");
  const connected = scenario.start === "operating" || started !== undefined;
  const off = stopped !== undefined && (again === undefined || again.time < stopped.time);
  const ramp = again
    ? { from: again.time, time: limit.style === "hiccup" ? limit.rampTime : 0 }
    : { from: started?.time ?? 0, time: started ? switchOn.rampTime : 0 };
  return { connected, off, ramp };
}

/** i*: what the regulator aims to deliver, A. */
function regulated(
  simulation: Simulation,
  scenario: Scenario,
  supply: Supply,
  vo: number,
  vres: number | null,
): number {
  const { fault, limit, setVoltage, sourceResistance } = supply;
  const { connected, off, ramp } = supplyPhase(simulation, scenario, supply);
  const since = simulation.time - scenario.faultTime;
  if (fault.kind === "shorted pass transistor" && struck(simulation))
    return max0(((vres ?? Number.NaN) - vo) / fault.passResistance);
  if (!connected || off) return 0;
  let aim = setVoltage;
  if ((fault.kind === "voltage turned up" || fault.kind === "lost feedback") && struck(simulation)) {
    const end = fault.kind === "lost feedback" ? fault.ceilingVoltage : fault.endVoltage;
    aim = setVoltage + Math.sign(end - setVoltage) * Math.min(Math.abs(end - setVoltage), fault.slew * since);
  }
  if (ramp.time > 0) aim *= Math.min(1, max0((simulation.time - ramp.from) / ramp.time));
  const bounds = [(aim - vo) / sourceResistance];
  if (limit.style === "foldback")
    bounds.push(
      limit.shortCircuitCurrent + (limit.current - limit.shortCircuitCurrent) * Math.min(1, max0(vo / setVoltage)),
    );
  else if (limit.style !== "none") bounds.push(limit.current);
  if (supply.reservoir && vres !== null) bounds.push((vres - vo) / supply.reservoir.dropOutResistance);
  return max0(Math.min(...bounds));
}

/** What a load draws with `v` across its input capacitor. */
function drawnBy(load: Load, part: LoadDevice, v: number, T: number): number {
  if (load.kind === "lamp") {
    const hot = load.nominalVoltage ** 2 / load.nominalPower;
    return v / (hot * (T / load.nominalTemperature) ** load.exponent);
  }
  if (part.asleep && load.dropOut) {
    const knee = load.kind === "resistive" ? load.dropOut.voltage : load.kneeVoltage;
    return v < knee ? (v * load.dropOut.sleepCurrent) / knee : load.dropOut.sleepCurrent;
  }
  switch (load.kind) {
    case "resistive":
      return v / load.resistance;
    case "constant current":
      return v < load.kneeVoltage ? (v * load.current) / load.kneeVoltage : load.current;
    case "constant power":
      return v < load.kneeVoltage ? (v * load.power) / load.kneeVoltage ** 2 : load.power / v;
  }
}
