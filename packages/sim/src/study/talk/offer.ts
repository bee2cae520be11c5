import type { RunEvent } from "../../model/result.ts";
import { type FigureName, figureOfRun, figures } from "../../report/run-figures.ts";
import type { Answered } from "../../report/run-scenario.ts";
import { nearness } from "../../verdict/finding.ts";
import { explainEvent, happening } from "../../verdict/reasons.ts";
import type { Finding, Judged } from "../../verdict/types.ts";
import { hasFault, when, zeroOf } from "../../verdict/when.ts";
import { capital, show, showApart, the } from "../../verdict/words.ts";
import { outcomeOf, WARNINGS, warningsOf } from "./outcome.ts";
import { resetSteps } from "./reset-steps.ts";
import type { Slide } from "./types.ts";

/** A slide that a scenario has to offer. */
export interface OfferedSlide {
  /** Names it among those of its scenario: `line`, `step-2`, `warnings`, `next`, `end`, or the name of a figure. */
  readonly id: string;
  /** Whether a talk shows it unless somebody leaves it out. */
  readonly usual: boolean;
  /** The slide itself. */
  readonly slide: Slide;
}

/** How many steps of one fault are told at most. */
const MOST_STEPS = 7;
/** How many warnings a slide has room for. */
const MOST_WARNINGS = 5;
/** How far the picture goes on behind the step it has come to, as a share of the time since the fault. */
const AHEAD = 0.3;
/** Of the time before the fault, as the same share. */
const BEFORE = 0.12;
/** Events whose times after the fault lie closer than this are one step. */
const TOGETHER = 1.02;
/** Of the time that a picture shows: closer than this to each other two instants are one line. */
const UNSEEN = 1e-3;
/** Before that a picture that grows from the fault on shows enough, s. */
const LATE = 1;
/** The least that a picture shows, s. */
const LEAST = 2e-6;

/** What decides, before what only follows. */
const DECISIVE: readonly RunEvent["kind"][] = [
  "fault",
  "fires",
  "starts to open",
  "open",
  "melts",
  "fails short",
  "limiter trips",
  "over-voltage shutdown",
  "contact opens",
  "contact closes",
  "drops out",
  "recloses",
];

/**
 * All slides that one scenario can give to a talk, with headlines and sentences from its verdict: those that a talk usually shows in their order,
 * then the line at the end and every other figure of the run.
 *
 * @param answered of `runScenario`, with its waveforms
 * @param part which scenario of the talk it is, counted from 0
 * @example offeredSlides(answered, 0).filter(({ usual }) => usual).map(({ slide }) => slide)
 */
export function offeredSlides(answered: Answered, part: number): readonly OfferedSlide[] {
  const { run, verdict, parsed } = answered;
  const { scenario } = run;
  const title = scenario.title === "" ? "A 12 V line" : scenario.title;
  const { question } = parsed.about;
  const start = run.trace.time[0];
  const zero = zeroOf(scenario);
  const steps = groups(told(answered), zero).map(({ anchor, events }, i, all): OfferedSlide => {
    const [event, ...others] = events;
    const { time } = events[events.length - 1];
    const headline = capital(happening(event));
    const range = rangeAt(answered, time, anchor);
    // Late in a long run a reader counts from the slide before.
    const before = all[i - 1]?.events[0].time ?? anchor;
    const at =
      event.time === zero
        ? headline
        : `${headline}, ${anchor > zero ? `${show(event.time - before, "time")} later` : when(scenario, event.time)}`;
    const then = others.length === 0 ? "" : ` Then ${others.map(happening).join(", and ")}.`;
    return {
      id: `step-${i + 1}`,
      usual: true,
      slide: {
        part,
        shows: { kind: "step", event: event.time, time: seenAt(answered, time, range[1]), range },
        headline: at,
        sentence: `${firstSentences(withoutHeadline(explainEvent(event, run), headline), 190 - then.length)}${then}`,
      },
    };
  });
  const figure = (name: FigureName, headline: string, sentence: string, usual: boolean): OfferedSlide[] =>
    "missing" in figureOfRun(name, answered)
      ? []
      : [{ id: name, usual, slide: { part, shows: { kind: "figure", name }, headline, sentence } }];
  const line = (id: string, time: number, headline: string, sentence: string): OfferedSlide => ({
    id,
    usual: id === "line",
    slide: { part, shows: { kind: "line", time }, headline, sentence },
  });
  const others = figures.filter(({ name }) => name !== "fault" && name !== "headroom");
  const end = run.trace.time[run.trace.time.length - 1];
  return [
    line("line", start, title, question === "" ? "What does the radio see, and what does each device do?" : question),
    ...steps,
    ...figure("fault", "How it came out", outcomeOf(answered), true),
    ...(verdict.kind === "verdict" ? figure("headroom", ...nearest(verdict), true) : []),
    ...words(
      { part, headline: WARNINGS, sentence: "They hold whatever this fault did." },
      "warnings",
      warningsOf(answered, MOST_WARNINGS),
    ),
    ...words(
      {
        part,
        headline: "Before the next use",
        sentence: "In this order, and no step before the one above it.",
      },
      "next",
      resetSteps(answered),
    ),
    line("end", end, "How everything stands at the end", outcomeOf(answered)),
    ...others.flatMap(({ name, question: asked }) => figure(name, asked, sentenceOf(answered, name), false)),
  ];
}

function words(slide: Pick<Slide, "part" | "headline" | "sentence">, id: string, lines: readonly string[]) {
  return lines.length === 0 ? [] : [{ id, usual: true, slide: { ...slide, shows: { kind: "words" as const, lines } } }];
}

