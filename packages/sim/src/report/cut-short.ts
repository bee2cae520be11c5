import type { Issue } from "../issue/issue.ts";
import type { Scenario } from "../scenario/types.ts";
import { formatQuantity } from "../units/index.ts";

/** A run cut before its fault would call every radio safe: the earliest time at which a run may end is later than this, s. */
export function nothingBefore({ faultTime, start }: Scenario): number {
  return start === "dead" ? 0 : faultTime;
}

/** What is said of a run that is to end at `until`, s: a refusal where no verdict could follow from it, a warning where it is only cut. */
export function untilProblems(
  scenario: Scenario,
  until: number | null,
): { readonly refusal: Issue | null; readonly warnings: readonly Issue[] } {
  if (until === null || until === scenario.endTime) return { refusal: null, warnings: [] };
  if (!(until > scenario.endTime) && until > nothingBefore(scenario))
    return { refusal: null, warnings: [cutShort(scenario, until, "cut")] };
  const late = until > scenario.endTime;
  const message = late
    ? "The run was to go on for longer than the scenario does."
    : "The run was to end before anything happens: no verdict could follow from it.";
  const hint = late ? "raise `run for` in the file" : "choose a later end";
  return { refusal: issue(scenario, until, "error", "until-out-of-range", message, hint), warnings: [] };
}

/** The warning of a run that ended at a time, s, before its scenario does. */
export function cutShort(scenario: Scenario, at: number, how: "cut" | "stopped"): Issue {
  const message = `This run was ${how} at ${time(at)}; the scenario goes on until ${time(scenario.endTime)}, and what happens then is not judged.`;
  return issue(scenario, at, "warning", "cut-short", message, "run it to its end before relying on it");
}

function issue(
  scenario: Scenario,
  received: number,
  severity: Issue["severity"],
  code: string,
  message: string,
  hint: string,
): Issue {
  return {
    severity,
    code,
    path: "",
    message,
    received: time(received),
    allowed: `later than ${time(nothingBefore(scenario))}, at most ${time(scenario.endTime)}`,
    hint,
    position: null,
  };
}

const time = (seconds: number): string => formatQuantity(seconds, "time");
