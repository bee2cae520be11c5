import type { FuseElement } from "../../devices/fuse-element.ts";
import { columnName } from "../readings.ts";
import type { FuseFindings, Ripple, Subject } from "../result.ts";
import { isSubject, type Kit, probeNow, probesNow, totalOf, watchCurrent, watchExcursion, watchPeak } from "./kit.ts";
import { holdFuse, type MeltCycle, repeatFuse } from "./long-run.ts";

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

export function watchFuse(kit: Kit, fuse: FuseReadings, ripple: () => Ripple | null): () => FuseFindings {
  const { watcher, places } = kit;
  const flow = places.flow(fuse.flow);
  const theta = watchPeak(kit, `${fuse.own} melt`, "share");
  const current = watchCurrent(kit, fuse.current);
  const voltage = watchPeak(kit, fuse.own, "V");
  // That of its arc: there is none until it melts.
  voltage.remaining = 0;
  const apart = watchPeak(kit, fuse.own, "V");
  apart.remaining = 0;
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
  const shares = () => fuse.element.states.map((state) => kit.state()[state]);
  const nearest = watchPeak(kit, `${fuse.own} melt`, "share");
  // Until a supply restarts there is nothing to look at.
  nearest.remaining = 0;
  /** The last restart of a supply, and the round that ended with it. */
  let restart: { readonly time: number; readonly shares: readonly number[]; readonly i2t: number } | null = null;
  let round: MeltCycle | null = null;
  /** Whose restarts rounds go by, and whether others restart between them: then no round is like the next. */
  let restarting: string | null = null;
  let severalRestart = false;
  const restarted = (time: number) => {
    const last = shares();
    const i2t = totalOf(kit, flow);
    if (restart !== null) {
      const peak = { value: nearest.value, offset: Math.max(0, nearest.time - restart.time) };
      const period = time - restart.time;
      // Of the round before only what is asked: whole ones would hold all before them.
      const earlier = round === null ? null : { before: round.before, i2t: round.i2t };
      round = { period, before: restart.shares, last, peak, i2t: i2t - restart.i2t, earlier };
    }
    restart = { time, shares: last, i2t };
    nearest.reset(probesNow(kit), time);
  };
  kit.onEvent((event) => {
    if (event.kind === "restarts") {
      restarting ??= event.subject.owner;
      if (event.subject.owner === restarting) restarted(event.time);
      else severalRestart = true;
    }
    if (!isSubject(event.subject, fuse.subject.part, fuse.subject.owner)) return;
    if (event.kind === "melts") {
      meltTime = event.time;
      meltI2t = totalOf(kit, flow);
      voltage.remaining = Number.POSITIVE_INFINITY;
    } else if (event.kind === "open") {
      openTime = event.time;
      openI2t = totalOf(kit, flow);
      apart.remaining = Number.POSITIVE_INFINITY;
    }
  });
  kit.onLeap(({ peaks }) => {
    // What was noted belongs to the time before the leap.
    restart = round = null;
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
      meltsAfter: melted ? null : meltsAfter(),
      peakCurrent: current.value,
      peakVoltage: melted ? voltage.value : null,
      openVoltage: Number.isFinite(apart.value) ? apart.value : null,
    };
  };

  function meltsAfter(): number | null {
    const { values } = fuse.element;
    const since = restart === null ? 0 : kit.time() - restart.time;
    if (round !== null && since < 2 * round.period) {
      if (severalRestart) return null;
      const repeated = repeatFuse(values, round);
      return "melts" in repeated ? Math.max(0, repeated.melts - since) : null;
    }
    const current = ripple()?.rms[columnName(fuse.current, "A")] ?? probeNow(kit, fuse.current, "A");
    const load = (current / values.minimumMeltingCurrent) ** 2;
    const held = holdFuse(values, load, shares());
    return "melts" in held && Number.isFinite(held.melts) ? held.melts : null;
  }
}