/** What the verdict says of what a figure shows; its headline where it says nothing of that alone. */
const ABOUT: Partial<Record<FigureName, (finding: Finding) => boolean>> = {
  currents: ({ dimension }) => dimension === "current",
  "time-current": ({ subject }) => subject.includes("fuse"),
  surge: ({ subject, quantity }) => subject.includes("crowbar") && quantity.includes("RMS"),
  heat: ({ dimension }) => dimension === "temperature",
};

function sentenceOf(answered: Answered, name: FigureName): string {
  const { verdict } = answered;
  if (verdict.kind !== "verdict") return verdict.headline;
  const about = ABOUT[name];
  const found = about === undefined ? [] : verdict.findings.filter(about);
  const [least] = found.toSorted((a, b) => nearness(a) - nearness(b));
  const sentence = name === "withstand" ? verdict.loads[0]?.sentence : least?.sentence;
  return sentence === undefined ? outcomeOf(answered) : capital(sentence);
}

/** Which limit decides: asked as it came out, and answered. */
function nearest({ headline, findings, loads }: Judged): readonly [headline: string, sentence: string] {
  const limits = [...findings, ...loads.flatMap((load) => load.limits)];
  const rated = limits.flatMap(({ rating, ...limit }) =>
    rating === null || nearness(limit) === Infinity ? [] : [{ ...limit, rating }],
  );
  const passed = limits.filter(({ severity }) => severity !== "ok" && severity !== "not rated").length;
  const asked = ["Which limit came nearest?", "Which limit was passed?"][passed] ?? "Which limits were passed?";
  if (rated.length === 0) return [asked, headline];
  const [least] = rated.toSorted((a, b) => nearness(a) - nearness(b));
  const { subject, quantity, found, rating, dimension } = least;
  const [is, of] = showApart(found, rating, dimension);
  const farthest = `${the(subject)}, ${quantity}: ${is}, allowed ${of}.`;
  return [asked, passed > 1 ? `${passed} limits; farthest past its own: ${farthest}` : capital(farthest)];
}

/** The events that are told: each kind of each part once, the decisive ones first where there are too many. */
function told({ run }: Answered): readonly RunEvent[] {
  const { events, scenario } = run;
  const seen = new Set<string>();
  const first = events.filter(({ kind, subject }) => {
    const key = `${kind}|${subject.part}|${subject.owner}`;
    if (seen.has(key) || kind === "repeats itself" || (kind === "fault" && !hasFault(scenario))) return false;
    seen.add(key);
    return true;
  });
  const decisive = first.filter(({ kind }) => DECISIVE.includes(kind));
  const others = first.filter(({ kind }) => !DECISIVE.includes(kind));
  const kept = new Set([...decisive, ...others].slice(0, MOST_STEPS));
  return first.filter((event) => kept.has(event));
}

/** Events of one step, and the time from which its picture grows: that of the fault, or of what began late in a long run. */
interface Step {
  readonly anchor: number;
  readonly events: RunEvent[];
}

/**
 * What happens so soon after each other that one picture shows it all. What follows so closely on a late event that its picture could not show
 * the time between begins to grow anew from there: hours, and then milliseconds.
 */
function groups(events: readonly RunEvent[], zero: number): readonly Step[] {
  const found: Step[] = [];
  for (const event of events) {
    const last = found[found.length - 1];
    const first = last?.events[0];
    if (last === undefined || first === undefined) {
      found.push({ anchor: zero, events: [event] });
      continue;
    }
    const since = first.time - last.anchor;
    const gap = event.time - first.time;
    if (since <= 0 || gap >= (TOGETHER - 1) * since) found.push({ anchor: last.anchor, events: [event] });
    else if (since > LATE && gap > LEAST && gap < UNSEEN * since) found.push({ anchor: first.time, events: [event] });
    else last.events.push(event);
  }
  return found;
}

/**
 * When the line beside the picture is looked at: as late as the picture goes, before anything else happens. At the very instant of an event its
 * states have changed and its currents have not begun to.
 */
function seenAt({ run }: Answered, time: number, to: number): number {
  const next = run.events.find((event) => event.time > time)?.time ?? Number.POSITIVE_INFINITY;
  const row = run.trace.time.findLastIndex((each) => each <= to && each < next);
  return Math.max(time, run.trace.time[row]);
}

/** From a little before the anchor to a little after the step: the picture grows with the time. */
function rangeAt({ run }: Answered, time: number, anchor: number): readonly [number, number] {
  const trace = run.trace.time;
  const [start, end] = [trace[0], trace[trace.length - 1]];
  // The first step stands at the fault itself: it looks as far ahead as the next event.
  const next = run.events.find((event) => event.time > time)?.time ?? end;
  const since = time > anchor ? time - anchor : Math.max(LEAST, (next - anchor) * 0.9);
  const from = Math.max(start, Math.min(anchor, time) - Math.max(LEAST, since * BEFORE));
  const to = Math.min(end, Math.max(time, anchor) + Math.max(LEAST, time > anchor ? since * AHEAD : since));
  return from < to ? [from, to] : [start, end];
}

/** The headline says already what happens: what is left is why, and what it means. */
function withoutHeadline(text: string, headline: string): string {
  const rest = text
    .slice(headline.length)
    .replace(/^ \(([^)]*)\)\./, "$1.")
    .replace(/^[:.\s]+/, "");
  return rest === "" ? text : capital(rest);
}

/** As many sentences as a slide has room for. */
function firstSentences(text: string, most: number): string {
  const sentences = text.split(/(?<=[.:!?])\s+(?=[A-Z])/);
  let kept = "";
  for (const sentence of sentences) {
    if (kept !== "" && kept.length + sentence.length > most) break;
    kept = kept === "" ? sentence : `${kept} ${sentence}`;
  }
  return kept;
}
