import type { Capture } from "../../capture/types.ts";
import type { Issue } from "../../issue/issue.ts";
import { columnName } from "../../model/readings.ts";
import type { FitMemory, ScenarioResult } from "../../scenario/index.ts";
import { type Alignment, alignWaveforms, likenessAt } from "./align.ts";
import { type Channel, channelOf, columnsFor } from "./channels.ts";
import { problem, readFree } from "./free.ts";
import type { Pair } from "./held.ts";
import type { Ground } from "./search.ts";
import { runFor, type Simulated, Simulator } from "./simulated.ts";
import type { FitOptions } from "./types.ts";

/** Share of what a channel swings through by which an instrument's zero may be off: the usual class of instruments with eight bits. */
export const USUAL_ZERO = 0.01;

export interface Prepared extends Ground {
  readonly leftOut: readonly string[];
}

/** Reads what is to be moved, finds which channel shows what, lays the capture on the first run; or every problem at once. */
export function prepare(
  text: string,
  file: string,
  capture: Capture,
  options: FitOptions,
  parsed: ScenarioResult,
  memory: FitMemory,
  nothingMoves = false,
): Prepared | readonly Issue[] {
  const { scenario } = parsed;
  const issues = [...optionProblems(options)];
  if (scenario === null) return [...parsed.issues.filter(({ severity }) => severity === "error"), ...issues];
  const { varied, issues: wrong } = nothingMoves ? { varied: [], issues: [] } : readFree(options.free, parsed);
  issues.push(...wrong);
  const duration = capture.time[capture.time.length - 1] - capture.time[0];
  const firstEnd = Math.max(scenario.faultTime, 0) + 1.3 * duration;
  const run = runFor(parsed, firstEnd);
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
    const made = column === null ? null : channelOf(capture, channel, column);
    return made === null ? [] : [made];
  });
  if (unfit.length === 0 && channels.length === 0)
    issues.push(
      problem(
        "too-short",
        "capture",
        "No channel of the capture holds enough samples.",
        `${capture.time.length} rows`,
        "at least 8 samples in a channel",
      ),
    );
  if (issues.length > 0) return issues;
  return laid(channels, { text, file, varied, memory, firstEnd, duration }, capture, options);
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
  {
    text,
    file,
    varied,
    memory,
    firstEnd,
    duration,
  }: Pick<Ground, "varied" | "duration"> & {
    readonly text: string;
    readonly file: string;
    readonly memory: FitMemory;
    readonly firstEnd: number;
  },
  capture: Capture,
  { align = "threshold", zero = USUAL_ZERO }: FitOptions,
): Prepared | readonly Issue[] {
  const nominal = varied.map((each) => each.nominal);
  const trial = new Simulator(text, file, varied, memory, channels, firstEnd);
  const first = trial.at(nominal);
  if (first === null) return [problem("no-run", "", "The scenario as it stands cannot be run.", file, null)];
  // The channel that swings most decides.
  const main = channels.reduce(
    (best, channel, c) => (channel.span / channel.off > channels[best].span / channels[best].off ? c : best),
    0,
  );
  const { curve, off } = channels[main];
  const alignment = alignWaveforms(curve, first.lines[main], off, align);
  const until = Math.max(firstEnd, capture.time[capture.time.length - 1] + alignment.shift + 0.3 * duration);
  const simulator = new Simulator(text, file, varied, memory, channels, until);
  const whole = simulator.at(nominal);
  if (whole === null) return [problem("no-run", "", "The scenario as it stands cannot be run.", file, null)];
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
    zeroOffs: channels.map(({ span }) => Math.max(zero, 1e-6) * span),
    lagOff,
    until,
    duration,
    leftOut: used,
  };
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

/** Likeness of each channel and its column, −1 … 1. */
export function likenesses(
  channels: readonly Channel[],
  simulated: Simulated,
  shift: number,
  lags: readonly number[],
): number[] {
  return channels.map(({ curve }, c) => likenessAt(curve, simulated.lines[c], shift + lags[c]));
}
