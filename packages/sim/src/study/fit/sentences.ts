import { dimensionOf, measuredText } from "../../capture/judge/measured.ts";
import type { Run } from "../../model/result.ts";
import { formatQuantity } from "../../units/index.ts";
import { counted, duration, show } from "../../verdict/words.ts";
import type { FittedChannel, FittedValue } from "./types.ts";

/** What the capture cannot tell: values that make no difference in it, and parts of the line to which nothing happened. */
export function untoldSentences(values: readonly FittedValue[], run: Run): string[] {
  const quiet = values
    .filter(({ state }) => state === "untold")
    .map(
      ({ label }) =>
        `This capture says nothing about ${label}: all that its bounds allow differs by less than noise and steps.`,
    );
  const bound = values
    .filter(({ state }) => state === "at bound")
    .map(
      ({ label }) => `${label} stands at one of its bounds and wants to leave it: the bound decided, not the capture.`,
    );
  return [...quiet, ...bound, ...idleParts(run).map((part) => `This capture says nothing about ${part}.`)];
}

function idleParts({ fuses, crowbar, clamp, seriesSwitch }: Run): string[] {
  const whole = fuses.filter(({ state, label }) => state === "intact" && label !== "").map(({ label }) => label);
  return [
    ...whole.map((label) => `when the ${label.replace(/^the /, "")} melts: it stays whole`),
    ...(crowbar !== null && crowbar.firings.length === 0 ? ["the SCR: it does not fire"] : []),
    ...(clamp !== null && Math.abs(clamp.peakCurrent.value) < 1e-3 ? ["the clamp: it carries no current"] : []),
    ...(seriesSwitch !== null && seriesSwitch.opens.length === 0 ? ["the series switch: it does not open"] : []),
  ];
}

/** What the model lacks, the worst first. */
export function misfitSentences(
  channels: readonly FittedChannel[],
  likeness: readonly number[],
  isAnother: boolean,
): string[] {
  if (isAnother) {
    const best = Math.max(...likeness);
    return [
      `This looks like a capture of another line or another fault: the likeness of the curves is ${best.toFixed(2)} at best (1 is the same). No value was found.`,
    ];
  }
  return channels
    .filter(({ misfit }) => misfit.isBeyondNoise)
    .toSorted((a, b) => b.misfit.ratio - a.misfit.ratio)
    .map(misfitSentence);
}

function misfitSentence({ name, unit, misfit }: FittedChannel): string {
  const { rms, ratio, ripple, worst } = misfit;
  const dimension = dimensionOf(unit);
  const size = `"${name}" differs from the run by ${show(rms, dimension)} RMS, ${ratio.toFixed(1)} times what noise and steps explain`;
  const where = ripple === null ? `, most of all ${duration(worst, 4)} into the run` : "";
  const swing =
    ripple === null
      ? ""
      : ` It swings at ${formatQuantity(ripple.frequency, "frequency", { digits: 3 })} with an amplitude of ${show(ripple.amplitude, dimension)}: something ripples or rings that the scenario has not.`;
  return `${size}${where}.${swing} The model lacks something that the capture shows; the intervals do not cover that.`;
}

/** A fitted value with its interval: `15.02 V ± 0.03 V`. */
export function valueSentence({ label, value, from, to, unit, state, low, high, nominal }: FittedValue): string {
  const digits = (number: number): string => `${Number(number.toPrecision(4))} ${unit}`.trim();
  if (state === "untold") return `${label}: not told; left at ${digits(nominal)}.`;
  const { shown, off } = rounded(value, Math.max(to - value, value - from));
  const bound = state === "at bound" ? `, at a bound of ${digits(low)} … ${digits(high)}` : "";
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

/** How the capture lies in the run. */
export function alignmentSentence(
  shift: { readonly value: number; readonly plusMinus: number },
  by: string,
  likeness: number,
): string {
  const on = by === "threshold" ? "its first edge" : "its likeness";
  return `The capture begins ${measuredText(shift, "time")} into the run (laid by ${on}; likeness before the fit ${likeness.toFixed(3)}).`;
}

export const simulationsSentence = (simulations: number): string => `It took ${counted(simulations, "simulation")}.`;
