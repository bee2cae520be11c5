import type { Measured } from "../../capture/judge/types.ts";
import type { Capture } from "../../capture/types.ts";
import { runScenario } from "../../report/run-scenario.ts";
import { FitMemory, parseScenario, type ScenarioResult } from "../../scenario/index.ts";
import { searchFrom, unlikeness, unsearched } from "./elsewhere.ts";
import { lookAtBounds } from "./ends.ts";
import { eventRows } from "./events.ts";
import { fixedOf } from "./fixed.ts";
import { lagSentences, restSentences, settledSentences, wrongSentences } from "./fixed-sentences.ts";
import { ownOf } from "./held.ts";
import { channelsLeft } from "./left.ts";
import { isFlat, togetherness } from "./misfit.ts";
import { type OtherUnits, otherUnits } from "./other-units.ts";
import { type Known, posteriorOf } from "./posterior.ts";
import { type Prepared, prepare } from "./prepare.ts";
import { search } from "./search.ts";
import {
  anotherSentences,
  captureSentences,
  idleSentences,
  lengthSentences,
  misfitSentences,
  nowhereSentences,
  untoldSentences,
} from "./sentences.ts";
import type { Fit, FitAnswer, FitHooks, FitOptions, FittedChannel, FittedValue, Together } from "./types.ts";
import { fittedText } from "./write.ts";

/** Of what it may be moved by: an interval that is wider leaves open how a capture lies in time. */
const TIME_TOLD = 0.5;
/** From so many standard deviations on that the capture would have a value beyond its bound, the bound decided. */
const PULL = 2;
/** Values that go together more closely than this cannot be told apart. */
const TOGETHER = 0.95;

/**
 * Finds values of a scenario from what was captured of the real line: by least squares of waveforms and event times together, each against what the capture leaves
 * open (steps, noise, sample interval). How the capture lies in time, a lag between channels and the instrument's zero are found along with them.
 *
 * Intervals hold 95 % where the model lacks nothing but the instrument's noise and steps: also of values that hang on what happened between two samples. What the model
 * lacks is told in `misfits`, and intervals then say little.
 *
 * @param text a scenario file; the values as they stand there are where the search begins
 * @param file its name, for the places in messages
 * @param capture one that was read without errors, V and A over s
 * @param options which values may move, in which bounds; which channel shows what
 * @param hooks `progress` is told the runs so far; `signal` ends the search at the next run; `pause` lets others of the same thread have a turn
 * @returns values with intervals, misfits, the new scenario and its verdict; or every problem of the input; never throws on bad input
 * @throws Cancelled once the signal is raised
 * @see Levenberg (Q. Appl. Math. 2, 1944), Marquardt (J. SIAM 11, 1963); Neal, "Slice sampling" (Ann. Stat. 31, 2003)
 * @example
 * const found = await fitScenario(text, "hut.yaml", capture, { free: ["crowbar.trip voltage"], channels: [] });
 * if (found.kind === "fitted") console.log(found.values[0].value, found.scenario);
 */
export async function fitScenario(
  text: string,
  file: string,
  capture: Capture,
  options: FitOptions,
  hooks: FitHooks = {},
): Promise<FitAnswer> {
  return answered(text, file, capture, options, hooks, false);
}

/**
 * Lays a capture on a run of the scenario as it stands: no value moves, only how the capture lies in time, how much a channel lags and the instrument's zeros are found.
 *
 * @param text a scenario file
 * @param file its name, for the places in messages
 * @param capture one that was read without errors, V and A over s
 * @param options which channel shows what; how the two are laid on each other
 * @returns as `fitScenario`, without values and without a new scenario: curves, events, misfits; or every problem of the input
 * @throws Cancelled once the signal is raised
 * @example const laid = await layCapture(text, "hut.yaml", capture, { channels: [] });
 */
export async function layCapture(
  text: string,
  file: string,
  capture: Capture,
  options: Omit<FitOptions, "free">,
  hooks: FitHooks = {},
): Promise<FitAnswer> {
  return answered(text, file, capture, { ...options, free: [] }, hooks, true);
}

async function answered(
  text: string,
  file: string,
  capture: Capture,
  options: FitOptions,
  hooks: FitHooks,
  nothingMoves: boolean,
): Promise<FitAnswer> {
  const memory = new FitMemory();
  const parsed = parseScenario(text, file, memory);
  const ground = prepare(text, file, capture, options, parsed, memory, nothingMoves);
  if (!("simulator" in ground)) return { kind: "refused", issues: ground };
  const elsewhere = (starts: readonly number[]) =>
    prepare(text, file, capture, options, parsed, memory, nothingMoves, starts);
  const begun = unsearched(ground) ?? (await searchFrom(ground, await search(ground, hooks), hooks, elsewhere));
  const { found, spent } = begun;
  const stepped: Prepared = { ...begun.ground, ...found.ground, varied: ground.varied };
  const scatter = channelsLeft(stepped, found).map(({ misfit, residual }, c) => {
    const { offs, off } = stepped.channels[c];
    // What lies at steps is no noise.
    return misfit.ratio * togetherness(residual.map((left, k) => (offs[k] < 1.001 * off ? left : Number.NaN)));
  });
  const known = await posteriorOf(stepped, found, scatter, hooks);
  const asked = { text, file, parsed, memory, captureFile: capture.file };
  const first = answerOf(stepped, known, asked, begun.units);
  const lay = (other: string): Promise<FitAnswer> =>
    answered(other, file, capture, { ...options, free: [] }, hooks, true);
  const ends = first.isAnother ? { values: first.values, looked: [], runs: 0 } : await lookAtBounds(text, first, lay);
  const answer: Fit = {
    ...first,
    values: ends.values,
    untold: [
      ...first.untold,
      // Held against another line no value says why it was not found.
      ...(first.isAnother ? [] : untoldSentences(ends.values, ends.looked)),
      ...idleSentences(known.simulated.run),
    ],
    simulations: first.simulations + spent + ends.runs,
  };
  if (answer.isAnother || answer.scenario === null) return answer;
  const { fixed, runs } = await fixedOf(stepped, known, scatter, asked, hooks);
  return {
    ...answer,
    misfits: [...answer.misfits, ...wrongSentences(answer.values, fixed), ...lagSentences(answer.values, known.lag)],
    untold: [...answer.untold, ...restSentences(answer.values, fixed), ...settledSentences(answer.values, known.lag)],
    simulations: answer.simulations + runs,
  };
}

