import type { Issue } from "../issue/issue.ts";
import type { Run } from "../model/result.ts";
import type { Origin } from "../scenario/sheet.ts";
import { energyCloses, type NoBasis, noBasis } from "./basis.ts";
import { CAUTIONS } from "./cautions.ts";
import { clampSentence, clampsOf, judgeClamp } from "./clamp.ts";
import { judgeContacts } from "./contacts.ts";
import { barSentence, barsOf, judgeBar } from "./crowbar.ts";
import { judgeTripping } from "./cycling.ts";
import { exitStatus } from "./exit-status.ts";
import { fuseSentence, judgeFuse, type Prospective } from "./fuses.ts";
import { failedSentences } from "./holding.ts";
import { judgeLead } from "./leads.ts";
import { judgeLoads, worse } from "./loads.ts";
import { nextUse } from "./next-use/next-use.ts";
import { pastFullAnswer, pastFullTimes } from "./past-full.ts";
import { pendingOf } from "./pending.ts";
import { reasonsOf } from "./reasons.ts";
import { repetitionNotes } from "./repetition.ts";
import { judgeSources, sourceNotes } from "./sources.ts";
import { judgeSwitch, switchSentence } from "./switch.ts";
import { switchAssumption } from "./switch-current.ts";
import { tooClose } from "./too-close.ts";
import type { Finding, Grade, LoadVerdict, TooClose, Verdict } from "./types.ts";
import { duration, show, the } from "./words.ts";

/** What a verdict needs beside the run. */
export interface JudgeContext {
  /** Of the scenario's validation. */
  readonly warnings: readonly Issue[];
  /** Where each value comes from; only those marked assumed are used. */
  readonly origins: readonly Origin[];
  /** Largest current of a second run with this fuse (index into `run.fuses`) unable to melt, A; null inside sweeps. */
  readonly prospective: Prospective | null;
}

/**
 * The verdict on a run: grade, damage, headroom, repeated tripping, what to do next, all as data with plain sentences.
 * A run that failed, was stopped before anything happened or whose energy does not close gives `kind: "not a verdict"` and no grade.
 *
 * @param run what the engine found out
 * @param context warnings, origins of values and the second run for a melted fuse's available short-circuit current
 *
 * @example judge(simulate(scenario, {}), { warnings, origins, prospective: null }).headline
 */
export function judge(run: Run, context: JudgeContext): Verdict {
  const { fed, residual, relative } = run.energy;
  const common = {
    title: run.scenario.title,
    energy: { fed, residual, relative, closes: energyCloses(run) },
    warnings: context.warnings,
    assumptions: context.origins
      .filter(({ mark }) => mark === "assumed")
      .map(({ path, label, value, source }) => ({ path, label, value, source })),
    cautions: CAUTIONS,
  };
  const missing = noBasis(run);
  if (missing !== null) return { ...common, ...notJudged(run, missing) };

  const pending = pendingOf(run);
  const loads = judgeLoads(run, pending);
  const findings = findingsOf(run, context.prospective);
  const close = tooClose(run, loads, findings);
  const safe = loads.every((load) => load.safe);
  const stoppedAt = run.outcome.status === "stopped" ? run.outcome.time : null;
  return {
    ...common,
    kind: "verdict",
    headline: `${upTo(stoppedAt, headline(loads, close))}${pastFullAnswer(run)}`,
    stoppedAt,
    grade: loads.reduce<Grade>((worst, { grade }) => worse(worst, grade), "inside"),
    safe,
    loads,
    done: doneOf(run),
    reasons: reasonsOf(run),
    findings,
    pending,
    notes: notesOf(run, context.warnings),
    tooClose: close,
    tripping: judgeTripping(run),
    replace: nextUse(run, loads, findings, pending),
    exitStatus: exitStatus(safe, close, findings, pending),
  };
}

function notJudged(run: Run, { reason, device, remedy }: NoBasis) {
  const where = device === null ? "" : ` (${device})`;
  return {
    kind: "not a verdict",
    headline: `No verdict: ${reason}${where}.`,
    reason,
    device,
    remedy,
    timeReached: run.outcome.time,
    exitStatus: 3,
  } as const;
}

function findingsOf(run: Run, prospective: Prospective | null): readonly Finding[] {
  const { ambient } = run.scenario;
  return [
    ...barsOf(run).flatMap((bar) => judgeBar(bar, ambient)),
    ...run.fuses.flatMap((_, index) => judgeFuse(run, index, prospective)),
    ...clampsOf(run).flatMap((clamp) => judgeClamp(clamp, ambient)),
    ...judgeSwitch(run),
    ...run.leads.flatMap((_, index) => judgeLead(run, index)),
    ...judgeContacts(run),
    ...judgeSources(run),
  ];
}

/**
 * The worst load's sentence, because it decides. A level too close to call goes before it, unless a load is beyond what it stands by a clear
 * margin: then no other side of a level makes that better.
 */
function headline(loads: readonly LoadVerdict[], close: readonly TooClose[]): string {
  const worst = loads.reduce((a, b) => {
    if (a.grade === b.grade) return nearness(b) > nearness(a) ? b : a;
    return worse(a.grade, b.grade) === a.grade ? a : b;
  });
  const several = loads.length === 1 ? "" : ` Of the ${loads.length} loads it fares worst.`;
  const answer = `${worst.sentence}${several}`;
  const first = close.find(({ subject }) => worst.grade !== "beyond" || subject === worst.name);
  return first === undefined ? answer : `Too close to call: ${first.sentence} ${answer}`;
}

/** A run that somebody stopped says nothing of what comes later. */
const upTo = (time: number | null, said: string): string =>
  time === null ? said : `Up to ${duration(time)}: ${said.replace(/^The /, "the ")}`;

const nearness = ({ peak, maximum }: LoadVerdict): number => peak.value / maximum;

function doneOf(run: Run): readonly string[] {
  const bars = barsOf(run).map((bar) => barSentence(bar, run.scenario));
  const none =
    run.crowbar === null && run.clamp === null && run.seriesSwitch === null
      ? [run.ownCrowbars.length === 0 ? "The line has no protector at all." : "The line itself has no protector."]
      : [];
  const opened = switchSentence(run);
  return [
    ...none,
    ...bars,
    ...(opened === null ? [] : [opened]),
    ...clampsOf(run).map(clampSentence),
    ...run.fuses.map((fuse) => fuseSentence(run, fuse)),
    ...pastFullTimes(run),
  ];
}

function notesOf(run: Run, warnings: readonly Issue[]): readonly string[] {
  const rest =
    run.outcome.status === "at rest"
      ? [
          `The line came to rest at ${duration(run.outcome.time)}; totals are continued to ${duration(run.scenario.endTime)}.`,
        ]
      : [];
  return [
    ...failedSentences(run),
    ...said(switchAssumption(run)),
    ...cyclePeaks(run),
    ...repetitionNotes(run),
    ...sourceNotes(run, warnings),
    ...rest,
  ];
}

const said = (...sentences: readonly (string | null)[]): readonly string[] =>
  sentences.filter((sentence) => sentence !== null);

/** What every load sees at each trip. */
function cyclePeaks(run: Run): readonly string[] {
  return run.loads.flatMap(({ name, peakPerCycle }) => {
    const last = peakPerCycle.at(-1);
    return last === undefined ? [] : [`In the last full cycle ${the(name)} saw up to ${show(last, "voltage")}.`];
  });
}
