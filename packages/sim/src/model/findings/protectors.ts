import type { ClampFindings, SwitchFindings } from "../result.ts";
import { isCycling, isSubject, type Kit, peakOf, probeNow, timesIn, totalOf, watchPeak } from "./kit.ts";

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

export function watchSwitch(kit: Kit): () => SwitchFindings {
  const current = watchPeak(kit, "series switch", "A", 0);
  const voltage = watchPeak(kit, "series switch", "V");
  const sense = watchPeak(kit, "series switch sense", "V");
  const starts: number[] = [];
  const opens: number[] = [];
  const recloses: number[] = [];
  kit.onEvent((event) => {
    if (!isSubject(event.subject, "series switch")) return;
    if (event.kind === "starts to open") starts.push(event.time);
    if (event.kind === "open") opens.push(event.time);
    if (event.kind === "recloses") recloses.push(event.time);
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
    peakSense: peakOf(sense),
    cycling: isCycling(starts)
      ? { period: starts[starts.length - 1] - starts[starts.length - 2], onShare: null, longRun: null }
      : null,
  });
}
