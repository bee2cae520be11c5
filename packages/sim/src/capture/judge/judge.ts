import { isCalledCurrent } from "../read/units.ts";
import type { Capture, CapturedChannel } from "../types.ts";
import { type Curve, curveOf, outsideTime, unseenTime } from "./curve.ts";
import { stretchesBeyond } from "./edges.ts";
import { extremeOf } from "./extremes.ts";
import { flatTopOf } from "./flat-top.ts";
import { heldAgainst } from "./limit.ts";
import { longestBeyond } from "./longest.ts";
import { resolutionOf } from "./resolution.ts";
import { ringingAfter } from "./ringing.ts";
import { steepest } from "./slope.ts";
import { tripsOf } from "./trips.ts";
import type {
  CaptureJudgement,
  CaptureLimits,
  ChannelJudgement,
  Extreme,
  FlatTop,
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
 * @param limits of the voltage at what was measured, V; held against channels in volts only, and not against those that are called a current
 * @returns figures in SI units
 * @example judgeCapture(capture, { low: 11.7, high: 15.9 }).channels[0].highest // { value: 14.88, minus: 0.03, plus: 0.05, time: … }
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
  const curve = curveOf(capture.time, channel, capture.interval, capture.timeGrain);
  const resolution = resolutionOf(curve);
  const { high, low } = unit === "V" && !isCalledCurrent(name) ? limits : { high: null, low: null };
  const off = 2 * resolution.ofValue;
  const levels: Level[] = [
    ...(high === null ? [] : bracket(high, off, 1)),
    ...(low === null ? [] : bracket(low, off, -1)),
  ];
  const watched = watchCurve(curve, levels);
  const flatTop = flatTopOf(curve, resolution);
  const highest = withRuns(extremeOf(curve, watched.highest, 1, resolution), flatTop);
  const lowest = extremeOf(curve, watched.lowest, -1, resolution);
  const beyond = [
    ...(high === null ? [] : [timeBeyond(curve, watched, 0, "high", highest, resolution)]),
    ...(low === null ? [] : [timeBeyond(curve, watched, high === null ? 0 : 3, "low", lowest, resolution)]),
  ];
  const rise = steepest(curve, 1, resolution);
  const fall = steepest(curve, -1, resolution);
  const open = {
    above: outsideTime(curve, 1) > 0 || highest.alone || flatTop?.clipped === true || flatTop?.abrupt === true,
    below: outsideTime(curve, -1) > 0 || lowest.alone,
  };
  // Below its minimum a load drops out and comes to no harm: that is told, and no limit passed.
  const findings =
    high === null
      ? []
      : [heldAgainst(high, { name, curve, outOfRange, flatTop, highest, open: open.above, low, resolution })];
  return {
    name,
    unit,
    samples: curve.values.length,
    interval: curve.interval,
    timing: curve.timing,
    gaps,
    outOfRange,
    open,
    unseen: unseenTime(curve),
    resolution,
    flatTop,
    highest,
    lowest,
    beyond,
    trips: tripsOf(curve, unit, { low: lowest.value, high: highest.value }, resolution),
    rise,
    fall,
    // Where instants are known worse than samples are apart, no period of theirs is known.
    ringing: curve.timeGrain > curve.interval ? null : strongerRinging(curve, [rise, fall], resolution),
    findings,
    tooClose: findings.some(({ close }) => close),
    passed: findings.some(({ severity }) => severity === "beyond"),
  };
}

/** Equal samples one after the other may hide more than the single ones beside them. */
function withRuns(highest: Extreme, flatTop: FlatTop | null): Extreme {
  return { ...highest, plus: Math.max(highest.plus, flatTop === null || flatTop.abrupt ? 0 : flatTop.above) };
}

/** A limit and, to both sides of it, what a single value may be off: the times beyond these tell how far the time beyond it may be off. */
function bracket(level: number, off: number, sign: 1 | -1): Level[] {
  return [level, level + off, level - off].map((each) => ({ level: each, sign }));
}

function timeBeyond(
  curve: Curve,
  { excursions }: Watched,
  first: number,
  limit: "low" | "high",
  extreme: Extreme,
  resolution: Resolution,
): TimeBeyond {
  const [at, above, below] = excursions.slice(first, first + 3) as [
    Watched["excursions"][number],
    Watched["excursions"][number],
    Watched["excursions"][number],
  ];
  const { times, ...excursion } = at;
  const sign = limit === "high" ? 1 : -1;
  const { count, shift, longest } = stretchesBeyond(curve, excursion.level, sign);
  // Each of its ends lies anywhere between two samples: rectangular, JCGM 100:2008, 4.3.7.
  const ends = 2 * (curve.timing / Math.sqrt(12)) * Math.sqrt(2);
  const range = (a: number, b: number, c: number): number => Math.max(Math.abs(b - a), Math.abs(c - a));
  const { value, minus, plus, alone } = extreme;
  const farthest = limit === "high" ? value + plus - excursion.level : excursion.level - (value - minus);
  // What no sample saw lies between two of them.
  const hidden = count === 0 && (alone || farthest > 0) ? curve.timing : 0;
  const own = {
    value: longest,
    plusMinus: Math.hypot(range(at.longest, above.longest, below.longest), count === 0 ? hidden : ends),
  };
  const found = longestBeyond(curve, excursion.level, sign, resolution.alone, { longest: own, times });
  return {
    limit,
    excursion,
    times: found.times,
    total: {
      value: Math.max(0, excursion.total + shift),
      plusMinus: Math.hypot(range(at.total, above.total, below.total), ends * Math.sqrt(count), hidden),
    },
    longest: found.longest,
    perhaps: { unseen: unseenTime(curve), outOfRange: outsideTime(curve, sign) },
  };
}

function strongerRinging(curve: Curve, edges: readonly (Slope | null)[], resolution: Resolution): Ringing | null {
  const found = edges.flatMap((edge) => (edge === null ? [] : (ringingAfter(curve, edge, resolution) ?? [])));
  return found.toSorted((a, b) => b.swing - a.swing)[0] ?? null;
}
