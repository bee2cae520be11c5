import { faultVoltage } from "../../scenario/prospective.ts";
import type { Scenario, Source, Supply } from "../../scenario/types.ts";
import type { FusePlace } from "./place.ts";
import { type Pulses, pulsesOf } from "./pulses.ts";
import type { FaultStyle } from "./types.ts";

/** Average of a rectified sine over its peak: the least that a rippling raw voltage can be said to stand for. */
const RECTIFIED_MEAN = 2 / Math.PI;

/** What flows once the SCR has fired and the capacitors are empty. */
export interface Lasting {
  /** Through the SCR, A: an upper and a lower estimate (they differ only behind a rippling raw voltage). */
  readonly scr: number;
  readonly scrAtLeast: number;
  /** Through the fuse, A. */
  readonly fuse: number;
  /** Of each source, A. */
  readonly each: readonly number[];
  readonly style: FaultStyle;
  /** Of a supply that gives it in pulses; null for others. */
  readonly pulses: Pulses | null;
  /** Of limiters that stop after a while, how long the last of them lets the current flow, s; null for others. */
  readonly detectionTime: number | null;
}

/**
 * The current that the sources drive for good through the fired SCR: the node's voltage at which what they give equals what the SCR takes
 * (threshold voltage and slope), each source by its own limit. The loads' share at so low a voltage is left out.
 *
 * @param scenario with a crowbar
 * @param place of the fuse
 * @example lastingCurrent(scenario, { kind: "main" }).scr // 76 A for the shipped station
 */
export function lastingCurrent(scenario: Scenario, place: FusePlace): Lasting {
  const { sources } = scenario;
  const high = nodeVoltage(scenario, 1);
  const low = nodeVoltage(scenario, RECTIFIED_MEAN);
  const currents = sources.map((source) => Math.max(0, sourceCurrent(source, high, 1)));
  const scr = currents.reduce((sum, each) => sum + each, 0);
  const scrAtLeast = sources.reduce((sum, each) => sum + Math.max(0, sourceCurrent(each, low, RECTIFIED_MEAN)), 0);
  const limited = sources.flatMap((source, index) => limitedOf(source, currents[index]) ?? []);
  const hiccups = limited.flatMap(({ supply, limit }) => (limit.style === "hiccup" ? [{ supply, limit }] : []));
  // One source that goes on for good decides: the others only add to it. Of the others one that comes back does.
  const goesOn = limited.length === 0 || limited.length < sources.filter((_, i) => currents[i] > 0).length;
  const style = goesOn ? "steady" : hiccups.length > 0 ? "pulses" : "ends";
  const [hiccup] = hiccups;
  const { crowbar } = scenario;
  return {
    scr,
    scrAtLeast,
    fuse: place.kind === "main" ? scr : currents[place.index],
    each: currents,
    style,
    pulses: style === "pulses" && crowbar !== null ? pulsesOf(scenario, hiccup, crowbar, scr) : null,
    detectionTime: goesOn ? null : Math.max(...limited.map(({ limit }) => limit.detectionTime)),
  };
}

interface Limited {
  readonly supply: Supply;
  readonly limit: Extract<Supply["limit"], { style: "hiccup" | "latch off" }>;
}

/** A source whose current a limiter bounds that stops by itself; null for others. */
function limitedOf(source: Source, current: number): Limited | null {
  if (source.kind !== "supply" || source.fault.kind === "shorted pass transistor") return null;
  const { limit } = source;
  const stops = limit.style === "hiccup" || limit.style === "latch off";
  return stops && current >= 0.999 * limit.current ? { supply: source, limit } : null;
}

/** Voltage of the line's node, V, by halving: the sources give less and the SCR takes more the higher it is. */
function nodeVoltage(scenario: Scenario, raw: number): number {
  const { sources, crowbar, mainFuse } = scenario;
  if (crowbar === null) return 0;
  const resistance = crowbar.slopeResistance + crowbar.stubResistance + (mainFuse?.coldResistance ?? 0);
  let [low, high] = [0, Math.max(0, ...sources.map(faultVoltage))];
  for (let step = 0; step < 50; step++) {
    const middle = (low + high) / 2;
    const given = sources.reduce((sum, source) => sum + Math.max(0, sourceCurrent(source, middle, raw)), 0);
    if (given > Math.max(0, middle - crowbar.thresholdVoltage) / resistance) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}

/** What a source drives into its node at a voltage for good, A; `raw`: share of the raw voltage's peak that counts where it ripples. */
function sourceCurrent(source: Source, voltage: number, raw: number): number {
  const path = source.lead.resistance + (source.lead.fuse?.coldResistance ?? 0) + (source.diode?.resistance ?? 0);
  const drop = voltage + (source.diode?.forwardVoltage ?? 0);
  if (source.kind === "battery") return (source.emf - drop) / (source.internalResistance + path);
  if (source.kind === "panel") return source.fault.kind === "none" ? 0 : source.shortCircuitCurrent;
  return supplyCurrent(source, drop, path, raw);
}

function supplyCurrent(supply: Supply, voltage: number, path: number, raw: number): number {
  const { reservoir, fault, limit, setVoltage } = supply;
  const share = reservoir?.ripple ? raw : 1;
  const fromRaw = (more: number): number =>
    reservoir === null
      ? Number.POSITIVE_INFINITY
      : (share * reservoir.rawVoltage - voltage) / (reservoir.rawResistance + more + path);
  if (fault.kind === "shorted pass transistor") return fromRaw(fault.passResistance);
  const free = Math.min(
    (faultVoltage(supply) - voltage) / (supply.sourceResistance + path),
    fromRaw(reservoir?.dropOutResistance ?? 0),
  );
  switch (limit.style) {
    case "none":
      return free;
    case "foldback": {
      const slope = (limit.current - limit.shortCircuitCurrent) / setVoltage;
      // The limit follows the terminals, which stand above the node by the drop of the lead.
      const bent = (limit.shortCircuitCurrent + slope * voltage) / Math.max(1e-3, 1 - slope * path);
      return Math.min(free, Math.min(limit.current, bent));
    }
    default:
      return Math.min(free, limit.current);
  }
}
