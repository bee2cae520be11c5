import { capacitorDumpI2t } from "../../scenario/surge.ts";
import type { Crowbar, Scenario, Source } from "../../scenario/types.ts";
import type { FusePlace } from "./place.ts";

/** One charged capacitor of a line with its way into the fired SCR. */
export interface Charged {
  /** V, before the SCR fires. */
  readonly voltage: number;
  /** F. */
  readonly capacitance: number;
  /** Of the whole loop, the SCR's slope included, ohm. */
  readonly resistance: number;
  readonly throughFuse: boolean;
  /** Of a reservoir: which source charges it again, and through how much, ohm; null for others. */
  readonly recharged: { readonly source: number; readonly resistance: number } | null;
}

/**
 * The charged capacitors of a line with a crowbar: outputs and reservoirs of the sources, inputs of the loads. All sources pass the main fuse;
 * an in-line fuse is passed by its own source alone.
 *
 * @param place of the fuse
 */
export function chargedCapacitors(scenario: Scenario, place: FusePlace): readonly Charged[] {
  const { sources, loads, crowbar, mainFuse } = scenario;
  if (crowbar === null) return [];
  const end = crowbar.slopeResistance + crowbar.stubResistance;
  const main = mainFuse?.coldResistance ?? 0;
  const inputs = loads.map(({ inputCapacitance, esr, lead }) => ({
    voltage: crowbar.tripVoltage,
    capacitance: inputCapacitance,
    resistance: esr + lead.resistance + (lead.fuse?.coldResistance ?? 0) + end,
    throughFuse: false,
    recharged: null,
  }));
  const feeds = sources.flatMap((source, index) =>
    ofSource(source, index, crowbar).map((each) => ({
      ...each,
      resistance: each.resistance + source.lead.resistance + (source.lead.fuse?.coldResistance ?? 0) + main + end,
      throughFuse: place.kind === "main" || place.index === index,
    })),
  );
  return [...feeds, ...inputs].filter(({ capacitance }) => capacitance > 0);
}

function ofSource(source: Source, index: number, { tripVoltage }: Crowbar): readonly Omit<Charged, "throughFuse">[] {
  if (source.kind === "battery") return [];
  const output = {
    voltage: tripVoltage,
    capacitance: source.outputCapacitance,
    resistance: source.esr,
    recharged: null,
  };
  if (source.kind !== "supply" || source.reservoir === null || source.fault.kind !== "shorted pass transistor")
    return [output];
  const { rawVoltage: voltage, capacitance, rawResistance } = source.reservoir;
  const recharged = { source: index, resistance: rawResistance };
  return [output, { voltage, capacitance, resistance: source.fault.passResistance, recharged }];
}

/** I²t of one capacitor into the fired SCR, A²s: (V − V_T0)²·C/(2R). Source: exponential discharge, its inductance neglected. */
export function dumpI2t({ voltage, capacitance, resistance }: Charged, { thresholdVoltage }: Crowbar): number {
  return capacitorDumpI2t(voltage, thresholdVoltage, capacitance, resistance);
}

/**
 * I²t of the charged capacitors into the fired SCR, A²s, each alone; added up, which leaves out what they do together.
 *
 * @param place of the fuse
 * @example dumpOf(scenario, { kind: "main" }).throughFuse // about 160 A²s for the shipped station's reservoir
 */
export function dumpOf(
  scenario: Scenario,
  place: FusePlace,
): { readonly throughFuse: number; readonly beside: number } {
  const { crowbar } = scenario;
  if (crowbar === null) return { throughFuse: 0, beside: 0 };
  const sum = (through: boolean): number =>
    chargedCapacitors(scenario, place)
      .filter(({ throughFuse }) => throughFuse === through)
      .reduce((total, each) => total + dumpI2t(each, crowbar), 0);
  return { throughFuse: sum(true), beside: sum(false) };
}
