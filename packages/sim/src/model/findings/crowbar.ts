import type { Scr } from "../../devices/scr.ts";
import { isCycling } from "../../trace/cycling.ts";
import type { Peak } from "../../trace/types.ts";
import type { CrowbarFindings, Cycling, Subject } from "../result.ts";
import type { FuseReadings } from "./fuse.ts";
import {
  isSubject,
  type Kit,
  type NamedLeap,
  peakOf,
  probeNow,
  probesNow,
  timesIn,
  totalOf,
  watchExcursion,
  watchPeak,
} from "./kit.ts";
import { holdFuse, repeatFuse, timeToRise } from "./long-run.ts";
import { roundMeans } from "./round-means.ts";

/** Window of the I²t that the surge rating itself speaks of, s. */
const SURGE_WINDOW = 0.01;
const FIRST_MICROSECOND = 1e-6;

export interface CrowbarReadings {
  readonly subject: Subject;
  readonly reading: string;
  readonly ratings: {
    readonly surgeWindows: readonly { readonly duration: number }[];
    readonly junctionTemperature: number;
  };
  readonly device: Scr;
}

/** What is remembered of the line at a firing. */
interface Firing {
  readonly time: number;
  readonly junctionEnergy: number;
  readonly fuseI2t: readonly number[];
  readonly rises: readonly number[];
  readonly thetas: readonly (readonly number[])[];
  /** Of clamps and leads. */
  readonly totals: readonly number[];
}

