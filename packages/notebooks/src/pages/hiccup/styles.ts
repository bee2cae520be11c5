import type { CurrentLimit, Scenario } from "@railfault/sim";
import type { Change } from "../../kept/state.ts";
import type { LineNow } from "../../line/line.ts";
import type { Scheme } from "../../line/runs.ts";
import { amperes, faultTakes, type LimitValues, limitValues, roundOf, seconds, variedSupply } from "./supply.ts";

/** A way of a supply to behave at its limit. */
export interface LimitStyle {
  readonly style: CurrentLimit["style"];
  readonly label: string;
  /** What it does, for a reader who has never heard of it. */
  readonly does: string;
  /** The limit as a scenario file writes it. */
  readonly written: (values: LimitValues) => string;
}

export const limitStyles: readonly LimitStyle[] = [
  {
    style: "constant current",
    label: "Constant current",
    does: "holds its limit, however low the voltage falls",
    written: ({ current }) => `{style: constant current, current: ${amperes(current)}}`,
  },
  {
    style: "foldback",
    label: "Foldback",
    does: "gives less, the lower the voltage falls",
    written: ({ current, shortCircuitCurrent }) =>
      `{style: foldback, current: ${amperes(current)}, short circuit current: ${amperes(shortCircuitCurrent)}}`,
  },
  {
    style: "hiccup",
    label: "Hiccup",
    does: "stops, waits, and tries again",
    written: (limit) =>
      `{style: hiccup, current: ${amperes(limit.current)}, detection time: ${seconds(limit.detectionTime)}, off time: ${seconds(limit.offTime)}, ramp time: ${seconds(limit.rampTime)}}`,
  },
  {
    style: "latch off",
    label: "Latch-off",
    does: "stops, and stays off until switched off and on",
    written: ({ current, detectionTime }) =>
      `{style: latch off, current: ${amperes(current)}, detection time: ${seconds(detectionTime)}}`,
  },
  { style: "none", label: "No limit", does: "gives whatever its resistance lets through", written: () => "none" },
];

/** Spans of time after the fault that the pictures may show, s. */
export const spans: Readonly<Record<string, number>> = { "100 ms": 0.1, "1 s": 1, "10 s": 10 };

/** The span in view; what an address wishes and the page does not know is a second. */
export function spanOf({ state }: LineNow): number {
  return spans[state.view.span ?? ""] ?? 1;
}

const HOUR = 3600;
/** So many rounds give a first picture of how the tripping goes on. */
const ROUNDS_DRAWN = 4;
/** What is told of a hiccup rests on so long a time, s, and on so many rounds at least. */
const FOLLOWED = 10;
const ROUNDS = 8;
/** Of a file that runs for longer than this beyond its fault, s, the rest of the rounds is left to the estimate: each costs as much as the one before. */
const OWN = 60;

/**
 * The line with its supply limiting in another style, watched for `time` after the fault.
 *
 * @returns null where no supply could be varied
 */
export function limited(now: LineNow, style: string, time: number): readonly Change[] | null {
  const varied = variedSupply(now);
  const form = limitStyles.find((each) => each.style === style);
  const { scenario } = now.parsed;
  if (varied === null || form === undefined || scenario === null) return null;
  return [
    [["sources", varied.index, "limit"], form.written(limitValues(varied.supply))],
    [["run for"], seconds(scenario.faultTime + time)],
  ];
}

/** Whether a line never comes to rest, whatever its supply does at its limit. */
function restless({ parsed: { scenario } }: LineNow): boolean {
  if (scenario === null) return false;
  const ripples = scenario.sources.some((source) => source.kind === "supply" && source.reservoir?.ripple === true);
  return ripples || (scenario.seriesSwitch?.reclose ?? null) !== null;
}

/** What a file plans lies inside its run: s after the fault. */
function planned(scenario: Scenario): number {
  const { sources, loads, faultTime } = scenario;
  const times = [
    ...[...sources, ...loads].flatMap(({ lead }) => lead.contact?.operations.map(({ time }) => time) ?? []),
    ...loads.flatMap(({ schedule }) => schedule.map(({ time }) => time)),
    ...sources.flatMap((source) => (source.kind === "supply" ? [source.switchOn.time + source.switchOn.rampTime] : [])),
  ];
  return Math.max(0, ...times.map((time) => time - faultTime));
}

/**
 * How long a line with a hiccup supply is followed before anything is told of it for good, s after the fault: as long as its own file
 * runs (to a minute beyond the fault), ten seconds and eight rounds at least.
 *
 * @param changed values of the supply's limit that are not the line's own
 */
export function followed(now: LineNow, changed: Partial<LimitValues> = {}): number {
  const { scenario } = now.parsed;
  const varied = variedSupply(now);
  if (scenario === null) return FOLLOWED;
  const begins = Math.max(planned(scenario), varied === null ? 0 : faultTakes(varied.supply));
  const rounds = varied === null ? 0 : ROUNDS * roundOf({ ...limitValues(varied.supply), ...changed });
  const own = Math.min(scenario.endTime - scenario.faultTime, begins + OWN);
  return Math.max(begins + FOLLOWED, begins + rounds, own);
}

/** How long a style must be watched before anything is told of it for good, s after the fault. */
export function watchedInFull(now: LineNow, style: string): number {
  return style === "hiccup" || restless(now) ? followed(now) : calmly(now);
}

/** An hour, and longer where the file is or its fault takes longer: that costs no more than a second once all is quiet. */
function calmly(now: LineNow): number {
  const { scenario } = now.parsed;
  return Math.max(HOUR, followed(now), scenario === null ? 0 : scenario.endTime - scenario.faultTime);
}

/**
 * How long a style is watched for the first picture of it, s after the fault: in full where that is quick. A supply that tries again and
 * again is watched for as long as it is drawn, and for some rounds at least.
 */
export function watched(now: LineNow, style: string): number {
  const { scenario } = now.parsed;
  if (style !== "hiccup" && !restless(now)) return calmly(now);
  const varied = variedSupply(now);
  if (varied === null || scenario === null) return spanOf(now);
  const { supply } = varied;
  const begins = Math.max(faultTakes(supply), planned(scenario));
  return Math.max(spanOf(now), begins + ROUNDS_DRAWN * roundOf(limitValues(supply)));
}

/** The line with a hiccup that has come to rest, watched for an hour: what is held on may not hold out. */
export const calmHiccup = (now: LineNow): readonly Change[] | null => limited(now, "hiccup", calmly(now));

// Threads take the runs in turns: the longest stands so that it shares its thread with the fewest.
const inTurns = ["constant current", "hiccup", "foldback", "latch off", "none"];

/** The page's runs: the same line, the same fault, five styles. */
export const limitSchemes: readonly Scheme[] = limitStyles
  .toSorted((a, b) => inTurns.indexOf(a.style) - inTurns.indexOf(b.style))
  .map(({ style, label }) => ({
    name: style,
    label,
    // A text with errors goes to the run as it is, which tells them.
    changes: (now) => (now.parsed.scenario === null ? [] : limited(now, style, watched(now, style))),
    // Nothing here asks what a melted fuse might have had to break.
    options: () => ({ secondRun: false }),
  }));
