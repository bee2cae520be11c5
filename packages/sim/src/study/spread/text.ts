import { wrap } from "../../report/text-wrap.ts";
import { formatQuantity } from "../../units/index.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { counted } from "../../verdict/words.ts";
import { BREAKING_UNKNOWN, isEndangered } from "../pool/outcome.ts";
import type { Chance } from "./statistics.ts";
import type { Distribution, Told, TolerancesSummary } from "./summary.ts";

/**
 * A study of tolerances as text: the chance first, then how figures are distributed, what matters, corners and the worst.
 *
 * @param width characters a line; below 60 counts as 60
 */
export function renderTolerances(summary: TolerancesSummary, width = 80): string {
  const room = Math.max(60, width);
  const { title, peak, trip, samples, nominal } = summary;
  const at = [
    nominal.peak === null ? "" : `, peak ${volts(nominal.peak)}`,
    nominal.trip === null ? "" : `, trip after ${time(nominal.trip)}`,
  ].join("");
  const parts = [
    wrap(`How sure is it: ${title}`, room),
    wrap(headline(summary), room),
    wrap(`With its nominal values: ${nominal.outcome}${at}.`, room),
    outcomes(summary),
    [
      `Distribution over ${counted(samples, "sample")} (quantiles)`,
      ...table([
        ["", "least", ...QUANTILES.map((each) => `${each * 100} %`), "most", "samples"],
        ...(peak === null ? [] : [["peak at the load", ...distribution(peak, volts)]]),
        ...(trip === null ? [] : [["time to the trip", ...distribution(trip, time)]]),
      ]),
    ].join("\n"),
    influences(summary, room),
    corners(summary, room),
    summary.worst === null ? "" : told("Worst sample", summary.worst, room),
    broken(summary, room),
    wrap(
      `${BREAKING_UNKNOWN} The samples are a model's, and so are the spreads: values vary independently of each other, as they were written; batches of parts, ageing and wrong assembly are not in them.`,
      room,
      "Note: ",
      "      ",
    ),
    ["Be careful", ...CAUTIONS.map((line) => wrap(line, room, "  - ", "    "))].join("\n"),
  ];
  return `${parts.filter((part) => part !== "").join("\n\n")}\n`;
}

const QUANTILES = [0.01, 0.05, 0.5, 0.95, 0.99];
const volts = (value: number): string => formatQuantity(value, "voltage", { digits: 4 });
const time = (value: number): string => formatQuantity(value, "time");

/** A share as people read it, with digits enough for small ones. */
function percent(share: number): string {
  const value = 100 * share;
  return `${Number(value.toPrecision(value > 99 ? 4 : 2))} %`;
}

const interval = ({ low, high }: Chance): string => `between ${percent(low)} and ${percent(high)} at 95 % confidence`;

/** The answer in a sentence. */
export function headline({ endangered, beyond, samples, close, corners }: TolerancesSummary): string {
  if (endangered === null) return `No answer: none of the ${counted(samples, "sample")} gave a verdict.`;
  const { count, of } = endangered;
  const much = beyond === null || beyond.count === 0 ? "" : ` (${beyond.count} of them beyond what it stands)`;
  const answer =
    count === 0
      ? `No load came above its maximum in any of ${counted(of, "sample")}: the chance of it is below ${percent(endangered.high)} at 95 % confidence.`
      : `A load came above its maximum in ${count} of ${counted(of, "sample")}${much}: a chance of ${percent(endangered.share)}, ${interval(endangered)}.`;
  const near = close === 0 ? "" : ` ${close} of all ${samples} ${close === 1 ? "was" : "were"} too close to call.`;
  // Without values at their ends the one corner is the nominal run.
  const bad = corners.labels.length > 0 && corners.worst !== null && isEndangered(corners.worst.outcome);
  const corner = bad && count === 0 ? " At a corner of the values one does, all the same." : "";
  const untold = samples - of > 0 ? ` ${samples - of} gave no verdict, see below.` : "";
  return `${answer}${corner}${near}${untold}`;
}

function outcomes({ outcomes: found }: TolerancesSummary): string {
  const rows = found.map(({ outcome, chance }) => [
    outcome,
    String(chance.count),
    percent(chance.share),
    `${percent(chance.low)} to ${percent(chance.high)}`,
  ]);
  return ["How it ended", ...table([["", "samples", "share", "95 % interval (Wilson)"], ...rows])].join("\n");
}

function distribution({ least, most, quantiles, count }: Distribution, show: (value: number) => string): string[] {
  const shown = quantiles.filter(({ probability }) => QUANTILES.includes(probability));
  return [show(least), ...shown.map(({ value }) => show(value)), show(most), String(count)];
}

