import { judgeLimit } from "../../verdict/finding.ts";
import type { Finding } from "../../verdict/types.ts";
import { counted } from "../../verdict/words.ts";
import type { Capture, CapturedChannel } from "../types.ts";
import { type Curve, curveOf, outsideTime, unseenTime } from "./curve.ts";
import { stretchesBeyond } from "./edges.ts";
import { extremeOf } from "./extremes.ts";
import { flatTopOf } from "./flat-top.ts";
import { longestBeyond } from "./longest.ts";
import { extremeText, measuredText } from "./measured.ts";
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
 * @param limits of the voltage at what was measured, V; held against channels in volts only
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
  const { high, low } = unit === "V" ? limits : { high: null, low: null };
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
      : [held(name, high, highest, open.above, doubtOf(curve, outOfRange, flatTop, highest) ?? neverUp(highest, low))];
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

/** Why the highest value that was recorded may not have been the highest; null where nothing says so. */
function doubtOf(curve: Curve, outOfRange: number, flatTop: FlatTop | null, { alone }: Extreme): string | null {
  if (outsideTime(curve, 1) > 0)
    return `the instrument was out of its range in ${counted(outOfRange, "sample")}, and how far is not known`;
  if (flatTop?.clipped === true)
    return `${counted(flatTop.samples, "sample")} one after the other are equal where noise would move them: the instrument's range ended there`;
  if (flatTop?.abrupt === true)
    return `it breaks off at its highest value, ${counted(flatTop.samples, "sample")} one after the other, as where the instrument's range ended or a line jumps to a level and is held`;
  return alone ? "a spike was seen in one sample only" : null;
}

/** A line that never comes up to its lower limit is no line in service: a probe's factor or sign, or another thing, is likelier. */
function neverUp({ value, plus, alone }: Extreme, low: number | null): string | null {
  if (low === null || alone || value + plus >= low) return null;
  return `it never comes up to the lower limit of ${measuredText({ value: low, plusMinus: 0 }, "voltage")}, as where a probe's factor is not applied, a channel is inverted or another thing was recorded`;
}

/** Held against a limit by the rule for simulated values; too close is also what the capture cannot tell from the limit. */
function held(name: string, limit: number, found: Extreme, open: boolean, doubt: string | null): Finding {
  const { value, minus, plus } = found;
  const level = measuredText({ value: limit, plusMinus: 0 }, "voltage");
  const peak = extremeText(found, "voltage", "highest", { open, truth: true });
  const finding = judgeLimit({
    subject: name,
    quantity: "peak voltage",
    dimension: "voltage",
    rating: limit,
    found: value,
    above: "beyond",
    say: (severity) =>
      `The peak voltage of "${name}", ${peak}, ${severity === "ok" ? "stays within" : "passes"} the limit of ${level}.`,
  });
  // What was seen to pass did pass, however much higher it went.
  const surelyBeyond = finding.severity === "beyond" && !finding.close && value - limit > minus;
  if (surelyBeyond) return finding;
  if (doubt !== null) {
    const sentence = `Whether the peak voltage of "${name}" stays within the limit of ${level} is not known: ${doubt}. That is too close to call.`;
    return { ...finding, severity: "unknown", headroom: null, close: true, sentence };
  }
  if (finding.severity !== "beyond" && !finding.close && limit - value > plus) return finding;
  const sentence = `The peak voltage of "${name}", ${peak}, may be above the limit of ${level} or within it. That is too close to call.`;
  return { ...finding, close: true, sentence };
}

function strongerRinging(curve: Curve, edges: readonly (Slope | null)[], resolution: Resolution): Ringing | null {
  const found = edges.flatMap((edge) => (edge === null ? [] : (ringingAfter(curve, edge, resolution) ?? [])));
  return found.toSorted((a, b) => b.swing - a.swing)[0] ?? null;
}