export function watchCrowbar(kit: Kit, part: CrowbarReadings, fuses: readonly FuseReadings[]): () => CrowbarFindings {
  const { reading, device, ratings } = part;
  const { watcher, places, assembly } = kit;
  const flow = places.flow(reading);
  const powerFlow = places.flow(`${reading} junction`);
  const means = roundMeans(kit);
  const fuseFlows = fuses.map((fuse) => places.flow(fuse.flow));
  const current = watchPeak(kit, reading, "A", 1, true);
  const rise = watchPeak(kit, `${reading} rise`, "A_per_s");
  const temperature = watchPeak(kit, `${reading} junction`, "degC", 1, true);
  const sense = watchPeak(kit, `${reading} sense`, "V");
  const hottest = watchPeak(kit, `${reading} junction`, "degC");
  const tooHot = watchExcursion(kit, `${reading} junction`, "degC", ratings.junctionTemperature, 1);
  let junctionLimitTime: number | null = null;
  tooHot.onLeave = (_, at) => {
    junctionLimitTime ??= watcher.base + at;
  };
  const nearest = fuses.map((fuse) => watchPeak(kit, `${fuse.own} melt`, "share"));
  const first = watchPeak(kit, reading, "A");
  first.remaining = 0;
  let firstPeak = 0;
  const durations = [...new Set([...ratings.surgeWindows.map((window) => window.duration), SURGE_WINDOW])];
  const worst = new Map<number, number>(durations.map((duration) => [duration, 0]));
  const times: number[] = [];
  /** The last two firings in a row that were integrated, and the one before them where it was. */
  let pair: {
    readonly earlier: Firing | null;
    readonly before: Firing;
    readonly last: Firing;
    readonly peak: number;
    readonly melts: readonly Peak[];
  } | null = null;
  let latest: Firing | null = null;
  const stops: number[] = [];
  /** Last restart of each supply. */
  const restarts = new Map<string, number>();
  const closeFirst = () => {
    if (Number.isFinite(first.value)) firstPeak = Math.max(firstPeak, first.value);
  };
  kit.onEvent((event) => {
    if (event.kind === "restarts") restarts.set(event.subject.owner, event.time);
    if (!isSubject(event.subject, part.subject.part, part.subject.owner)) return;
    if (event.kind === "stops conducting") stops.push(event.time);
    if (event.kind !== "fires") return;
    closeFirst();
    times.push(event.time);
    const firing = firingAt(event.time);
    if (latest !== null) {
      // The round from the first firing begins with a line at rest: its current differs for more than the fuse's heat.
      const earlier = pair?.last === latest && pair.before.time > times[0] ? pair.before : null;
      pair = { earlier, before: latest, last: firing, peak: hottest.value, melts: nearest.map(peakOf) };
    }
    latest = firing;
    for (const watch of nearest) watch.reset(probesNow(kit), event.time);
    hottest.reset(probesNow(kit), event.time);
    first.reset(probesNow(kit), event.time, FIRST_MICROSECOND);
    for (const duration of durations) watcher.window(flow, duration, seeing(duration));
  });
  kit.onLeap((leap) => {
    const fired = timesIn(leap, "fires", part.subject);
    for (const time of fired) {
      times.push(time);
      windowsFrom(leap, time);
    }
    for (const time of timesIn(leap, "stops conducting", part.subject)) stops.push(time);
    // Where rounds begin with its firing it has just fired; else what was noted belongs to the time before the leap.
    latest = fired.at(-1) === leap.to ? firingAt(leap.to) : null;
    const hot = leap.peaks.find(({ probe }) => probe === temperature.probe);
    if (hot !== undefined && hot.value > temperature.value)
      [temperature.value, temperature.time] = [hot.value, hot.time];
  });
  return () => {
    closeFirst();
    return {
      firings: times,
      stops,
      conductingAtEnd: device.conducting,
      failedShort: device.failedShort,
      peakCurrent: peakOf(current),
      peakRise: peakOf(rise),
      firstMicrosecondRise: firstPeak / FIRST_MICROSECOND,
      worstWindows: ratings.surgeWindows.map(({ duration }) => {
        const i2t = worst.get(duration) ?? 0;
        return { duration, i2t, rms: Math.sqrt(i2t / duration) };
      }),
      worst10msI2t: worst.get(SURGE_WINDOW) ?? 0,
      totalI2t: totalOf(kit, flow),
      junctionEnergy: totalOf(kit, powerFlow),
      peakTemperature: peakOf(temperature),
      junctionLimitTime,
      endTemperature: probeNow(kit, `${reading} junction`, "degC"),
      peakSense: peakOf(sense),
      cycling: isCycling(times) && pair !== null ? cyclingOf(pair) : null,
    };
  };

  function seeing(duration: number): (i2t: number) => void {
    return (i2t) => worst.set(duration, Math.max(worst.get(duration) ?? 0, i2t));
  }

  /** The windows that a firing within a leap opens. */
  function windowsFrom({ from, to, period, ledger }: NamedLeap, time: number): void {
    const before = ledger.until(flow, time - from);
    for (const duration of durations) {
      if (time + duration > to)
        watcher.window(flow, duration, seeing(duration), to - time, ledger.until(flow, to - from) - before);
      // What is over within its round was seen in the rounds on both sides of the leap.
      else if (duration > period) seeing(duration)(ledger.until(flow, time + duration - from) - before);
    }
  }

  function firingAt(time: number): Firing {
    const y = kit.state();
    return {
      time,
      junctionEnergy: totalOf(kit, powerFlow),
      fuseI2t: fuseFlows.map((index) => totalOf(kit, index)),
      rises: device.ladder.states.map((state) => y[state]),
      thetas: fuses.map(({ element }) => element.states.map((state) => y[state])),
      totals: means.totals(),
    };
  }

  function cyclingOf({ earlier, before, last, peak: cyclePeak, melts }: NonNullable<typeof pair>): Cycling {
    const period = last.time - before.time;
    // Where several restart, each in its own time, no round is like the next.
    const restarting = [...restarts.values()].filter((time) => time > times[times.length - 3]);
    const stop = stops.find((time) => time > before.time && time <= last.time) ?? last.time;
    const meanPower = (last.junctionEnergy - before.junctionEnergy) / period;
    const { ladder } = device;
    const { ambient } = assembly.line;
    const limit = ratings.junctionTemperature - ambient;
    // Each stage's own equation, integrated over the cycle, gives its mean.
    const meanRise = ladder.stages.reduce((sum, { resistance, timeConstant }, k) => {
      return sum + resistance * meanPower - (timeConstant * (last.rises[k] - before.rises[k])) / period;
    }, 0);
    const swing = cyclePeak - ambient - meanRise;
    return {
      period,
      onShare: (stop - before.time) / period,
      longRun:
        restarting.length > 1
          ? null
          : {
              meanPower,
              restTemperature: ambient + meanPower * ladder.stages.reduce((sum, stage) => sum + stage.resistance, 0),
              timeToJunctionLimit: timeToRise(ladder.stages, meanPower, last.rises, limit),
              swing,
              timeToPeakLimit: timeToRise(ladder.stages, meanPower, last.rises, limit - swing),
              ...means.between(before.totals, last.totals, period),
              fuses: fuses.map((fuse, k) => {
                const melted = fuse.state() !== "intact";
                const { minimumMeltingCurrent } = fuse.element.values;
                const meanLoad = (last.fuseI2t[k] - before.fuseI2t[k]) / period / minimumMeltingCurrent ** 2;
                const held = holdFuse(fuse.element.values, meanLoad, last.thetas[k]);
                const peak = { value: melts[k].value, offset: Math.max(0, melts[k].time - before.time) };
                const repeated = repeatFuse(fuse.element.values, {
                  period,
                  before: before.thetas[k],
                  last: last.thetas[k],
                  peak,
                  i2t: last.fuseI2t[k] - before.fuseI2t[k],
                  earlier:
                    earlier === null
                      ? null
                      : { before: earlier.thetas[k], i2t: before.fuseI2t[k] - earlier.fuseI2t[k] },
                });
                return {
                  label: fuse.label,
                  subject: fuse.subject,
                  meanLoad,
                  restTheta: "rest" in held && !melted ? held.rest : null,
                  meltTime: "melts" in held && !melted ? last.time + held.melts : null,
                  restPeak: "restPeak" in repeated && !melted ? repeated.restPeak : null,
                  peakMeltTime: "melts" in repeated && !melted ? last.time + repeated.melts : null,
                };
              }),
            },
    };
  }
}
