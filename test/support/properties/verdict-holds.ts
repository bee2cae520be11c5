import type { LoadFindings, Run } from "../../../packages/sim/src/model/result.ts";
import { simulate } from "../../../packages/sim/src/model/run.ts";
import { renderText } from "../../../packages/sim/src/report/text.ts";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";
import { judge } from "../../../packages/sim/src/verdict/judge.ts";
import { bySecondRun } from "../../../packages/sim/src/verdict/second-run.ts";
import type { Finding, Grade, Judged } from "../../../packages/sim/src/verdict/types.ts";

/** What no reader should ever see. */
const SPOILT = /NaN|undefined|null|Infinity|\[object|\.\.|,\.| \.\D/;
const WIDTH = 80;

/** The verdict on a line agrees with what its run found, by the rules of the physics, and says it in whole sentences. */
export function verdictHolds(scenario: Scenario, share: number): string[] {
  const run = simulate(withLimits(scenario, share), { record: false });
  const verdict = judge(run, { warnings: [], origins: [], prospective: bySecondRun(run, { record: false }) });
  if (verdict.kind !== "verdict") return run.energy.relative > 1e-6 ? [] : [verdict.headline];
  const text = renderText(verdict, { width: WIDTH });
  return [
    ...graded(verdict, run),
    ...[...verdict.findings, ...verdict.loads.flatMap(({ limits }) => limits)].flatMap((each) =>
      compared(each, scenario.ambient),
    ),
    ...spoken(verdict),
    ...text.split("\n").filter((line) => line.length > WIDTH || SPOILT.test(line)),
  ];
}

/** Loads with and without a withstand curve, parts with and without each rating. */
function withLimits(scenario: Scenario, share: number): Scenario {
  const withstand =
    share < 0.4
      ? []
      : [
          { voltage: 16, time: 0.01 + share },
          { voltage: 18, time: 10 * share ** 8 },
        ];
  const known = share > 0.2;
  return {
    ...scenario,
    crowbar: scenario.crowbar && {
      ...scenario.crowbar,
      ratings: { ...scenario.crowbar.ratings, currentRise: known ? 1e8 * share : null },
    },
    clamp: scenario.clamp && {
      ...scenario.clamp,
      ratings: { ...scenario.clamp.ratings, peakCurrent: known ? 70 * share : null, temperature: known ? 150 : null },
    },
    loads: scenario.loads.map((load) => ({ ...load, limits: { ...load.limits, withstand } })),
  };
}

/** By the physics: inside while never above the maximum; above it within what it stands; beyond it. */
function gradeOf({ peak, withstand }: LoadFindings, maximum: number): Grade {
  if (peak.value <= maximum) return "inside";
  return withstand.length > 0 && withstand.every(({ longest, allowed }) => longest <= allowed) ? "withstood" : "beyond";
}

const ORDER: readonly Grade[] = ["inside", "withstood", "beyond"];

const AT_LOADS = new Set(["set voltage moving", "voltage rising with charge", "above its maximum"]);

function graded(verdict: Judged, run: Run): string[] {
  const wrong: string[] = [];
  const expected = run.loads.map((found, k) => gradeOf(found, run.scenario.loads[k].limits.maximum));
  verdict.loads.forEach(({ name, grade, safe }, k) => {
    if (grade !== expected[k]) wrong.push(`${name} is graded ${grade} and is ${expected[k]}`);
    if (safe !== (expected[k] === "inside")) wrong.push(`${name}: safe is ${safe}`);
  });
  const worst = ORDER[Math.max(...expected.map((grade) => ORDER.indexOf(grade)))];
  if (verdict.grade !== worst) wrong.push(`the line is graded ${verdict.grade} and is ${worst}`);
  if (verdict.safe !== (worst === "inside")) wrong.push(`the line: safe is ${verdict.safe}`);
  const beyond = verdict.findings.some(({ severity }) => severity === "beyond" || severity === "unknown");
  const coming = verdict.pending.filter(({ passesRating }) => passesRating);
  const endangered = !verdict.safe || verdict.tooClose.length > 0 || coming.some(({ kind }) => AT_LOADS.has(kind));
  const status = endangered ? 1 : beyond || coming.length > 0 ? 4 : 0;
  if (verdict.exitStatus !== status) wrong.push(`the command ends with ${verdict.exitStatus} and not ${status}`);
  return wrong;
}

/** A margin is rating over found, of temperatures as rises; who keeps his rating is not told to have passed it. */
function compared(
  { subject, quantity, dimension, rating, found, headroom, severity }: Finding,
  ambient: number,
): string[] {
  const what = `${subject}, ${quantity}`;
  if (!Number.isFinite(found)) return [`${what}: ${found} found`];
  if (rating === null) return headroom === null ? [] : [`${what}: a margin of ${headroom} to no rating`];
  const wrong: string[] = [];
  const base = dimension === "temperature" ? ambient : 0;
  if (headroom !== null && Math.abs(headroom * (found - base) - (rating - base)) > 1e-9 * Math.abs(rating))
    wrong.push(`${what}: margin ${headroom} of ${rating} over ${found}`);
  if (headroom === null && found - base > 1e-300) wrong.push(`${what}: no margin of ${rating} over ${found}`);
  if (severity === "ok" && found > rating) wrong.push(`${what}: ${found} is said to keep ${rating}`);
  if (severity === "not rated") wrong.push(`${what}: ${rating} is said to be no rating`);
  return wrong;
}

function spoken(verdict: Judged): string[] {
  const sentences = [
    verdict.headline,
    ...verdict.done,
    ...verdict.reasons.map(({ sentence }) => sentence),
    ...verdict.findings.map(({ sentence }) => sentence),
    ...verdict.loads.flatMap(({ sentence, starved }) => [sentence, ...(starved === null ? [] : [starved.sentence])]),
    ...verdict.pending.map(({ sentence }) => sentence),
    ...verdict.tooClose.map(({ sentence }) => sentence),
    ...verdict.tripping.flatMap(({ sentence, longRun, fatigue }) => [
      sentence,
      ...longRun,
      ...fatigue.map((each) => each.sentence),
    ]),
    ...verdict.notes,
    ...verdict.replace,
  ];
  return sentences.filter((text) => SPOILT.test(text) || / {2}/.test(text) || !/^\P{Ll}.*[.:]$/u.test(text));
}
