import type { Run, RunEvent, Subject } from "../model/result.ts";
import type { Scenario } from "../scenario/types.ts";
import { detailsOf } from "./event-details.ts";
import { meaningOf } from "./event-meaning.ts";
import type { Reason } from "./types.ts";
import { hasFault } from "./when.ts";
import { capital, counted, partName, the } from "./words.ts";

/** How often one kind of event of one part is told in full before repetitions are only counted. */
const TOLD = 2;

/** The chain of events in words; repetitions beyond the second are gathered into one line. */
export function reasonsOf(run: Run): readonly Reason[] {
  const seen = new Map<string, number>();
  const told = new Set<string>();
  const reasons: Reason[] = [];
  let skipped: RunEvent[] = [];
  const flush = (): void => {
    const last = skipped.at(-1);
    if (last === undefined) return;
    const kinds = [...new Set(skipped.map((event) => happening(event)))];
    const all = skipped.length === 1 ? "once more" : `${counted(skipped.length, "more event")} of the same kinds`;
    reasons.push({
      time: last.time,
      sincePrevious: last.sincePrevious,
      sentence: `And so on: ${all}, until here (${kinds.join("; ")}).`,
    });
    skipped = [];
  };
  for (const event of struck(run)) {
    const key = `${event.kind}|${event.subject.part}|${event.subject.owner}`;
    const count = (seen.get(key) ?? 0) + 1;
    seen.set(key, count);
    if (count > TOLD) {
      skipped.push(event);
      continue;
    }
    flush();
    reasons.push({
      time: event.time,
      sincePrevious: event.sincePrevious,
      sentence: sentence(event, run.scenario, told),
    });
  }
  flush();
  return reasons;
}

/** The events; where no source has a fault its instant means nothing to a reader, and the next event counts from the one before it. */
function struck({ events, scenario }: Run): readonly RunEvent[] {
  if (hasFault(scenario)) return events;
  return events.flatMap((event, index) => {
    if (event.kind === "fault") return [];
    const before = events[index - 1];
    return before?.kind === "fault"
      ? [{ ...event, sincePrevious: event.sincePrevious + before.sincePrevious }]
      : [event];
  });
}

/** What happened, why, and what it means for the line from then on, in a few sentences. */
export function explainEvent(event: RunEvent, run: Run): string {
  const told = sentence(event, run.scenario, new Set());
  const meaning = meaningOf(event, run);
  return meaning === null ? told : `${told} ${meaning}`;
}

/** Cause and numbers are told the first time only; `told` remembers that. */
function sentence(event: RunEvent, scenario: Scenario, told: Set<string>): string {
  const happens = happening(event);
  const key = `${happens}: ${event.cause}`;
  if (told.has(key)) return `${capital(happens)}.`;
  told.add(key);
  const details = detailsOf(event, scenario);
  const given = event.cause.trim().replace(/\.$/, "");
  const cause = given === happens || given === "" ? "" : `: ${given}`;
  return `${capital(happens)}${cause}${details === null ? "" : ` (${details})`}.`;
}

/** `the crowbar fires`. */
export function happening({ kind, subject }: RunEvent): string {
  const who = the(partName(subject));
  switch (kind) {
    case "fault":
      return "the fault strikes";
    case "load changes":
      return `${who} changes what it draws`;
    case "clears":
      return `${who} begins to break the current`;
    case "open":
      return `${who} is open`;
    case "limiter trips":
      return `the limiter of ${who} trips`;
    case "over-voltage shutdown":
      return `${own(subject)} shuts it down`;
    case "contact opens":
    case "contact arc ends":
    case "contact closes":
      return `the contact in the lead of ${who} ${CONTACT[kind]}`;
    case "repeats itself":
      return "the line repeats itself";
    case "switched on":
      return `${who} is switched on`;
    default:
      return `${who} ${kind}`;
  }
}

const CONTACT = { "contact opens": "opens", "contact arc ends": "ends its arc", "contact closes": "closes" } as const;

const own = (subject: Subject): string => `${the(subject.owner)}'s own OVP`;
