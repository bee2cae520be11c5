import { wrap } from "../../report/text-wrap.ts";
import { capital, formatQuantity } from "../../units/index.ts";
import { counted } from "../../verdict/words.ts";
import { COST_ORDER } from "./changes.ts";
import type { Contribution, DividerPair, Edge, Nuisance, TriedChange, TripStudy } from "./types.ts";
import { between, degrees, volts } from "./words.ts";

/**
 * A study as text: the answer, the band with what it is made of, what normal service does, dividers, and, where no band exists, what opens one.
 *
 * @param width characters a line; below 60 counts as 60
 */
export function renderTrip(study: TripStudy, width = 80): string {
  const room = Math.max(60, width);
  const { title, headline, reasons, protector, threshold, settings, rules, noFault } = study;
  const about = `${protector}; ${threshold}${settings.threshold.startsWith("zener") ? "" : `, resistors of ${settings.resistors}`}; ${degrees(settings.coldest)} to ${degrees(settings.hottest)}.`;
  const parts = [
    wrap(title === "" ? "Where to set the trip" : `Where to set the trip: ${title}`, room),
    wrap(headline, room),
    bullets("Why there is none", reasons, room),
    changesText(study, room),
    wrap(capital(about), room),
    bandText(study, room),
    edgeText("Lower edge: normal service", study.bottom, room),
    edgeText(
      rules === "fast"
        ? "Upper edge: the line's fault"
        : "Upper edge: a voltage that creeps up and stays below the trip point",
      study.top,
      room,
    ),
    otherEdge(study, room),
    noFault === null ? "" : wrap(`Note: ${noFault}.`, room),
    nuisanceText(study, room),
    dropsText(study, room),
    dividersText(study, room),
    landingsText(study),
    verifiedText(study, room),
    bullets("Be careful", study.cautions, room),
  ];
  return `${parts.filter((part) => part !== "").join("\n\n")}\n`;
}

function bullets(title: string, lines: readonly string[], width: number): string {
  if (lines.length === 0) return "";
  return [title, ...lines.map((line) => wrap(line, width, "  - ", "    "))].join("\n");
}

interface Column {
  readonly cells: readonly string[];
  readonly right?: boolean;
}

/** Columns side by side; the first is as wide as it needs to be. */
function table(columns: readonly Column[], indent = "  "): string[] {
  const widths = columns.map(({ cells }) => Math.max(...cells.map((cell) => cell.length)));
  return columns[0].cells.map((_, line) =>
    `${indent}${columns
      .map(({ cells, right }, column) =>
        right === true ? cells[line].padStart(widths[column]) : cells[line].padEnd(widths[column]),
      )
      .join("  ")}`.trimEnd(),
  );
}

function bandText(
  { band, bandRss, window, windowRss, trip, fits, written, settings }: TripStudy,
  width: number,
): string {
  const range = ({ low, high }: { low: number; high: number }): string =>
    low <= high ? `${low.toFixed(2)} to ${volts(high)}` : `none: ${volts(low - high)} missing`;
  const isZener = settings.threshold.startsWith("zener");
  const rows: [string, string, string][] = [
    ["", "worst case", "root-sum-square"],
    ["may trip between", range(band), range(bandRss)],
    ["nominal trip point", range(window), range(windowRss)],
    [`${volts(trip.nominal)} lands on`, range(trip), range(trip.rss)],
  ];
  const fit = fits
    ? `${volts(trip.nominal)} keeps ${formatQuantity(trip.low - band.low, "voltage")} to normal service and ${formatQuantity(band.high - trip.high, "voltage")} to the upper edge.`
    : `${volts(trip.nominal)} does not fit.`;
  const file = isZener
    ? ""
    : ` The ${volts(written.nominal)} of the line's file ${written.fits ? "fits" : "does not fit"}: ${between(written)}.`;
  return [
    "The band, at the protector",
    ...table([0, 1, 2].map((column) => ({ cells: rows.map((row) => row[column]) }))),
    wrap(`${fit}${file}`, width, "  "),
  ].join("\n");
}

function contribution({ value }: Contribution): string {
  const size = Math.abs(value);
  const text = size < 0.0995 ? `${(size * 1e3).toFixed(size < 0.00995 ? 1 : 0)} mV` : `${size.toFixed(3)} V`;
  return `${value < 0 ? "-" : "+"}${text}`;
}

function edgeText(title: string, edge: Edge, width: number): string {
  const last = { name: "together", value: edge.worst };
  const names = [...edge.rows.map(({ name }) => name), last.name];
  const values = [...edge.rows.map(contribution), `${edge.worst.toFixed(3)} V`];
  const kinds = [
    ...edge.rows.map(({ spread }) => (spread ? "varies" : "")),
    `root-sum-square ${edge.rss.toFixed(3)} V`,
  ];
  const sources = [
    ...new Set(
      edge.rows.map(({ name, source, mark }) => `${name}: ${mark === "published" ? "" : `${mark}, `}${source}`),
    ),
  ];
  return [
    title,
    ...table([{ cells: names }, { cells: values, right: true }, { cells: kinds }]),
    ...sources.map((line) => wrap(line, width, "    · ", "      ")),
  ].join("\n");
}

