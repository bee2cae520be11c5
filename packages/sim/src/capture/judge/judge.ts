import { judgeLimit } from "../../verdict/finding.ts";
import type { Finding } from "../../verdict/types.ts";
import type { Capture, CapturedChannel } from "../types.ts";
import { type Curve, curveOf, unseenTime } from "./curve.ts";
import { extremeOf } from "./extremes.ts";
import { measuredText } from "./measured.ts";
import { resolutionOf } from "./resolution.ts";
import { ringingAfter } from "./ringing.ts";
import { steepest } from "./slope.ts";
import { tripsOf } from "./trips.ts";
import type {
  CaptureJudgement,
  CaptureLimits,
  ChannelJudgement,
  Extreme,
  Resolution,
  Ringing,
  Slope,
  TimeBeyond,
} from "./types.ts";
import { type Level, type Watched, watchCurve } from "./watch.ts";

/**
 * What a capture shows by itself, without any model of the line; each figure with what the capture leaves open.
 *
 * @param capture one that was read without errors
 * @param limits of the voltage at what was measured, V; held against channels in volts only
 * @returns figures in SI units
 * @example judgeCapture(capture, { low: 11.7, high: 15.9 }).channels[0].highest // { value: 14.88, plusMinus: 0.03, time: … }
 */
export function judgeCapture(capture: Capture, limits: CaptureLimits): CaptureJudgement {
  const { time, layout, file } = capture;
  const channels = capture.channels.map((channel) => judgeChannel(capture, channel, limits));
  let longestStep = 0;
  for (let i = 1; i < time.length; i++) longestStep = Math.max(longestStep, time[i] - time[i - 1]);
  return {
    file,
    layout,
    rows: time.length,
    duration: time[time.length - 1] - time[0],
    interval: capture.interval,
    longestStep,
    limits,
    channels,
    exitStatus: channels.some(({ passed, tooClose }) => passed || tooClose) ? 1 : 0,
  };
}

function judgeChannel(capture: Capture, channel: CapturedChannel, limits: CaptureLimits): ChannelJudgement {
  const { name, unit, gaps, outOfRange } = channel;
  const curve = curveOf(capture.time, channel, capture.interval);
  const resolution = resolutionOf(curve);
  const { high, low } = unit === "V" ? limits : { high: null, low: null };
  const off = 2 * resolution.ofValue;
  const levels: Level[] = [
    ...(high === null ? [] : bracket(high, off, 1)),
    ...(low === null ? [] : bracket(low, off, -1)),
  ];
  const watched = watchCurve(curve, levels);
  const highest = extremeOf(curve, watched.highest, 1, resolution);
  const lowest = extremeOf(curve, watched.lowest, -1, resolution);
  const beyond = [
    ...(high === null ? [] : [timeBeyond(curve, watched, 0, "high")]),
    ...(low === null ? [] : [timeBeyond(curve, watched, high === null ? 0 : 3, "low")]),
  ];
  const rise = steepest(curve, 1, resolution);
  const fall = steepest(curve, -1, resolution);
  // Below its minimum a load drops out and comes to no harm: that is told, and no limit passed.
  const findings = high === null ? [] : [held(name, high, highest)];
  return {
    name,
    unit,
    samples: curve.values.length,
    interval: curve.interval,
    gaps,
    outOfRange,
    unseen: unseenTime(curve),
    resolution,
    highest,
    lowest,
    beyond,
    trips: tripsOf(curve, unit, { low: lowest.value, high: highest.value }, resolution),
    rise,
    fall,
    ringing: strongerRinging(curve, [rise, fall], resolution),
    findings,
    tooClose: findings.some(({ close }) => close),
    passed: findings.some(({ severity }) => severity === "beyond"),
  };
}

/** A limit and, to both sides of it, what a single value may be off: the times beyond these tell how far the time beyond it may be off. */
function bracket(level: number, off: number, sign: 1 | -1): Level[] {
  return [level, level + off, level - off].map((each) => ({ level: each, sign }));
}

function timeBeyond(curve: Curve, { excursions }: Watched, first: number, limit: "low" | "high"): TimeBeyond {
  const [at, above, below] = excursions.slice(first, first + 3) as [
    Watched["excursions"][number],
    Watched["excursions"][number],
    Watched["excursions"][number],
  ];
  const { times, ...excursion } = at;
  // Each of its ends lies anywhere between two samples: rectangular, JCGM 100:2008, 4.3.7.
  const ends = 2 * (curve.interval / Math.sqrt(12)) * Math.sqrt(2);
  const range = (a: number, b: number, c: number): number => Math.max(Math.abs(b - a), Math.abs(c - a));
  const zero = excursion.total === 0;
  return {
    limit,
    excursion,
    times,
    total: {
      value: excursion.total,
      plusMinus: Math.hypot(range(at.total, above.total, below.total), zero ? 0 : ends * Math.sqrt(Math.max(1, times))),
    },
    longest: {
      value: excursion.longest,
      plusMinus: Math.hypot(range(at.longest, above.longest, below.longest), zero ? 0 : ends),
    },
  };
}

/** Held against a limit by the rule for simulated values; too close is also what the capture cannot tell from the limit. */
function held(name: string, limit: number, found: Extreme): Finding {
  const finding = judgeLimit({
    subject: name,
    quantity: "peak voltage",
    dimension: "voltage",
    rating: limit,
    found: found.value,
    above: "beyond",
    say: (severity) =>
      `The peak voltage of "${name}", ${measuredText(found, "voltage")}, ${severity === "ok" ? "stays within" : "passes"} the limit of ${measuredText({ value: limit, plusMinus: 0 }, "voltage")}.`,
  });
  const { value, plusMinus } = found;
  if (!finding.close && Math.abs(value - limit) > plusMinus) return finding;
  return { ...finding, close: true, sentence: `${finding.sentence} That is too close to call.` };
}

function strongerRinging(curve: Curve, edges: readonly (Slope | null)[], resolution: Resolution): Ringing | null {
  return edges
    .flatMap((edge) => {
      const found = edge === null ? null : ringingAfter(curve, edge, resolution);
      return found === null ? [] : [found];
    })
    .reduce<Ringing | null>((best, each) => (best === null || each.swing > best.swing ? each : best), null);
}
