import { allEqual } from "../../capture/read/finish.ts";
import type { Capture, CaptureLayout } from "../../capture/types.ts";
import type { Issue } from "../../issue/issue.ts";
import { columnName } from "../../model/readings.ts";
import type { Run } from "../../model/result.ts";
import type { FitMemory, ScenarioResult } from "../../scenario/index.ts";
import { duration as timeText } from "../../verdict/words.ts";
import { Readings } from "../pool/readings.ts";
import { type Alignment, alignWaveforms } from "./align.ts";
import { type Channel, channelOf, columnsFor } from "./channels.ts";
import { LineCurve } from "./curve.ts";
import { shortestStay } from "./edges.ts";
import { problem, readFree } from "./free.ts";
import type { Pair } from "./held.ts";
import { BEHIND, type Ground, SURE, shiftsOf } from "./search.ts";
import { runFor, type Simulated, Simulator } from "./simulated.ts";
import { timeAxisHint } from "./time-axis.ts";
import type { FitOptions } from "./types.ts";

/** Share of what a channel swings through by which an instrument's zero may be off: the usual class of instruments with eight bits. */
export const USUAL_ZERO = 0.01;

/** A channel that is quiet stands in a range of so many steps at least: an instrument's zero is off by a share of that. */
const RANGE = 256;

/** By how much another place in the whole run has to be more alike than one in its first stretch. */
const BETTER = 0.02;
export interface Prepared extends Ground {
  readonly leftOut: readonly string[];
  /** How the capture was read. */
  readonly layout: CaptureLayout;
  /** Until when the scenario runs by itself, and until when in the run the capture was looked for, s. */
  readonly endTime: number;
  readonly lookedUntil: number;
}

/**
 * Reads what is to be moved, finds which channel shows what, lays the capture on the first run; or every problem at once.
 *
 * @param starts values to begin with, where not with those of the scenario: they stand as `nominal` in what comes back
 */
export function prepare(
  text: string,
  file: string,
  capture: Capture,
  options: FitOptions,
  parsed: ScenarioResult,
  memory: FitMemory,
  nothingMoves = false,
  starts: readonly number[] | null = null,
): Prepared | readonly Issue[] {
  const { scenario } = parsed;
  const issues = [...optionProblems(options)];
  if (scenario === null) return [...parsed.issues.filter(({ severity }) => severity === "error"), ...issues];
  const { varied, issues: wrong } = nothingMoves ? { varied: [], issues: [] } : readFree(options.free, parsed);
  issues.push(...wrong);
  const duration = capture.time[capture.time.length - 1] - capture.time[0];
  const firstEnd = Math.max(scenario.faultTime, 0) + (1 + BEHIND) * duration;
  const whole = runFor(parsed, firstEnd);
  const run = whole ?? runFor(parsed, Math.min(firstEnd, scenario.endTime));
  if (run === null)
    return [
      ...issues,
      problem(
        "no-run",
        "",
        "The scenario as it stands cannot be run over the time of the capture.",
        file,
        null,
        "`railfault check` tells why",
      ),
    ];
  const owners = [...scenario.sources, ...scenario.loads].map(({ name }) => columnName(name, "V").slice(0, -2));
  const { columns, issues: unfit } = columnsFor(capture, run.trace, owners, options.channels);
  issues.push(...unfit);
  const channels = capture.channels.flatMap((channel, c): Channel[] => {
    const column = columns[c];
    // How well a value is known that never changes cannot be told: it would outweigh all others.
    const made = column === null || allEqual(channel.values) ? null : channelOf(capture, channel, column);
    return made === null ? [] : [made];
  });
  if (unfit.length === 0 && channels.length === 0)
    issues.push(
      problem(
        "too-short",
        "capture",
        "No channel that belongs to the scenario changes and holds enough samples.",
        `${capture.time.length} rows`,
        "at least 8 samples in a channel, not all of them equal",
      ),
    );
  if (issues.length > 0) return issues;
  if (whole === null) return [tooLong(channels, run, duration)];
  const readings = new Readings(text, file, varied, memory);
  const { endTime } = scenario;
  const begun = varied.map((each, k) => ({ ...each, nominal: starts?.[k] ?? each.nominal }));
  return laid(channels, { readings, file, varied: begun, firstEnd, endTime, duration }, capture, options);
}

function tooLong(channels: readonly Channel[], { trace }: Run, duration: number): Issue {
  const [channel] = channels;
  const values = trace.columns.find(({ name }) => name === channel.column)?.values ?? trace.time;
  return problem(
    "too-long",
    "capture",
    "Over as long a time as the capture's no run can be worked out in a reasonable time.",
    timeText(duration),
    "a capture of the fault and what follows it",
    timeAxisHint(channel, new LineCurve(trace.time, values)) ?? "are its times in another unit than the file says?",
  );
}

