import { heldRise } from "../../scenario/copper-heat.ts";
import type { Lead, Scenario } from "../../scenario/types.ts";
import type { LeadFindings, LoadFindings, SourceFindings } from "../result.ts";
import { sourceState } from "../source-state.ts";
import {
  excursionOf,
  isSubject,
  type Kit,
  peakOf,
  probeNow,
  probesNow,
  squareBeyond,
  timesIn,
  totalOf,
  watchCurrent,
  watchExcursion,
  watchPeak,
} from "./kit.ts";

/** Watches a load; the function returned gives what was found when the run is over. */
export function watchLoad(kit: Kit, load: Scenario["loads"][number], index: number): () => LoadFindings {
  const { name, limits } = load;
  const peak = watchPeak(kit, name, "V", 1, true);
  const above = watchExcursion(kit, name, "V", limits.maximum, 1);
  const below = watchExcursion(kit, name, "V", limits.minimum, -1);
  below.enabled = false;
  const levels = limits.withstand.map(({ voltage, time }) => ({
    watch: watchExcursion(kit, name, "V", voltage, 1),
    allowed: time,
  }));
  const cycle = watchPeak(kit, name, "V");
  const peakPerCycle: number[] = [];
  let firings = 0;
  const cycleStart = kit.assembly.crowbar ? "crowbar" : "series switch";
  kit.onEvent((event) => {
    if (event.kind === "fault") below.enabled = true;
    const starts = isSubject(event.subject, cycleStart) && (event.kind === "fires" || event.kind === "starts to open");
    if (!starts) return;
    if (firings++ > 0) peakPerCycle.push(cycle.value);
    cycle.reset(probesNow(kit), event.time);
  });
  kit.onLeap((leap) => {
    const starts = [
      ...timesIn(leap, "fires", { part: cycleStart, owner: "" }),
      ...timesIn(leap, "starts to open", { part: cycleStart, owner: "" }),
    ];
    firings += starts.length;
    // Rounds that are alike have peaks that are alike.
    const last = peakPerCycle.at(-1);
    if (last !== undefined) for (const _ of starts) peakPerCycle.push(last);
  });
  return () => {
    const device = kit.assembly.loads[index].load;
    return {
      name,
      peak: peakOf(peak),
      aboveMaximum: excursionOf(kit, above),
      belowMinimum: excursionOf(kit, below),
      withstand: levels.map(({ watch, allowed }) => ({ ...excursionOf(kit, watch), allowed })),
      peakPerCycle,
      drops: "drops" in device ? device.drops : 0,
      sleepingAtEnd: "asleep" in device && device.asleep,
    };
  };
}

export function watchSource(kit: Kit, source: Scenario["sources"][number], index: number): () => SourceFindings {
  const { name } = source;
  const peak = watchPeak(kit, name, "V", 1, true);
  const current = watchCurrent(kit, name);
  const given = watchPeak(kit, name, "A");
  const taken = watchPeak(kit, name, "A", -1);
  const highest = source.kind === "battery" ? watchPeak(kit, `${name} charge`, "share") : null;
  const lowest = source.kind === "battery" ? watchPeak(kit, `${name} charge`, "share", -1) : null;
  const rings =
    source.kind === "supply" &&
    0.5 * Math.sqrt((source.sourceResistance * source.outputCapacitance) / source.responseTime) < 0.4;
  const times = { "limiter trips": [], "over-voltage shutdown": [], restarts: [] } as {
    readonly [kind in "limiter trips" | "over-voltage shutdown" | "restarts"]: number[];
  };
  const kinds = Object.keys(times) as (keyof typeof times)[];
  kit.onEvent(({ kind, subject, time }) => {
    const own = kinds.find((each) => each === kind);
    if (own !== undefined && isSubject(subject, "source", name)) times[own].push(time);
  });
  kit.onLeap((leap) => {
    for (const kind of kinds)
      for (const time of timesIn(leap, kind, { part: "source", owner: name })) times[kind].push(time);
  });
  return () => {
    const { regulator } = kit.assembly.sources[index];
    return {
      name,
      peak: peakOf(peak),
      peakCurrent: peakOf(current),
      mostGiven: Math.max(0, given.value),
      mostTaken: Math.max(0, taken.value),
      charge:
        highest && lowest
          ? { end: probeNow(kit, `${name} charge`, "share"), lowest: -lowest.value, highest: highest.value }
          : null,
      rings,
      stateAtEnd: sourceState(regulator),
      limiterTrips: times["limiter trips"],
      shutdowns: times["over-voltage shutdown"],
      restarts: times.restarts,
      movement: regulator?.movement ?? null,
    };
  };
}

export function watchLead(kit: Kit, owner: string, lead: Lead): () => LeadFindings {
  const rise = watchPeak(kit, `${owner} lead rise`, "K");
  const current = watchCurrent(kit, owner);
  const flow = kit.places.flow(`${owner} lead`);
  const { line, sources, loads } = kit.assembly;
  const room = Math.max(0, heldRise(line.ambient, lead.insulation.continuous));
  const lasting = [...sources, ...loads].find(({ name }) => name === owner)?.lead.steadyCurrent(room) ?? 0;
  const over = watchExcursion(kit, owner, "A", lasting, 0);
  over.squares = true;
  const startRise = probeNow(kit, `${owner} lead rise`, "K");
  return () => ({
    owner,
    i2t: totalOf(kit, flow),
    overcurrentI2t: squareBeyond(kit, over),
    startRise,
    peakRise: rise.value,
    endRise: probeNow(kit, `${owner} lead rise`, "K"),
    peakCurrent: current.value,
    overcurrent: excursionOf(kit, over),
  });
}
