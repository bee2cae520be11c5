import { formatQuantity } from "../../units/index.ts";
import { duration } from "../../verdict/words.ts";
import type { Fixed } from "./fixed.ts";
import type { Lag } from "./lag-walk.ts";
import type { FittedValue } from "./types.ts";

/** Chi-square with one degree of freedom beyond which a value is told to be wrong: a chance of one in a million each, for two dozen are looked at and straight lines are not the whole truth. */
const WRONG = 25;
/** Values that would explain what is left nearly as well as the best one, and how many are named. */
const AS_WELL = 0.6;
const MOST_NAMED = 4;
/** A change that is larger than this share is beyond what straight lines tell. */
const STRAIGHT = 0.25;
/** What moves no value by more than this part of its standard error is nothing to be told: a held value, and a lag, which every instrument has. */
const MATTERS = 1;
const LAG_MATTERS = 2;
/** Values on which intervals rest, at most so many for each. */
const MOST_RESTS = 2;

/** Which held values would explain what is left, where that matters to any of the values found. */
export function wrongSentences(values: readonly FittedValue[], fixed: readonly Fixed[]): string[] {
  const sorted = fixed
    .filter(
      ({ drop, share, moves }) =>
        drop > WRONG && values.some(({ error }, k) => Math.abs(share * moves[k]) > MATTERS * error),
    )
    .toSorted((a, b) => b.drop - a.drop);
  const [best] = sorted;
  if (best === undefined) return [];
  const named = sorted.filter(({ drop }) => drop > AS_WELL * best.drop).slice(0, MOST_NAMED);
  const each = named.map(
    ({ label, nominal, unit, share }) =>
      `${label}, held at ${amount(nominal, unit)}${Math.abs(share) < STRAIGHT ? ` (about ${amount(nominal * (1 + share), unit, 3)} would fit)` : ""}`,
  );
  const [which, one] = named.length === 1 ? ["A value", "it"] : ["One of the values", "one of them"];
  return [
    `${which} that were held seems to be wrong: what is left is like what another value would leave of ${each.join("; or of ")}. It stands ${Math.sqrt(best.drop).toFixed(0)} standard deviations out of noise. Free ${one} and fit again; the intervals do not cover that.`.replace(
      "A value that were",
      "A value that was",
    ),
  ];
}

/** On which held values the intervals rest that the capture cannot tell itself. */
export function restSentences(values: readonly FittedValue[], fixed: readonly Fixed[]): string[] {
  return values.flatMap(({ label, unit, state, from, to }, k) => {
    if (state !== "found") return [];
    const half = (to - from) / 2;
    const rests = fixed
      .filter(({ drop, known, moves }) => drop <= WRONG && known * Math.abs(moves[k]) > half)
      .toSorted((a, b) => b.known * Math.abs(b.moves[k]) - a.known * Math.abs(a.moves[k]))
      .slice(0, MOST_RESTS)
      .map(
        ({ label: name, nominal, unit: own, moves }) =>
          `${name} is ${amount(nominal, own)} (1 % more of it would move it by ${amount(0.01 * moves[k], unit, 2)})`,
      );
    return rests.length === 0
      ? []
      : [`The interval of ${label} holds only if ${rests.join(" and ")}: this capture hardly tells.`];
  });
}

/** What an instrument or a probe does that lags. */
export function lagSentences(values: readonly FittedValue[], { isThere, value, tried, moves }: Lag): string[] {
  const matters = values.some(({ error }, k) => Math.abs((value / tried) * moves[k]) > LAG_MATTERS * error);
  return isThere && matters
    ? [
        `The instrument or its probe may lag: what is left is like what a lag of about ${duration(value, 2)} would leave (first order). Values that hang on edges are not to be trusted.`,
      ]
    : [];
}

/** Which intervals hold only for an instrument that hardly lags. */
export function settledSentences(values: readonly FittedValue[], { isThere, tried, moves }: Lag): string[] {
  const moved = values.flatMap(({ label, unit, state, error }, k) =>
    state === "found" && Math.abs(moves[k]) > error ? [`${label} by ${amount(moves[k], unit, 2)}`] : [],
  );
  if (isThere || moved.length === 0) return [];
  const bandwidth = formatQuantity(1 / (2 * Math.PI * tried), "frequency", { digits: 2 });
  return [
    `The intervals hold only if the instrument and its probe settle well within a sample interval: a lag of ${duration(tried, 2)} (a bandwidth of ${bandwidth}) would have moved ${moved.join(" and ")}, and the capture would hardly tell.`,
  ];
}

const amount = (value: number, unit: string, digits = 6): string =>
  `${Number(value.toPrecision(digits))} ${unit}`.trim().replace("-", "−");
