import type { Answered } from "../../report/run-scenario.ts";
import { stateRows } from "../../report/state-rows.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { stillThrough } from "../../verdict/next-use/still-flows.ts";
import type { Finding } from "../../verdict/types.ts";
import { when } from "../../verdict/when.ts";
import { capital, show, the } from "../../verdict/words.ts";
import { outcomeOf } from "./outcome.ts";
import { resetSteps } from "./reset-steps.ts";
import type { ResetSheet } from "./types.ts";

const USED: readonly Finding["severity"][] = ["used up", "beyond", "unknown"];

/**
 * What state everything is in after a fault, what was used up, and how to get back into service: find the fault first, then replace, then
 * reset, then try the protector before the radio goes back on.
 *
 * @param answered of `runScenario`
 * @returns the sheet; a run without a verdict has states and no steps, and its headline says why
 * @example
 * const result = runScenario(text, "hut.yaml");
 * if (result.kind === "answered") console.log(renderReset(resetSheet(result)));
 */
export function resetSheet(answered: Answered): ResetSheet {
  const { run, verdict, scenario } = answered;
  const end = run.scenario.endTime;
  const batteries = scenario.sources.filter(({ kind }) => kind === "battery").map(({ name }) => the(name));
  const pauses = run.sources.filter(({ stateAtEnd }) => stateAtEnd === "off").map(({ name }) => name);
  const common = {
    title: verdict.title === "" ? "A 12 V line" : verdict.title,
    headline: outcomeOf(answered),
    at: when(run.scenario, end),
    states: [
      ...stateRows(run).flatMap(({ label, spans }) => {
        const last = spans[spans.length - 1];
        if (last === undefined) return [];
        // A limiter's off time is no switched-off supply.
        return pauses.includes(label) && last.tag === "off"
          ? [{ part: label, state: "pauses, comes back by itself", tone: "alarm" as const }]
          : [{ part: label, state: last.tag, tone: last.tone }];
      }),
      ...batteries.map((part) => ({
        part: part.replace(/^the /, ""),
        state: "live, cannot be switched off",
        tone: "alarm" as const,
      })),
    ],
    cautions: CAUTIONS,
  };
  if (verdict.kind !== "verdict") return { ...common, goesOn: [], steps: [verdict.remedy], usedUp: [] };
  const done = resetSteps(answered);
  return {
    ...common,
    goesOn: [...stillThrough(run), ...verdict.pending.map(({ sentence }) => sentence)],
    steps: done.length === 0 ? ["Nothing tripped and nothing was hurt: there is nothing to reset."] : done,
    usedUp: [
      ...run.fuses
        .filter(({ meltTime }) => meltTime !== null)
        .map(({ label, letThroughI2t, subject }) => {
          const where = subject.part === "main fuse" ? "Main fuse" : `In-line fuse of ${the(subject.owner)}`;
          const through = letThroughI2t === null ? "" : `, ${show(letThroughI2t, "I2t")} through it`;
          return `${where}, ${label}: melted${through}.`;
        }),
      ...new Set(verdict.pending.flatMap(({ endedBy }) => (endedBy === null ? [] : [aboutToMelt(endedBy)]))),
      ...verdict.findings.filter(({ severity }) => USED.includes(severity)).map(({ sentence }) => capital(sentence)),
      ...verdict.loads.filter(({ grade }) => grade !== "inside").map(({ sentence }) => capital(sentence)),
    ],
  };
}

/** The run ends before it, but whoever comes with this sheet comes later. */
const aboutToMelt = (fuse: string): string =>
  `${capital(the(fuse))} is about to melt when the run ends: expect to find it open, and have another one at hand.`;
