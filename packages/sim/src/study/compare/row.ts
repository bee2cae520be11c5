import type { FuseFindings, Run } from "../../model/result.ts";
import type { Answered, Refused } from "../../report/run-scenario.ts";
import { isBeyond } from "../../verdict/exit-status.ts";
import { worse } from "../../verdict/loads.ts";
import type { Finding, Judged, LoadVerdict } from "../../verdict/types.ts";
import { zeroOf } from "../../verdict/when.ts";
import { hurtParts } from "./hurt.ts";
import { idleProtectors } from "./idle.ts";
import { mendedSources } from "./mended.ts";
import { heatsUp, risksOf } from "./risks.ts";
import type { CompareEntry, CompareRow, JudgedRow, Mended, NormalService, Replaced, Return } from "./types.ts";

/**
 * What a comparison tells of one line.
 *
 * @param entry the line
 * @param answer what became of its run; null: it was not run
 * @param service of the healthy line; null where it is not known
 */
export function compareRow(
  { name, about, isBase }: Pick<CompareEntry, "name" | "about" | "isBase">,
  answer: Answered | Refused | null,
  service: NormalService | null,
): CompareRow {
  const head = { name, about, isBase };
  if (answer === null) return { ...head, kind: "no verdict", why: "It was not run." };
  if (answer.kind === "refused") {
    const why = answer.issues.filter(({ severity }) => severity === "error").map(({ message }) => message);
    return { ...head, kind: "no verdict", why: why.join(" ") };
  }
  const { run, verdict } = answer;
  if (verdict.kind !== "verdict") return { ...head, kind: "no verdict", why: verdict.headline };
  return { ...head, ...judged(run, verdict), service };
}

/** The load that a verdict's headline speaks of. */
function worstLoad(loads: readonly LoadVerdict[]): LoadVerdict {
  return loads.reduce((a, b) => {
    if (a.grade === b.grade) return b.peak.value / b.maximum > a.peak.value / a.maximum ? b : a;
    return worse(a.grade, b.grade) === a.grade ? a : b;
  });
}

function judged(run: Run, verdict: Judged): Omit<JudgedRow, "name" | "about" | "isBase" | "service"> {
  const zero = zeroOf(run.scenario);
  const load = worstLoad(verdict.loads);
  const { total, longest } = load.above;
  const replaced = hurtParts(run, verdict);
  const mended = mendedSources(run.scenario);
  const beyond = verdict.findings.filter(isBeyond);
  return {
    kind: "judged",
    grade: verdict.grade,
    safe: verdict.safe,
    tooClose: verdict.tooClose.length > 0,
    exitStatus: verdict.exitStatus,
    headline: verdict.headline,
    load: load.name,
    peak: { value: load.peak.value, after: load.peak.time - zero },
    above: { total, longest, level: load.maximum },
    fuse: fuseOf(run, zero),
    tripping: trippingOf(verdict),
    scr: scrOf(run, verdict),
    mended,
    replaced,
    steps: verdict.replace,
    comesBack: returnOf(verdict, replaced, mended),
    hazard: hazardOf(run, beyond),
    idle: idleProtectors(run, verdict),
    risks: risksOf(run, verdict),
  };
}

function hazardOf(run: Run, beyond: readonly Finding[]): JudgedRow["hazard"] {
  if (beyond.some(({ hazard }) => hazard === "fire")) return "fire";
  if (beyond.length > 0) return "beyond rating";
  return heatsUp(run) ? "heats up" : "none";
}

function fuseOf({ fuses }: Run, zero: number): JudgedRow["fuse"] {
  if (fuses.length === 0) return { state: "none", label: "", share: 0, after: null };
  const rank = (fuse: FuseFindings): number => (fuse.meltTime === null ? 1e9 - fuse.peakTheta : fuse.meltTime);
  const first = fuses.reduce((a, b) => (rank(b) < rank(a) ? b : a));
  const { state, label, peakTheta, meltTime, openTime } = first;
  const time = openTime ?? meltTime;
  return {
    state: meltTime === null ? "intact" : state === "open" ? "blown" : "arcing",
    label,
    share: Math.min(1, peakTheta),
    after: time === null ? null : time - zero,
  };
}

function trippingOf({ tripping }: Judged): JudgedRow["tripping"] {
  if (tripping.length === 0) return null;
  const { count, period, ended } = tripping.reduce((a, b) => (b.count > a.count ? b : a));
  return { count, period, goesOn: !ended };
}

function scrOf({ scenario, crowbar }: Run, { findings }: Judged): JudgedRow["scr"] {
  const spec = scenario.crowbar;
  if (spec === null || crowbar === null || crowbar.firings.length === 0) return null;
  const own = findings.filter(({ subject }) => subject === "crowbar");
  const { failedShort } = crowbar;
  return {
    // What a part that has failed goes on reaching in the model says nothing.
    peak: failedShort ? spec.failTemperature : crowbar.peakTemperature.value,
    limit: spec.ratings.junctionTemperature,
    failedShort,
    state: failedShort
      ? "failed short"
      : own.some(isBeyond)
        ? "unknown"
        : own.some(({ severity }) => severity === "used up")
          ? "used up"
          : "ok",
  };
}

function returnOf({ loads, grade }: Judged, replaced: readonly Replaced[], mended: readonly Mended[]): Return {
  if (grade === "beyond" || replaced.some(({ step }) => step === "replace")) return "after a repair";
  const ways = loads.map(({ starved }) => starved?.comesBack ?? null);
  const waits = ways.some((way) => way !== null && way !== "came back");
  // A reset onto a source that is still broken only makes the protector act once more.
  if (waits && mended.length > 0) return "after a repair";
  if (ways.includes("by hand")) return "after a reset";
  if (ways.includes("not told")) return "not told";
  return ways.every((way) => way === null) ? "never off" : "alone";
}
