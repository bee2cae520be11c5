import { dimensionOf, measuredText } from "../../capture/judge/measured.ts";
import type { Measured } from "../../capture/judge/types.ts";
import type { Run } from "../../model/result.ts";
import { formatQuantity } from "../../units/index.ts";
import { counted, duration, show } from "../../verdict/words.ts";
import type { Channel } from "./channels.ts";
import type { OtherUnits } from "./other-units.ts";
import type { Prepared } from "./prepare.ts";
import type { Fit, FittedChannel, FittedValue } from "./types.ts";

/** An interval with ends so differently far is told by its ends. */
const ONE_SIDED = 1.8;

/** What the capture cannot tell: values that make no difference in it; `looked`: those of which the whole bounds were looked at. */
export function untoldSentences(values: readonly FittedValue[], looked: readonly string[]): string[] {
  const quiet = values.filter(({ state }) => state === "untold").map((value) => untoldSentence(value, looked));
  const bound = values
    .filter(({ state }) => state === "at bound")
    .map(
      ({ label }) =>
        `${label} stands at one of its bounds, and the capture would have it beyond: the bound decided, not the capture.`,
    );
  return [...quiet, ...bound];
}

function untoldSentence(value: FittedValue, looked: readonly string[]): string {
  const { label, low, high, from, to } = value;
  const only = onlyText(value);
  if (only !== null) return `This capture tells of ${label} only that it is ${only}.`;
  const why =
    looked.includes(label) && from === low && to === high
      ? "all that its bounds allow differs by less than noise and steps"
      : "around where it stands nothing differs by more than noise and steps";
  return `This capture says nothing about ${label}: ${why}.`;
}

/** Between which ends a value lies that is told no better; null where its bounds are all that is known. */
function onlyText({ low, high, from, to, unit }: FittedValue): string | null {
  const about = (value: number): string => `${Number(value.toPrecision(3))} ${unit}`.trim();
  if (from > low && to < high) return `between about ${about(from)} and ${about(to)}`;
  if (from > low) return `about ${about(from)} at least`;
  return to < high ? `about ${about(to)} at most` : null;
}

/** Parts of the line to which nothing happened. */
export const idleSentences = (run: Run): string[] =>
  idleParts(run).map((part) => `This capture says nothing about ${part}.`);

function idleParts({ fuses, crowbar, clamp, seriesSwitch }: Run): string[] {
  const whole = fuses.filter(({ state, label }) => state === "intact" && label !== "").map(({ label }) => label);
  return [
    ...whole.map((label) => `when the ${label.replace(/^the /, "")} melts: it stays whole`),
    ...(crowbar !== null && crowbar.firings.length === 0 ? ["the SCR: it does not fire"] : []),
    ...(clamp !== null && Math.abs(clamp.peakCurrent.value) < 1e-3 ? ["the clamp: it carries no current"] : []),
    ...(seriesSwitch !== null && seriesSwitch.opens.length === 0 ? ["the series switch: it does not open"] : []),
  ];
}

/** What the capture itself leaves open. */
export function captureSentences(channels: readonly Channel[], isQuiet: boolean, isPlaced: boolean): string[] {
  return [
    ...(isQuiet ? ["The capture shows no event: nothing in it stands out of its noise."] : []),
    ...(isPlaced ? [] : ["This capture does not tell when in the run it begins."]),
    ...channels.flatMap(({ name, unit, cutOffs }) =>
      cutOffs.map(
        ({ value, samples }) =>
          `"${name}" is cut off at ${show(value, dimensionOf(unit))}, where the instrument's range ends: the ${counted(samples, "sample")} there were left out.`,
      ),
    ),
  ];
}

/** Of a capture that is like nothing in the run: where it was looked for, and whether its times may be wrong. */
export function anotherSentences(
  { lookedUntil }: Prepared,
  best: number,
  isGross: boolean,
  { gains, hint }: OtherUnits,
): string[] {
  const unlike = isGross
    ? "what is left is as large as the capture itself"
    : `the likeness of the curves is ${best.toFixed(2)} at best (1 is the same)`;
  return [
    `This looks like a capture of another line or another fault: ${unlike}. No value was found.`,
    ...(gains.length > 0
      ? gains
      : [
          hint ??
            `It was looked for up to ${duration(lookedUntil)} of the run: if it begins later, let the scenario run for longer.`,
        ]),
  ];
}

/** A capture that lasts so many times as long as the scenario runs may have been read in a wrong unit. */
const LONG = 10;

/** Of a capture that does not fit and lasts far longer than the scenario. */
export function lengthSentences({ duration: lasts, endTime }: Prepared): string[] {
  if (lasts < LONG * endTime) return [];
  return [
    `The capture lasts ${duration(lasts)}, the scenario runs for ${duration(endTime)}: are its times in the unit that the file says?`,
  ];
}

/** Of a capture without an event whose level the run keeps nowhere for so long. */
export function nowhereSentences(channels: readonly FittedChannel[]): string[] {
  return channels.map(({ name, unit, captured, zero, off }) => {
    const value = captured.reduce((sum, each) => sum + each / captured.length, zero.value);
    const level = measuredText({ value, plusMinus: off }, dimensionOf(unit));
    return `"${name}" stays at ${level} all the time; the run does so nowhere for as long.`;
  });
}

