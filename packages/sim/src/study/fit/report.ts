import { dimensionOf, measuredText } from "../../capture/judge/measured.ts";
import { type Cell, csvTable } from "../../report/csv.ts";
import { wrap } from "../../report/text-wrap.ts";
import { pathText } from "../../scenario/keys.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { show } from "../../verdict/words.ts";
import { alignmentSentence, simulationsSentence, valueSentence, whenText } from "./sentences.ts";
import type { EventRow, Fit, FittedChannel } from "./types.ts";

/** Names the form of the JSON. */
export const FIT_FORMAT = "railfault-fit 1";

/** Rows of the table of events that text shows. */
const MOST_ROWS = 24;

/** What came of it, in a sentence. */
export function fitHeadline({ misfits, isQuiet, isAnother, values, isConverged }: Fit): string {
  if (isAnother) return "The capture and the scenario do not belong together.";
  const rest = isConverged ? "" : " The search was ended before it had come to rest.";
  if (values.length === 0) {
    const quiet = isQuiet ? "The capture shows no event. " : "";
    return misfits.length === 0
      ? `${quiet}The run as it stands and the capture differ by no more than noise.${rest}`
      : `${quiet}The capture shows something else than the run as it stands.${rest}`;
  }
  const found = values.filter(({ state }) => state !== "untold").length;
  if (isQuiet && found === 0) return "The capture shows no event, and tells no value.";
  const what = `${found} of ${values.length} ${values.length === 1 ? "value" : "values"} found`;
  return misfits.length === 0
    ? `${what}; what is left is noise.${rest}`
    : `${what}, but more than noise is left.${rest}`;
}

/** 0: what is left is noise; 1: it is not, or the capture is of something else, or tells none of the values. */
export function fitStatus({ misfits, isAnother, isConverged, values }: Fit): 0 | 1 {
  const tellsNone = values.length > 0 && values.every(({ state }) => state === "untold");
  return misfits.length > 0 || isAnother || !isConverged || tellsNone ? 1 : 0;
}

/**
 * A fit as text: values with intervals, what the capture cannot tell, misfits, events, verdict.
 *
 * @param width characters a line; below 60 counts as 60
 */
export function renderFit(fit: Fit, width = 80): string {
  const room = Math.max(60, width);
  const list = (title: string, lines: readonly string[]): string =>
    lines.length === 0 ? "" : [title, ...lines.map((line) => wrap(line, room, "  - ", "    "))].join("\n");
  const { answer, together, leftOut } = fit;
  const told = answer?.kind === "answered" && answer.verdict.kind === "verdict" ? answer.verdict.headline : null;
  const parts = [
    wrap(`Fit: ${fit.title}`, room),
    wrap(fitHeadline(fit), room),
    list("Misfit", fit.misfits),
    list("Values, with intervals for 95 %", fit.isAnother ? [] : fit.values.map((value) => valueSentence(value))),
    list("What the capture cannot tell", [
      ...fit.untold,
      ...together.map(
        ({ a, b, correlation }) =>
          `${a} and ${b} go together (correlation ${correlation.toFixed(3)}): the capture hardly tells one from the other.`,
      ),
    ]),
    list("The capture", [
      alignmentSentence(fit),
      ...fit.channels.map(channelSentence),
      ...leftOut.map((name) => `"${name}" belongs to nothing in the scenario, or never changes, and was left out.`),
    ]),
    eventLines(fit.events),
    told === null ? "" : list("With these values", [told]),
    wrap(simulationsSentence(fit.simulations), room),
    list("Be careful", CAUTIONS),
  ];
  return `${parts.filter((part) => part !== "").join("\n\n")}\n`;
}

function channelSentence({ name, unit, column, samples, every, off, zero, lag, misfit }: FittedChannel): string {
  const dimension = dimensionOf(unit);
  const some = every === 1 ? "" : `, every ${ordinal(every)} of the capture`;
  const words = ["with the first channel", "before the first channel does", "after the first channel"] as const;
  const late = lag.value === 0 ? "" : `; it shows things ${whenText(lag, words)}`;
  return `"${name}" is ${column}, ${samples} samples${some}, each known to ${show(off, dimension)}; its zero lies at ${measuredText(zero, dimension)}${late}. What is left: ${show(misfit.rms, dimension)} RMS.`;
}

const ENDINGS: Readonly<Partial<Record<Intl.LDMLPluralRule, string>>> = { one: "st", two: "nd", few: "rd" };
const ordinals = new Intl.PluralRules("en", { type: "ordinal" });

/** `2nd`, `3rd`, `4th`, `21st`. */
const ordinal = (count: number): string => `${count}${ENDINGS[ordinals.select(count)] ?? "th"}`;

function eventLines(events: readonly EventRow[]): string {
  if (events.length === 0) return "";
  const ms = (seconds: number, digits: number): string => (1000 * seconds).toFixed(digits);
  const rows = events.slice(0, MOST_ROWS).map(({ channel, what, captured, simulated, difference }) => {
    const digits = Math.min(6, Math.max(0, 1 - Math.floor(Math.log10(1000 * captured.plusMinus))));
    return [
      `${channel} ${what}`,
      ms(captured.value, digits),
      simulated === null ? "never" : ms(simulated, digits),
      difference === null ? "" : `${ms(difference, digits)} ± ${ms(captured.plusMinus, digits)}`,
    ] as const;
  });
  const head = ["", "captured, ms", "simulated, ms", "difference, ms"] as const;
  const widths = head.map((_, c) => Math.max(...[head, ...rows].map((row) => row[c].length)));
  const lines = [head, ...rows].map((row) =>
    `  ${row.map((cell, c) => (c === 0 ? cell.padEnd(widths[c]) : cell.padStart(widths[c]))).join("  ")}`.trimEnd(),
  );
  const more = events.length > MOST_ROWS ? [`  and ${events.length - MOST_ROWS} more`] : [];
  return ["What happened when", ...lines, ...more].join("\n");
}

/** Times of events as a table: captured, simulated, difference. */
export function fitCsv({ events }: Fit): Generator<string> {
  const header = ["channel", "event", "captured_s", "plus_minus_s", "simulated_s", "difference_s"];
  return csvTable(
    header,
    events.map(({ channel, what, captured, simulated, difference }): Cell[] => [
      channel,
      what,
      captured.value,
      captured.plusMinus,
      simulated,
      difference,
    ]),
  );
}

/** A fit as plain JSON, without its curves. A number that is not finite becomes null. */
export function fitJson(fit: Fit) {
  const { answer, channels, values, scenario, ...rest } = fit;
  return {
    ...rest,
    headline: fitHeadline(fit),
    values: values.map(({ path, ...value }) => ({ path: pathText(path), ...value })),
    channels: channels.map(({ name, unit, column, samples, every, off, zero, lag, misfit }) => {
      return { name, unit, column, samples, every, off, zero, lag, misfit };
    }),
    scenario: scenario === null ? null : { text: scenario },
    verdict: answer?.kind === "answered" ? answer.verdict : null,
  };
}
