import fc from "fast-check";
import type { EventKind, Run, Subject } from "../../../packages/sim/src/model/result.ts";
import { type RunOptions, simulate } from "../../../packages/sim/src/model/run.ts";
import type { Fuse, Scenario } from "../../../packages/sim/src/scenario/types.ts";
import { type CloseCalls, DECIDES, difference, otherStory, storyOf, USUAL } from "./alike.ts";
import { later, resting, scaled, split, wholeOf } from "./scaled.ts";

/** What a property says of a line, `share` being a number of 0…1 to go with it. */
export type Pair = (scenario: Scenario, share: number, closeCalls: CloseCalls) => string[];

/** Impedances from a third to three times as large, currents by as much smaller: the same voltages. */
export const scaledAlike: Pair = (scenario, share, closeCalls) =>
  otherStory({ scenario }, { scenario: scaled(scenario, 3 ** (2 * share - 1)) }, closeCalls);

/** Each load as two or three equal ones: the same line. */
export const splitAlike: Pair = (scenario, share, closeCalls) =>
  otherStory({ scenario }, { scenario: split(scenario, share < 0.7 ? 2 : 3), rename: wholeOf }, closeCalls);

/** A line at rest meets everything later: the same story, later. */
export const laterAlike: Pair = (scenario, share, closeCalls) => {
  const rest = resting(scenario);
  fc.pre(rest.sources.length > 0);
  const begin = 0.3 * share;
  return otherStory({ scenario: rest }, { scenario: later(rest, begin), begin }, closeCalls);
};

/** A crowbar with a lower trip point, or with a shorter turn-on delay, does not fire later the first time. */
export const firesNoLater: Pair = (scenario, share, closeCalls) => {
  const { crowbar } = scenario;
  fc.pre(crowbar !== null);
  const quicker =
    share < 0.5
      ? { ...crowbar, tripVoltage: crowbar.tripVoltage - 0.8 * share }
      : { ...crowbar, gateDelay: crowbar.gateDelay * (2 * share - 1) };
  const first = (line: Scenario, options: RunOptions) =>
    timeOf(run(line, options), "fires", { part: "crowbar", owner: "" });
  return noLater(
    (options) => [first({ ...scenario, crowbar: quicker }, options), first(scenario, options)],
    closeCalls,
  );
};

/**
 * A main fuse with a larger melting I²t does not melt earlier, where its resistance does not change on the way: by a larger minimum melting
 * current, or by a larger time constant of its one stage.
 */
export const meltsNoEarlier: Pair = (scenario, share, closeCalls) => {
  fc.pre(scenario.mainFuse !== null);
  const mainFuse: Fuse = { ...scenario.mainFuse, resistanceRatio: 1 };
  const stages = [{ weight: 1, timeConstant: mainFuse.stages[0].timeConstant }];
  const factor = 1 + 2 * share;
  const [weaker, stronger] =
    share < 0.5
      ? [mainFuse, { ...mainFuse, minimumMeltingCurrent: mainFuse.minimumMeltingCurrent * factor }]
      : [
          { ...mainFuse, stages },
          { ...mainFuse, stages: stages.map((stage) => ({ ...stage, timeConstant: stage.timeConstant * factor })) },
        ];
  const melts = (fuse: Fuse, options: RunOptions) =>
    timeOf(run({ ...scenario, mainFuse: fuse }, options), "melts", { part: "main fuse", owner: "" });
  return noLater((options) => [melts(weaker, options), melts(stronger, options)], closeCalls);
};

/** Rodas5P, Rodas4 and odex tell one story of a short window into which the whole fault is pressed. */
export const methodsAlike: Pair = (scenario, share, closeCalls) => {
  const window = pressed(scenario, 2e-6 * 50 ** share);
  const complaints = (tolerance: number) => {
    const [own, older, explicit] = (["rodas5p", "rodas4", "odex"] as const).map((method) =>
      simulate(window, { record: false, leaps: false, method, tolerance, maxSteps: METHODS_WORK }),
    );
    // An explicit method crawls where a nanofarad stands behind milliohms: nothing to compare.
    fc.pre(explicit.outcome.failure === null);
    return [...differences("rodas4", older, own), ...differences("odex", explicit, own)];
  };
  if (complaints(USUAL).length === 0) return [];
  const tight = complaints(METHODS_DECIDE);
  if (tight.length === 0) closeCalls.count++;
  return tight;
};

const METHODS_WORK = 20_000;
const METHODS_DECIDE = 1e-9;

function differences(method: string, run: Run, own: Run): string[] {
  const story = difference(storyOf(run), storyOf(own));
  const found = story === null ? [] : [story];
  for (const [name, value] of Object.entries(run.atEnd)) {
    const expected = own.atEnd[name];
    if (!(Math.abs(value - expected) <= Math.max(1e-3 * Math.abs(expected), name.endsWith("_K") ? 0.1 : 0.01)))
      found.push(`${name} at the end: ${value} against ${expected}`);
  }
  return found.map((text) => `${method} against rodas5p, ${text}`);
}

/** Everything that happens to a line, in a run of this length. */
function pressed(scenario: Scenario, endTime: number): Scenario {
  const ratio = endTime / scenario.endTime;
  const press = <T>(part: T): T =>
    (Array.isArray(part)
      ? part.map(press)
      : typeof part === "object" && part !== null
        ? Object.fromEntries(
            Object.entries(part).map(([key, value]) => [
              key,
              key === "time" || key === "faultTime" ? value * ratio : press(value),
            ]),
          )
        : part) as T;
  return { ...press(scenario), endTime };
}

function run(scenario: Scenario, options: RunOptions): Run {
  return simulate(scenario, { record: false, leaps: false, ...options });
}

function timeOf({ events }: Run, kind: EventKind, { part, owner }: Subject): number {
  const found = events.find(
    (event) => event.kind === kind && event.subject.part === part && event.subject.owner === owner,
  );
  return found?.time ?? Number.POSITIVE_INFINITY;
}

/** The first of two times is not later than the second, by the project's bar; where it seems to be, a tighter tolerance decides. */
function noLater(times: (options: RunOptions) => [number, number], closeCalls: CloseCalls): string[] {
  const late = (tolerance: number, bar: number) => {
    const [first, second] = times({ tolerance });
    return first > second + Math.max(bar * second, bar * 1e-3) ? [`${first} s, and not before ${second} s`] : [];
  };
  if (late(USUAL, 1e-3).length === 0) return [];
  const tight = late(DECIDES, 1e-6);
  if (tight.length === 0) closeCalls.count++;
  return tight;
}
