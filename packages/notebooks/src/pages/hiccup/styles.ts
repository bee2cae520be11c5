import type { CurrentLimit } from "@railfault/sim";
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
/** So many rounds tell how the tripping goes on. */
const ROUNDS = 4;

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

/**
 * How long a style is watched after the fault, s. A supply that does not try again is watched for an hour, which costs no more than a
 * second once all is quiet; one that does as long as it is drawn, and for some rounds at least.
 */
export function watched(now: LineNow, style: string): number {
  const varied = variedSupply(now);
  const restless = now.parsed.scenario?.sources.some((source) => source.kind === "supply" && source.reservoir?.ripple);
  if (style !== "hiccup" && restless !== true) return HOUR;
  if (varied === null) return spanOf(now);
  const { supply } = varied;
  return Math.max(spanOf(now), faultTakes(supply) + ROUNDS * roundOf(limitValues(supply)));
}

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