function optionProblems({ zero = USUAL_ZERO }: FitOptions): readonly Issue[] {
  return zero >= 0 && zero <= 0.2
    ? []
    : [
        problem(
          "out-of-range",
          "zero",
          "By so much no instrument's zero is off.",
          String(zero),
          "a share from 0 to 0.2",
        ),
      ];
}

function laid(
  channels: readonly Channel[],
  { readings, file, varied, firstEnd, endTime, duration }: Trial,
  capture: Capture,
  { align = "threshold", zero = USUAL_ZERO }: FitOptions,
): Prepared | readonly Issue[] {
  const nominal = varied.map((each) => each.nominal);
  const noRun = [problem("no-run", "", "The scenario as it stands cannot be run.", file, null)];
  const trial = new Simulator(readings, varied, channels, firstEnd);
  const first = trial.at(nominal);
  if (first === null) return noRun;
  // The channel that swings most decides.
  const main = channels.reduce(
    (best, channel, c) => (channel.span / channel.off > channels[best].span / channels[best].off ? c : best),
    0,
  );
  const { curve, off } = channels[main];
  const near = alignWaveforms(curve, first.lines[main], off, align);
  const isSure = near.by === "threshold" && near.score >= SURE;
  const longer = isSure || endTime <= firstEnd ? trial : trial.to(endTime);
  const far = longer.at(nominal);
  const other = longer === trial || far === null ? near : alignWaveforms(curve, far.lines[main], off, align);
  const isFar = other.by !== near.by || near.by === "correlation" || other.score > near.score + BETTER;
  const alignment = isFar ? other : near;
  const end = capture.time[capture.time.length - 1] + alignment.shift;
  const until = Math.max(firstEnd, end + BEHIND * duration);
  const simulator = longer === trial && until === firstEnd ? trial : longer.to(until);
  const whole = simulator.at(nominal);
  if (whole === null) return noRun;
  const coarse = tooCoarse(channels, whole, alignment);
  if (coarse !== null) return [coarse];
  const lagOff = Math.max(...channels.map(({ interval }) => interval));
  const used = capture.channels
    .map(({ name }) => name)
    .filter((name) => !channels.some((channel) => channel.name === name));
  return {
    channels,
    pairs: pairsOf(channels, whole, alignment),
    varied,
    simulator,
    alignment,
    shifts: shiftsOf(alignment.shift, end, until, duration),
    zeroOffs: channels.map(({ span, quantum }) => Math.max(zero, 1e-6) * Math.max(span, RANGE * quantum)),
    lagOff,
    until,
    duration,
    leftOut: used,
    layout: capture.layout,
    endTime,
    lookedUntil: longer.until,
  };
}

/** Edges follow each other in both alike only where none can fall between two samples. */
function tooCoarse(channels: readonly Channel[], { lines }: Simulated, { shift }: Alignment): Issue | null {
  for (const [c, { name, level, edges, interval, curve }] of channels.entries()) {
    if (level === null || edges.length < 2) continue;
    const { time } = curve;
    const stay = shortestStay(lines[c], level, [time[0] + shift, time[time.length - 1] + shift]);
    if (stay < interval)
      return problem(
        "too-coarse",
        "capture",
        `The samples of "${name}" are too far apart to tell one round from the next: in the run it stays up or down for ${timeText(stay)} only, which falls between two samples.`,
        `a sample every ${timeText(interval)}`,
        `one every ${timeText(stay)} at least`,
      );
  }
  return null;
}

interface Trial extends Pick<Ground, "varied" | "duration"> {
  readonly readings: Readings;
  readonly file: string;
  readonly firstEnd: number;
  readonly endTime: number;
}

/** Edges follow each other in both alike: the first of each channel finds its like, the others come after it. */
function pairsOf(channels: readonly Channel[], { edges }: Simulated, { shift }: Alignment): Pair[] {
  return channels.flatMap(({ edges: own }, channel) => {
    const [first] = own;
    if (first === undefined) return [];
    let start = -1;
    let nearest = Number.POSITIVE_INFINITY;
    for (const [k, edge] of edges[channel].entries()) {
      const far = Math.abs(edge.time - first.time - shift);
      if (edge.sign === first.sign && far < nearest) [start, nearest] = [k, far];
    }
    return start < 0 ? [] : own.map((edge, j) => ({ channel, edge, place: start + j }));
  });
}
