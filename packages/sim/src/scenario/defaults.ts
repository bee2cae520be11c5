import type { Cited, Mark } from "./parts/types.ts";

const common = <T extends number | string | boolean>(value: T, source = "usual in the trade, no source"): Cited<T> => ({
  value,
  source,
  mark: "common practice" as Mark,
});
const assumed = <T extends number | string | boolean>(value: T, source: string): Cited<T> => ({
  value,
  source,
  mark: "assumed",
});
const plain = <T extends number | string | boolean>(value: T): Cited<T> =>
  common(value, "plain case: nothing was said");

/** Every default of the scenario, by the kind of section and the dotted path of the field. Figures that follow from others stand in `computed` below. */
export const defaults: Readonly<Record<string, Cited<number | string | boolean>>> = {
  "scenario.ambient": common(25, "data sheets speak of 25 °C"),
  "scenario.start": plain("operating"),
  "scenario.nodes.supplySide.capacitance": common(0.1e-6),
  "scenario.nodes.supplySide.resistance": common(1),
  "scenario.nodes.protectedSide.capacitance": common(1e-6),
  "scenario.nodes.protectedSide.resistance": common(0.2),
  "scenario.nodes.radioSide.capacitance": common(0.1e-6),
  "scenario.nodes.radioSide.resistance": common(1),

  "lead.contacts": common(4, "two conductors with a contact at each end"),
  "lead.thermalTimeConstant": common(60),
  "lead.insulation": common("PVC", "the usual insulation"),
  "contact.resistance": common(1e-3, "a pair of contacts has 0.5 to 1 mohm"),
  "contact.arcVoltage": common(15),
  "contact.extinctionCurrent": common(0.1),
  "contact.initially": plain("closed"),

  "fuse.extinctionCurrent": common(0.1),
  "fuse.extinctionTime": common(1e-6),
  "fuse.start": plain("warm"),

  "supply.sourceResistance": common(10e-3),
  "supply.responseTime": common(20e-6),
  "supply.bleederResistance": common(1e3),
  "supply.reservoir.dropOutResistance": common(20e-3),
  "supply.reservoir.mainsFrequency": common(60),
  "supply.reservoir.ripple": plain(false),
  "supply.shutdown.worksOnLostFeedback": assumed(false, "a shutdown often shares the lost feedback"),
  "supply.switchOn.time": plain(0),
  "supply.switchOn.rampTime": assumed(10e-3, "a supply's soft start"),
  "battery.initialCharge": common(0.9),

  "crowbar.variant": plain("plain"),
  "crowbar.gateDelay": common(2e-6),
  "crowbar.leakResistance": common(1e6),
  "crowbar.inductance": assumed(50e-9, "a few centimetres of wire"),
  "crowbar.turnOffTime": common(60e-6),
  "crowbar.failTemperature": common(250),
  "crowbar.stubResistance": plain(0),
  "crowbar.latchingCurrent": plain(0),

  "clamp.failsShort": common(true, "overloaded clamps usually fail short"),
  "clamp.shortResistance": common(5e-3),

  "series switch.sense": plain("supply side"),
  "series switch.senseTimeConstant": common(10e-6),
  "series switch.extinctionCurrent": common(0.1),

  "load.esr": common(30e-3),
  "load.exponent": common(1.2),
  "load.coldTemperature": common(300),
  "load.nominalTemperature": common(2800),
  "load.limits.withstand": assumed("strict", "no withstand curve was given: any time above the maximum counts"),
};

/** Contacts of one fuse holder. */
export const contactsPerFuseHolder = common(2, "one at each end of the fuse");

/** Defaults that follow from other figures, with the rule as their source. */
export const computed = {
  arcVoltage: (ratedVoltage: number): Cited<number> =>
    common(Math.min(1.1 * ratedVoltage, 35), "the smaller of 1.1 × rated voltage and 35 V"),
  switchArcVoltage: (kind: "transistor" | "relay"): Cited<number> =>
    kind === "transistor" ? common(40, "avalanche voltage of a transistor") : common(15, "arc of a relay contact"),
  switchExtinctionTime: (kind: "transistor" | "relay"): Cited<number> => common(kind === "transistor" ? 1e-6 : 10e-6),
  panelKneeVoltage: (openCircuitVoltage: number): Cited<number> =>
    common(openCircuitVoltage / 16, "open circuit voltage / 16"),
  loadKneeVoltage: (nominal: number): Cited<number> => common(0.6 * nominal, "0.6 × nominal voltage of the line"),
  batteryEmf: (setVoltage: number | null): Cited<number> =>
    setVoltage === null
      ? common(12.8, "a rested, nearly full battery")
      : common(setVoltage, "floating at the set voltage of the first supply"),
  noInputCapacitance: plain(0),
};

/** Withstand curves by name: longest time allowed above each voltage, V and s. */
export const withstandCurves: Readonly<Record<string, Cited<readonly { voltage: number; time: number }[]>>> = {
  strict: { value: [], source: "any time above the maximum counts", mark: "assumed" },
  "parts rated 16 V": {
    value: [
      { voltage: 16, time: 1 },
      { voltage: 18.4, time: 10e-3 },
      { voltage: 20, time: 1e-3 },
      { voltage: 25, time: 100e-6 },
    ],
    source: "parts inside rated 16 V, electrolytics 1.15 times that for a short time; no published curve exists",
    mark: "assumed",
  },
  vehicle: {
    value: [
      { voltage: 18, time: 3600 },
      { voltage: 24, time: 60 },
      { voltage: 35, time: 0.4 },
    ],
    source: "ISO 16750-2, seen as a copy by somebody else",
    mark: "transcribed",
  },
};