interface Asked {
  readonly text: string;
  readonly file: string;
  readonly parsed: ScenarioResult;
  readonly captureFile: string;
}

function answerOf(
  ground: Prepared,
  sure: Known,
  { text, file, parsed, captureFile }: Asked,
  units: OtherUnits | null,
): Fit {
  const { varied, alignment, simulator, leftOut } = ground;
  const found = { ...sure, own: ownOf(sure.all, varied.length, ground.channels.length) };
  const left = channelsLeft(ground, found);
  const ofPlace = (k: number): Measured => ({
    value: found.all[k],
    plusMinus: Math.max(...sure.intervals[k].map((end) => Math.abs(end - found.all[k]))),
  });
  const isQuiet = ground.channels.every(isFlat);
  const { isAnother, isGross, best } = unlikeness(ground, found);
  // A level that the run has nowhere says nothing about any value.
  const isNowhere = isQuiet && left.some(({ misfit }) => misfit.isBeyondNoise);
  const values = varied.map((each, k) => (isNowhere ? untoldValue(each) : fittedValue(each, k, sure)));
  const count = varied.length;
  const channels = left.map((channel, c): FittedChannel => {
    const zero = ofPlace(count + ground.channels.length + c);
    const lag = c === 0 ? { value: 0, plusMinus: 0 } : ofPlace(count + c);
    return { ...channel, zero, lag };
  });
  const scenario =
    isAnother || values.every(({ state }) => state === "untold") ? null : fittedText(text, parsed, values, captureFile);
  const { value, plusMinus } = ofPlace(count);
  const isPlaced =
    !isNowhere &&
    2 * plusMinus < TIME_TOLD * (ground.shifts[1] - ground.shifts[0]) &&
    Number.isFinite(sure.errors[count]);
  const shift = { value, plusMinus: isPlaced ? plusMinus : Number.POSITIVE_INFINITY };
  const correlations = varied.map((_, a) => varied.map((__, b) => sure.correlation(a, b)));
  return {
    kind: "fitted",
    title: parsed.about.title,
    file,
    captureFile,
    alignment,
    shift,
    values,
    correlations,
    together: togetherOf(values, correlations, channels, sure),
    channels,
    leftOut,
    events: eventRows(ground, found),
    untold: captureSentences(ground.channels, isQuiet, isPlaced),
    misfits: [
      ...(isAnother
        ? anotherSentences(ground, best, isGross, units ?? otherUnits(ground))
        : isNowhere
          ? [...nowhereSentences(channels), ...(units?.gains ?? [])]
          : misfitSentences(channels)),
      ...(isAnother || left.some(({ misfit }) => misfit.isBeyondNoise) ? lengthSentences(ground) : []),
    ],
    isQuiet,
    isAnother,
    isConverged: sure.isConverged,
    simulations: simulator.count,
    scenario,
    answer: scenario === null ? null : runScenario(scenario, file, { record: { most: 4000 } }),
    issues: parsed.issues,
  };
}

function fittedValue(
  varied: Prepared["varied"][number],
  k: number,
  { all, errors, intervals, pulls }: Known,
): FittedValue {
  const { low, high } = varied;
  const error = errors[k];
  if (!Number.isFinite(error)) return untoldValue(varied);
  const [from, to] = intervals[k];
  // Spread over its bounds about as evenly as before: it was not found but given.
  const isGiven = 2 * 1.96 * error > high - low;
  const state = pulls[k] > PULL ? "at bound" : isGiven ? "untold" : "found";
  return { ...varied, value: all[k], from, to, error, state };
}

function untoldValue(varied: Prepared["varied"][number]): FittedValue {
  const { nominal: value, low: from, high: to } = varied;
  return { ...varied, value, from, to, error: Number.POSITIVE_INFINITY, state: "untold" };
}

function togetherOf(
  values: readonly FittedValue[],
  correlations: Fit["correlations"],
  channels: readonly FittedChannel[],
  sure: Known,
): Together[] {
  const pairs = values.flatMap((a, i) =>
    values.slice(i + 1).map((b, j) => ({ a: a.label, b: b.label, correlation: correlations[i][i + 1 + j] })),
  );
  const zeros = values.flatMap((a, i) =>
    channels.map(({ name }, c) => ({
      a: a.label,
      b: `the zero of "${name}"`,
      correlation: sure.correlation(i, values.length + channels.length + c),
    })),
  );
  return [...pairs, ...zeros].filter(({ correlation }) => Math.abs(correlation) > TOGETHER);
}
