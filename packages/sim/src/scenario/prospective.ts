import type { Scenario, Source } from "./types.ts";

/** The most a source can push through a short at a place, and out of how much voltage. */
export interface Available {
  /** V. */
  readonly voltage: number;
  /** A; an upper bound: voltage over resistance. */
  readonly current: number;
}

/**
 * The largest voltage that a source reaches by its fault, V: raw voltage, end or ceiling voltage, EMF, open circuit.
 *
 * @example faultVoltage(supplyTurnedUpTo18V) // 18
 */
export function faultVoltage(source: Source): number {
  if (source.kind === "battery") return source.emf;
  if (source.kind === "panel") return source.fault.kind === "none" ? 0 : source.openCircuitVoltage;
  switch (source.fault.kind) {
    case "none":
      return source.setVoltage;
    case "voltage turned up":
      return Math.max(source.setVoltage, source.fault.endVoltage);
    case "lost feedback":
      return Math.max(source.setVoltage, source.fault.ceilingVoltage);
    case "shorted pass transistor":
      return Math.max(source.setVoltage, source.reservoir?.rawVoltage ?? 0);
  }
}

/**
 * Available short-circuit current of one source at the line end of its lead, A, from voltage over resistance.
 * A working current limit bounds it; the short dump of the output capacitor is left out, a reservoir behind a shorted
 * pass transistor is not.
 *
 * @example availableFrom(battery).current // 12.8 V / (4.9 mohm + lead)
 */
export function availableFrom(source: Source): Available {
  const voltage = faultVoltage(source);
  const lead = source.lead.resistance + (source.lead.fuse?.coldResistance ?? 0) + (source.diode?.resistance ?? 0);
  if (source.kind === "battery") return { voltage, current: voltage / (source.internalResistance + lead) };
  if (source.kind === "panel") return { voltage, current: voltage === 0 ? 0 : source.shortCircuitCurrent };
  if (source.fault.kind === "shorted pass transistor")
    return { voltage, current: voltage / (source.fault.passResistance + lead) };
  const unlimited = voltage / (source.sourceResistance + lead);
  return { voltage, current: source.limit.style === "none" ? unlimited : Math.min(unlimited, source.limit.current) };
}

/** All sources together at the line, A and V. */
function availableAtLine(sources: readonly Source[]): Available {
  const each = sources.map(availableFrom);
  return {
    voltage: Math.max(0, ...each.map(({ voltage }) => voltage)),
    current: each.reduce((sum, { current }) => sum + current, 0),
  };
}

/** One fuse of a scenario and the short-circuit current that it may have to break. */
export interface FuseDuty {
  readonly path: readonly (string | number)[];
  readonly fuse: NonNullable<Scenario["mainFuse"]>;
  readonly available: Available;
}

/**
 * Every fuse with the short-circuit current available at it, by voltage over resistance: the main fuse and a load's
 * in-line fuse see all sources (the latter behind the load's lead), a source's in-line fuse sees its own source and, fed
 * backwards, all the others; the larger counts.
 *
 * @example fuseDuties(scenario).filter(({ fuse, available }) => available.current > (fuse.breakingCapacity ?? Infinity))
 */
export function fuseDuties(scenario: Scenario): FuseDuty[] {
  const { sources, loads, mainFuse } = scenario;
  const all = availableAtLine(sources);
  const duties: FuseDuty[] = mainFuse === null ? [] : [{ path: ["main fuse"], fuse: mainFuse, available: all }];
  sources.forEach((source, index) => {
    const { fuse } = source.lead;
    if (fuse === null) return;
    const own = availableFrom(source);
    // Supplies and panels do not take current, so only a battery can be fed from the line.
    const others = availableAtLine(sources.filter((other) => other !== source));
    const backwards = source.kind === "battery" ? Math.min(others.current, all.voltage / source.lead.resistance) : 0;
    const current = Math.max(own.current, backwards);
    duties.push({ path: ["sources", index, "lead", "fuse"], fuse, available: { voltage: all.voltage, current } });
  });
  loads.forEach((load, index) => {
    const { fuse, resistance } = load.lead;
    if (fuse === null) return;
    const inside = all.current > 0 ? all.voltage / all.current : Number.POSITIVE_INFINITY;
    const current = all.voltage / (inside + resistance + fuse.coldResistance);
    duties.push({ path: ["loads", index, "lead", "fuse"], fuse, available: { voltage: all.voltage, current } });
  });
  return duties;
}
