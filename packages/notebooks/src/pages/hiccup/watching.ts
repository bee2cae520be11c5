import type { Change } from "../../kept/state.ts";
import { textForRun } from "../../line/for-run.ts";
import type { LineNow } from "../../line/line.ts";
import type { Answer, RunRequest } from "../../run/protocol.ts";
import type { Found, Task } from "./background.ts";
import { barsOf } from "./bars.ts";
import type { Outcome } from "./outcome-types.ts";
import { blows } from "./outcome-types.ts";
import type { Return } from "./return.ts";
import { calmHiccup, limited, limitStyles, watched, watchedInFull } from "./styles.ts";
import { small, time } from "./words.ts";

/** Rows of waveforms kept and handed over: enough for the current at an instant, nothing is drawn from them. */
const KEPT = 6000;
const HANDED = 3000;

/** What a hiccup is called that came to rest and is followed on. */
const onward = (name: string): string => `${name}, followed on`;

function fullRequest(now: LineNow, changes: readonly Change[] | null): RunRequest | null {
  if (changes === null) return null;
  const { text, refused } = textForRun(now.text, changes);
  return refused.length > 0 ? null : { text, file: `${now.title}.yaml`, record: { most: KEPT }, rows: HANDED };
}

/** Each style watched for as long as it takes to tell how it ends, with a second run for a fuse that melts. */
export function fullTasks(now: LineNow): readonly Task[] {
  const hiccup = onwardTask("hiccup", () => fullRequest(now, calmHiccup(now)));
  const each = limitStyles.map(({ style }) => ({
    name: style,
    request: () => fullRequest(now, limited(now, style, watchedInFull(now, style))),
  }));
  return [...each, hiccup];
}

/** A run that came to rest with an SCR held on costs little more to be followed for long, and may tell that it does not hold out. */
export function onwardTask(name: string, request: () => RunRequest | null): Task {
  return {
    name: onward(name),
    request: (found) => {
      const before = found.get(name);
      return before?.kind === "answer" && restsHeldOn(before.answer) ? request() : null;
    },
  };
}

function restsHeldOn({ run }: Answer): boolean {
  const { faultTime, endTime } = run.scenario;
  const late = run.events.some(({ time }) => time > (faultTime + endTime) / 2);
  return !late && barsOf(run).some(({ found }) => found.conductingAtEnd && !found.failedShort);
}

/** The last that was found of a run, or of the same followed on; undefined: not yet known. */
export function lastFound(found: ReadonlyMap<string, Found>, name: string): Found | undefined {
  const first = found.get(name);
  const on = found.get(onward(name));
  if (first?.kind !== "answer" || !restsHeldOn(first.answer)) return first;
  return on === undefined || on.kind === "answer" ? on : first;
}

/** Whether a first picture of a style leaves open how it ends. */
function leavesOpen(now: LineNow, style: string, { ending }: Outcome): boolean {
  return ending !== "shorted" && watched(now, style) < watchedInFull(now, style);
}

/** How a style is told while it is still being watched: what was seen so far, and no last word. */
export function soFar(now: LineNow, style: string, outcome: Outcome): Outcome {
  const { ending, sentence, seen = sentence } = outcome;
  if (ending === "unknown") return outcome;
  if (blows(outcome))
    return ending === "fuse bursts"
      ? outcome
      : { ...outcome, ending: "watched", sentence: `${sentence} Whether it is able to break that is being looked at.` };
  if (!leavesOpen(now, style, outcome)) return outcome;
  const { later: _, ...rest } = outcome;
  const span = time(watched(now, style));
  return {
    ...rest,
    ending: "watched",
    tag: "Still watching",
    brief: "",
    sentence: `In the first ${span}: ${small(seen)}`,
  };
}

/** Whether a radio comes back is told with the last word only. */
export const backSoFar = (outcome: Outcome, back: Return): Return =>
  outcome.ending === "watched" && outcome.tag === "Still watching"
    ? { alone: null, tag: "Still watching", sentence: "What becomes of it is still being watched." }
    : back;
