import { MostWithin } from "../../hybrid/most-within.ts";
import { isCycling } from "../../trace/cycling.ts";
import type { ClampFindings, SwitchFindings } from "../result.ts";
import { isSubject, type Kit, peakOf, probeNow, timesIn, totalOf, watchExcursion, watchPeak } from "./kit.ts";

/** `part` and `owner` name the clamp in events, `reading` in columns. */
export function watchClamp(
  kit: Kit,
  part: "clamp" | "load clamp",
  owner: string,
  reading: string,
): () => ClampFindings {
  const current = watchPeak(kit, reading, "A", 1, true);
  const rise = watchPeak(kit, `${reading} rise`, "K");
  const energy = kit.places.flow(`${reading} energy`);
  let failTime: number | null = null;
  let atFailure: ClampFindings["atFailure"] = null;
  kit.onEvent((event) => {
    if (event.kind !== "fails short" || !isSubject(event.subject, part, owner)) return;
    failTime = event.time;
    // The action has already turned it into a short; the peaks still stand at the instant before.
    atFailure = { current: current.value, rise: rise.value };
  });
  return () => ({
    peakCurrent: peakOf(current),
    energy: totalOf(kit, energy),
    peakRise: rise.value,
    endRise: probeNow(kit, `${reading} rise`, "K"),
    failedShort: failTime !== null,
    failTime,
    atFailure,
  });
}

/** What a switch carries for a short time is asked within a second. */
const OVERLOAD_WINDOW = 1;
/** So near to its rating a current may be on either side. */
const NEAR_RATING = 0.998;

/** Most time above a current in any stretch of that window, rounds that were leapt over included. */
function watchMost(kit: Kit, level: number): MostWithin {
  const most = new MostWithin(OVERLOAD_WINDOW);
  most.follow(watchExcursion(kit, "series switch", "A", level, 0), () => kit.watcher.base);
  kit.onLeap(({ from, period, ends }) => most.repeat(from, period, ends));
  return most;
}

/** `rating`: the current that it carries for ever, A; null where none is known. */
export function watchSwitch(kit: Kit, rating: number | null): () => SwitchFindings {
  const current = watchPeak(kit, "series switch", "A", 0);
  const voltage = watchPeak(kit, "series switch", "V");
  const sense = watchPeak(kit, "series switch sense", "V");
  const apart = watchPeak(kit, "series switch", "V");
  apart.remaining = 0;
  const above = rating === null ? null : watchMost(kit, rating);
  const near = rating === null ? null : watchMost(kit, NEAR_RATING * rating);
  const starts: number[] = [];
  const opens: number[] = [];
  const recloses: number[] = [];
  kit.onEvent((event) => {
    if (!isSubject(event.subject, "series switch")) return;
    if (event.kind === "starts to open") starts.push(event.time);
    if (event.kind === "open") {
      opens.push(event.time);
      apart.remaining = Number.POSITIVE_INFINITY;
    }
    if (event.kind === "recloses") {
      recloses.push(event.time);
      apart.remaining = 0;
    }
  });
  kit.onLeap((leap) => {
    const subject = { part: "series switch", owner: "" } as const;
    for (const time of timesIn(leap, "starts to open", subject)) starts.push(time);
    for (const time of timesIn(leap, "open", subject)) opens.push(time);
    for (const time of timesIn(leap, "recloses", subject)) recloses.push(time);
  });
  return () => ({
    state: kit.assembly.seriesSwitch?.state ?? "closed",
    starts,
    opens,
    recloses,
    peakCurrent: current.value,
    peakVoltage: voltage.value,
    openVoltage: Number.isFinite(apart.value) ? apart.value : null,
    overload: above && near ? { window: OVERLOAD_WINDOW, most: above.most, mostNear: near.most } : null,
    peakSense: peakOf(sense),
    cycling: isCycling(starts)
      ? { period: starts[starts.length - 1] - starts[starts.length - 2], onShare: null, longRun: null }
      : null,
  });
}