function otherEdge({ rules, tops }: TripStudy, width: number): string {
  const other = rules === "fast" ? tops.slow : tops.fast;
  if (other === null) return "";
  const name = rules === "fast" ? "a voltage that creeps up" : "the line's own fault";
  return wrap(`Against ${name} it might lie as high as ${volts(other.worst)}.`, width);
}

/** `0.75 V`; how long it would have to last. */
function left({ volts: room, timeLeft, node }: Nuisance): readonly [string, string] {
  if (room === null || node === null) return ["–", "–"];
  const time = timeLeft === null ? "for ever" : timeLeft > 0 ? formatQuantity(timeLeft, "time") : "TRIPS";
  return [formatQuantity(room, "voltage"), time];
}

function nuisanceText({ nuisances }: TripStudy, width: number): string {
  const cells = nuisances.map((each) => {
    const [room, time] = left(each);
    return [each.name, each.sensed === null ? "–" : volts(each.sensed), room, time];
  });
  const rows = [["", "senses", "left", "may last longer by"], ...cells];
  const remarks = nuisances.filter(({ remark }) => remark !== "").map(({ name, remark }) => `${name}: ${remark}`);
  return [
    "Normal service, against the lowest voltage at which it may trip",
    ...table([0, 1, 2, 3].map((column) => ({ cells: rows.map((row) => row[column]), right: column > 0 }))),
    ...remarks.map((line) => wrap(line, width, "    · ", "      ")),
  ].join("\n");
}

function dropsText({ drops, trip }: TripStudy, width: number): string {
  const sentences = drops.map(
    ({ state, sourceSide, loadSide }) =>
      `On ${state} ${formatQuantity(sourceSide, "voltage")} are lost before the protector and ${formatQuantity(loadSide, "voltage")} behind it: at ${volts(trip.nominal)} there the source stands at ${volts(trip.nominal + sourceSide)} and the load at ${volts(trip.nominal - loadSide)}.`,
  );
  return bullets("Measured elsewhere on the line", sentences, width);
}

function dividersText({ dividers, trip, settings }: TripStudy, width: number): string {
  if (dividers.length === 0) return "";
  const row = ({ series, upper, lower, bias, tolerance, miss, fits, fitsRss }: DividerPair): string[] => [
    series,
    formatQuantity(upper, "resistance"),
    formatQuantity(lower, "resistance"),
    formatQuantity(bias, "current"),
    `${tolerance.nominal.toFixed(3)} V`,
    `${miss < 0 ? "-" : "+"}${Math.abs(miss * 1e3).toFixed(0)} mV`,
    `${tolerance.low.toFixed(2)} to ${volts(tolerance.high)}`,
    fits ? "fits" : fitsRss ? "by RSS" : "does not",
  ];
  const rows = [["", "upper", "lower", "current", "nominal", "off by", "lands on", ""], ...dividers.map(row)];
  return [
    wrap(
      `Dividers for ${volts(trip.nominal)} at about ${formatQuantity(settings.bias, "current")}, resistors of ${settings.resistors}`,
      width,
    ),
    ...table(
      rows[0].map((_, column) => ({ cells: rows.map((cells) => cells[column]), right: column > 0 && column < 7 })),
    ),
  ].join("\n");
}

function landingsText({ landings, trip }: TripStudy): string {
  const rows = [
    ["", "lowest", "highest", "root-sum-square"],
    ...landings.map(({ temperature: at, low, high, rss }) => [degrees(at), volts(low), volts(high), between(rss)]),
  ];
  return [
    `Where ${volts(trip.nominal)} lands over temperature`,
    ...table([0, 1, 2, 3].map((column) => ({ cells: rows.map((row) => row[column]), right: column > 0 }))),
  ].join("\n");
}

function verifiedText({ verified, band, runs }: TripStudy, width: number): string {
  const { firings, fault, creep } = verified;
  const peak = (name: string, found: typeof fault): string[] =>
    found === null
      ? []
      : [
          `At ${volts(band.high)}, ${name}: ${found.load} sees ${found.peak.toFixed(3)} V at the most; its limit is ${volts(found.limit)}.`,
        ];
  const service =
    firings === null
      ? []
      : [
          `At ${volts(band.low)}, normal service (key, switch-on, plugs): ${firings === 0 ? "no trip" : counted(firings, "trip")}.`,
        ];
  return bullets(
    `Run with the trip point at the ends of the band (${runs} simulations in all)`,
    [...service, ...peak("the line's fault", fault), ...peak("a voltage that creeps up", creep)],
    width,
  );
}

const CHANGES_SHOWN = 12;

function changesText({ changes }: TripStudy, width: number): string {
  if (changes.length === 0) return "";
  const line = ({ name, about, cost }: TriedChange): string => `${capital(name)} (cost ${cost}): ${about}.`;
  const opening = changes.filter(({ opens }) => opens);
  const others = changes.filter(({ opens }) => !opens);
  return [
    bullets("What opens one, cheapest first", opening.map(line), width),
    bullets(
      opening.some(({ name }) => name.includes(" and ")) ? "What does not by itself" : "What does not",
      others.slice(0, CHANGES_SHOWN).map(line),
      width,
    ),
    wrap(
      `Costs are places in an order: ${COST_ORDER.map(({ cost, what }) => `${cost}, ${what}`).join("; ")}. Two changes together cost the sum.`,
      width,
    ),
  ]
    .filter((part) => part !== "")
    .join("\n\n");
}