const signed = (value: number | null): string =>
  value === null ? "–" : `${value < 0 ? "−" : "+"}${Math.abs(value).toFixed(2)}`;

function influences({ influences: found, noise, tripNoise }: TolerancesSummary, room: number): string {
  const rows = found.map((each) => [
    each.label,
    each.written,
    marked(each.withPeak, noise),
    marked(each.withTrip, tripNoise ?? 0),
    each.alone.map(({ text, peak }) => `${legible(text)}: ${peak === null ? "–" : volts(peak)}`).join(", "),
  ]);
  const chance =
    tripNoise === null || tripNoise.toFixed(2) === noise.toFixed(2)
      ? noise.toFixed(2)
      : `${noise.toFixed(2)} (peak) or ${tripNoise.toFixed(2)} (trip time)`;
  return [
    "Which values matter",
    ...table([["", "spread", "with peak", "with trip time", "alone at its ends: peak"], ...rows], 1),
    wrap(
      `Rank correlation after Spearman with the load's peak over its maximum and with the time to the trip: +1 rises with it, −1 falls with it. Nearer to 0 than ${chance} (marked ?) it may be chance.`,
      room,
      "  ",
    ),
  ].join("\n");
}

/** A value as it stands in a file, in no more figures than a person compares, and with the signs of print; a file says it exactly. */
function legible(text: string): string {
  const [number] = text.split(" ", 1);
  const unit = text.slice(number.length);
  const figures = Number(Number(number).toPrecision(4));
  return `${String(figures).replace(/^-/, "−")}${unit.replace(/ohm\b/, "Ω").replace(/\bu(?=[sFHVA])/, "µ")}`;
}

const marked = (value: number | null, noise: number): string =>
  `${signed(value)}${value !== null && Math.abs(value) < noise ? " ?" : ""}`;

function corners({ corners: found, influences: { length: spreads } }: TolerancesSummary, room: number): string {
  if (found.labels.length === 0) return "";
  const ends = found.outcomes.map(({ outcome, count }) => `${count} × ${outcome}`).join(", ");
  const line = wrap(`All ${found.count} corners of ${found.labels.join("; ")}: ${ends}.`, room);
  const worst = found.worst === null ? [] : [told("Worst corner", found.worst, room)];
  return [line, ...worst, ...(found.passed ? [wrap(passed(found.labels.length === spreads), room)] : [])].join("\n");
}

/** Corners are no bound for what lies between them, nor for what stays nominal at them. */
function passed(everyValue: boolean): string {
  const why = everyValue
    ? "what is worst here lies between the ends of the values."
    : "values that stay nominal at the corners, or values between their ends, have their part in it. --corners takes in more values.";
  return `The worst sample is worse than every corner: ${why}`;
}

function told(what: string, { index, outcome, peak, trip, values }: Told, room: number): string {
  const figures = [
    ...(peak === null ? [] : [`peak ${volts(peak)}`]),
    ...(trip === null ? ["no trip"] : [`trip after ${time(trip)}`]),
  ];
  const all = values.map(({ label, text }) => `${label} ${legible(text)}`).join("; ");
  return `${wrap(`${what} (number ${index}): ${outcome}, ${figures.join(", ")}.`, room)}\n${wrap(`${all}.`, room, "  ")}`;
}

function broken({ broken: found }: TolerancesSummary, room: number): string {
  if (found.length === 0) return "";
  const lines = found.slice(0, 5).map(({ of, index, kind, message }) => `${of} ${index}, ${kind}: ${message}`);
  const more = found.length > lines.length ? [`and ${found.length - lines.length} more, in the JSON`] : [];
  return [
    found.some(({ of }) => of === "sample")
      ? "Without a verdict; --at INDEX writes each sample as a scenario"
      : "Without a verdict",
    ...[...lines, ...more].map((line) => wrap(line, room, "  - ", "    ")),
  ].join("\n");
}

/** Columns side by side: the first ones to the left, numbers to the right. */
function table(rows: readonly (readonly string[])[], alsoLeft = 0): string[] {
  const widths = rows[0].map((_, column) => Math.max(...rows.map((row) => [...row[column]].length)));
  return rows.map((row) =>
    `  ${row
      .map((each, column) => {
        const left = column <= alsoLeft || (alsoLeft > 0 && column === row.length - 1);
        const gap = " ".repeat(widths[column] - [...each].length);
        return left ? each + gap : gap + each;
      })
      .join("  ")}`.trimEnd(),
  );
}