/** What the model lacks, the worst first. */
export function misfitSentences(channels: readonly FittedChannel[]): string[] {
  return channels
    .filter(({ misfit }) => misfit.isBeyondNoise)
    .toSorted((a, b) => b.misfit.ratio - a.misfit.ratio)
    .map(misfitSentence);
}

function misfitSentence({ name, unit, misfit }: FittedChannel): string {
  const { rms, ratio, ripple, edge, worst, isAtEvents } = misfit;
  const dimension = dimensionOf(unit);
  const size = `"${name}" differs from the run by ${show(rms, dimension)} RMS, ${ratio.toFixed(1)} times what noise and steps explain`;
  const where = ripple === null ? `, most of all ${duration(worst, 4)} into the run` : "";
  const swing =
    ripple === null
      ? ""
      : ` It swings at ${formatQuantity(ripple.frequency, "frequency", { digits: 3 })} with an amplitude of ${show(ripple.amplitude, dimension)}: something ripples or rings that the scenario has not.`;
  const late = edge === null ? "" : ` ${edgeSentence(edge)}`;
  const lacks = "he model lacks something that the capture shows";
  const other = "a value that was not freed may differ";
  const comes =
    isAtEvents || edge !== null ? `It comes with the events: ${other}, or else t${lacks}` : `T${lacks}, or ${other}`;
  const why = ripple === null ? comes : `T${lacks}`;
  return `${size}${where}.${swing}${late} ${why}; the intervals do not cover that.`;
}

function edgeSentence({ captured, late }: NonNullable<FittedChannel["misfit"]["edge"]>): string {
  const begin = `What it shows at ${duration(captured, 4)}`;
  if (!Number.isFinite(late)) return `${begin} never comes in the run.`;
  return `${begin} comes ${duration(Math.abs(late))} ${late > 0 ? "later" : "earlier"} in the run.`;
}

/** A fitted value with its interval: `15.02 V ± 0.03 V`. */
export function valueSentence(told: FittedValue): string {
  const { label, value, from, to, unit, state, low, high, nominal } = told;
  const digits = (number: number): string => `${Number(number.toPrecision(4))} ${unit}`.trim();
  if (state === "untold") return `${label}: ${onlyText(told) ?? "not told"}; left at ${digits(nominal)}.`;
  const [above, below] = [to - value, value - from];
  const { shown, off } = rounded(value, Math.max(above, below));
  const bound = state === "at bound" ? `, at a bound of ${digits(low)} … ${digits(high)}` : "";
  if (Math.max(above, below) > ONE_SIDED * Math.min(above, below))
    return `${label}: ${`${shown} ${unit}`.trim()}, from ${digits(from)} to ${digits(to)}${bound} (was ${digits(nominal)}).`;
  return `${label}: ${`${shown} ${unit}`.trim()} ± ${`${off} ${unit}`.trim()}${bound} (was ${digits(nominal)}).`;
}

/** A value and what it may be off by with as many digits as that has: one, two behind a 1. */
function rounded(value: number, off: number): { readonly shown: string; readonly off: string } {
  if (!(off > 0) || !Number.isFinite(off)) return { shown: String(Number(value.toPrecision(5))), off: String(off) };
  const size = Math.floor(Math.log10(off));
  const places = off / 10 ** size < 1.95 ? 1 - size : -size;
  const grain = 10 ** -places;
  const fixed = (number: number): string =>
    places > 0 ? number.toFixed(Math.min(12, places)) : String(Math.round(number / grain) * grain);
  return { shown: fixed(value), off: fixed(Math.ceil(off / grain - 1e-6) * grain) };
}

/** An instant beside another: `2.34 ms ± 0.06 ms later`, `with it, give or take 0.6 ms`. */
export function whenText(
  { value, plusMinus }: Measured,
  [together, before, after]: readonly [together: string, before: string, after: string],
): string {
  if (Math.abs(value) < plusMinus) return `${together}, give or take ${duration(Math.abs(value) + plusMinus, 2)}`;
  return `${measuredText({ value: Math.abs(value), plusMinus }, "time")} ${value < 0 ? before : after}`;
}

/** How the capture lies in the run. */
export function alignmentSentence({
  shift,
  alignment: { by, likeness, alike },
}: Pick<Fit, "shift" | "alignment">): string {
  const on = by === "threshold" ? "its first edge" : "its likeness";
  const laid = `laid by ${on}; likeness before the fit ${likeness.toFixed(3)}`;
  const rounds =
    alike > 0
      ? ` It lies as well in at least ${counted(alike, "other place")}, for rounds are alike: which round it is cannot be told.`
      : "";
  return Number.isFinite(shift.plusMinus)
    ? `The capture begins ${whenText(shift, ["with the run", "before the run does", "into the run"])} (${laid}).${rounds}`
    : `The capture does not tell when in the run it begins: it lies ${duration(Math.abs(shift.value))} ${shift.value < 0 ? "before its beginning" : "into it"} (${laid}).`;
}

export const simulationsSentence = (simulations: number): string => `It took ${counted(simulations, "simulation")}.`;
