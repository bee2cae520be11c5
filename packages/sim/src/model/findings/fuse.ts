import type { FuseElement } from "../../devices/fuse-element.ts";
import type { FuseFindings, Subject } from "../result.ts";
import { isSubject, type Kit, totalOf, watchExcursion, watchPeak } from "./kit.ts";

/** Names of a fuse's readings: its current's column and flow, its own columns. */
export interface FuseReadings {
  readonly subject: Subject;
  readonly label: string;
  readonly current: string;
  readonly flow: string;
  /** Prefix of `… melt` and of the voltage across it. */
  readonly own: string;
  readonly element: FuseElement;
  readonly state: () => "intact" | "clearing" | "open";
}

export function watchFuse(kit: Kit, fuse: FuseReadings): () => FuseFindings {
  const { watcher, places } = kit;
  const flow = places.flow(fuse.flow);
  const theta = watchPeak(kit, `${fuse.own} melt`, "share");
  const current = watchPeak(kit, fuse.current, "A", 0);
  const voltage = watchPeak(kit, fuse.own, "V");
  const overload = watchExcursion(kit, fuse.current, "A", fuse.element.values.minimumMeltingCurrent, 0);
  let overloadTime: number | null = null;
  let overloadI2t = 0;
  let meltTime: number | null = null;
  let meltI2t = 0;
  let openTime: number | null = null;
  let openI2t: number | null = null;
  overload.onLeave = (interval, at) => {
    if (meltTime !== null) return;
    overloadTime = watcher.base + at;
    overloadI2t = totalOf(kit, flow) - (interval ? interval.integrals[flow] - interval.flowUntil(at, flow) : 0);
  };
  kit.onEvent((event) => {
    if (!isSubject(event.subject, fuse.subject.part, fuse.subject.owner)) return;
    if (event.kind === "melts") {
      meltTime = event.time;
      meltI2t = totalOf(kit, flow);
      voltage.value = Number.NEGATIVE_INFINITY;
    } else if (event.kind === "open") {
      openTime = event.time;
      openI2t = totalOf(kit, flow);
    }
  });
  kit.onLeap(({ peaks }) => {
    const most = peaks.find(({ probe }) => probe === theta.probe);
    if (most !== undefined && most.value > theta.value) [theta.value, theta.time] = [most.value, most.time];
  });
  return () => {
    const melted = meltTime !== null;
    return {
      label: fuse.label,
      subject: fuse.subject,
      state: fuse.state(),
      overloadTime: melted ? overloadTime : null,
      meltTime,
      openTime,
      meltingI2t: melted ? meltI2t - overloadI2t : null,
      letThroughI2t: melted ? (openI2t ?? totalOf(kit, flow)) - overloadI2t : null,
      totalI2t: totalOf(kit, flow),
      peakTheta: melted ? 1 : Math.min(1, theta.value),
      peakCurrent: current.value,
      peakVoltage: melted ? voltage.value : null,
    };
  };
}
