import type { RunEvent } from "../../model/result.ts";
import { figureOfRun } from "../../report/run-figures.ts";
import type { Answered } from "../../report/run-scenario.ts";
import { explainEvent, happening } from "../../verdict/reasons.ts";
import { hasFault, when, zeroOf } from "../../verdict/when.ts";
import { capital, showApart, the } from "../../verdict/words.ts";
import type { Slide } from "./types.ts";

/** A scenario of a talk, run. */
export interface TalkPart {
  readonly file: string;
  readonly answered: Answered;
}

/** How many steps of one fault are told at most. */
const MOST_STEPS = 7;
/** How far the picture goes on behind the step it has come to, as a share of the time since the fault. */
const AHEAD = 0.3;
/** Of the time before the fault, as the same share. */
const BEFORE = 0.12;
/** Events whose times after the fault lie closer than this are one step. */
const TOGETHER = 1.02;
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
 * A talk of one or more faults as a person would begin it: the question with the line, the fault event by event with a picture that grows from
 * microseconds to its end, how it came out, which limit came nearest, and what to do before the next use. Headlines and sentences come from
 * the verdict; every slide is plain data, to be ordered, left out and written anew.
 *
 * @param parts scenarios that were run, with their waveforms
 * @returns slides in order
 * @example talkHtml(parts, proposeTalk(parts), { document })
 */
export function proposeTalk(parts: readonly TalkPart[]): readonly Slide[] {
  return parts.flatMap(({ answered }, part) => slidesOf(answered, part));
}

function slidesOf(answered: Answered, part: number): readonly Slide[] {
  const { run, verdict, parsed } = answered;
  const { scenario } = run;
  const title = scenario.title === "" ? "A 12 V line" : scenario.title;
  const { question } = parsed.about;
  const start = run.trace.time[0];
  const steps = groups(told(answered), zeroOf(scenario)).map((group): Slide => {
    const [event, ...others] = group;
    const { time } = group[group.length - 1];
    const headline = capital(happening(event));
    const at = event.time === zeroOf(scenario) ? headline : `${headline}, ${when(scenario, event.time)}`;
    const then = others.length === 0 ? "" : ` Then ${others.map(happening).join(", and ")}.`;
    return {
      part,
      shows: { kind: "step", time, range: rangeAt(answered, time) },
      headline: at,
      sentence: `${firstSentences(withoutHeadline(explainEvent(event, run), headline), 190 - then.length)}${then}`,
    };
  });
  const figure = (name: "fault" | "headroom", headline: string, sentence: string): Slide[] =>
    "missing" in figureOfRun(name, answered) ? [] : [{ part, shows: { kind: "figure", name }, headline, sentence }];
  return [
    {
      part,
      shows: { kind: "line", time: start },
      headline: title,
      sentence: question === "" ? "What does the radio see, and what does each device do?" : question,
    },
    ...steps,
    ...figure("fault", "How it came out", verdict.headline),
    ...(verdict.kind === "verdict" ? figure("headroom", "Which limit came nearest?", nearest(answered)) : []),
    ...last(answered, part),
  ];
}

function last({ verdict }: Answered, part: number): readonly Slide[] {
  const steps = verdict.kind === "verdict" ? verdict.replace : [verdict.remedy];
  if (steps.length === 0) return [];
  const sentence = "In this order, and no step before the one above it.";
  return [{ part, shows: { kind: "words", lines: steps }, headline: "Before the next use", sentence }];
}

function nearest({ verdict }: Answered): string {
  if (verdict.kind !== "verdict") return "";
  const limits = [...verdict.findings, ...verdict.loads.flatMap((load) => load.limits)];
  const rated = limits.filter(({ headroom }) => headroom !== null);
  const least = rated.toSorted((a, b) => (a.headroom ?? 0) - (b.headroom ?? 0))[0];
  if (least === undefined || least.rating === null) return verdict.headline;
  const { subject, quantity, found, rating, dimension } = least;
  const [is, of] = showApart(found, rating, dimension);
  return `${capital(the(subject))}, ${quantity}: ${is}, allowed ${of}.`;
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

/** What happens so soon after each other that one picture shows it all. */
function groups(events: readonly RunEvent[], zero: number): readonly (readonly RunEvent[])[] {
  const found: RunEvent[][] = [];
  for (const event of events) {
    const last = found[found.length - 1];
    const first = last?.[0];
    if (first !== undefined && first.time > zero && event.time - zero < TOGETHER * (first.time - zero))
      last.push(event);
    else found.push([event]);
  }
  return found;
}

/** From a little before the fault to a little after the step: the picture grows with the time. */
function rangeAt({ run }: Answered, time: number): readonly [number, number] {
  const zero = zeroOf(run.scenario);
  const trace = run.trace.time;
  const [start, end] = [trace[0], trace[trace.length - 1]];
  // The first step stands at the fault itself: it looks as far ahead as the next event.
  const next = run.events.find((event) => event.time > time)?.time ?? end;
  const since = time > zero ? time - zero : Math.max(LEAST, (next - zero) * 0.9);
  const from = Math.max(start, Math.min(zero, time) - Math.max(LEAST, since * BEFORE));
  const to = Math.min(end, Math.max(time, zero) + Math.max(LEAST, time > zero ? since * AHEAD : since));
  return from < to ? [from, to] : [start, end];
}

/** The headline says already what happens: what is left is why, and what it means. */
function withoutHeadline(text: string, headline: string): string {
  if (!text.startsWith(headline)) return text;
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

/** A name for a slide's picture: `02-the-crowbar-fires`. */
export function slideName(slide: Slide, index: number): string {
  const words = slide.headline
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-+|-+$/g, "")
    .slice(0, 40)
    .replace(/-+[a-z0-9]*$/, "");
  return `${String(index + 1).padStart(2, "0")}-${words === "" ? "slide" : words}`;
}
