import type { FuseFindings, Run } from "../../model/result.ts";
import type { Answered, Refused } from "../../report/run-scenario.ts";
import { isBeyond } from "../../verdict/exit-status.ts";
import { holdingOf } from "../../verdict/holding.ts";
import type { Finding, Judged } from "../../verdict/types.ts";
import { zeroOf } from "../../verdict/when.ts";
import { duration, longTime, show } from "../../verdict/words.ts";
import type { FusePlace } from "./place.ts";
import { I2T_TIME } from "./surge-rules.ts";
import type { Ending, Outcome } from "./types.ts";

const NOTHING: Omit<Outcome, "id" | "reasons"> = {
  ending: "not ended",
  sound: false,
  notes: [],
  openAfter: null,
  letThroughI2t: null,
  peakLoadVoltage: Number.NaN,
  peakScrCurrent: Number.NaN,
  peakJunction: Number.NaN,
  nearest: null,
};

/**
 * What the full run of a combination showed: how the fault ended, whether fuse, SCR and wire kept inside their ratings and the loads inside
 * what they stand, and every reason against it.
 *
 * @param id of the combination
 * @param result of `runScenario`
 * @param place of the fuse
 * @example outcomeOf(combination.id, runScenario(text, "hut.yaml"), { kind: "main" }).sound
 */
export function outcomeOf(id: string, result: Answered | Refused, place: FusePlace): Outcome {
  if (result.kind === "refused") {
    const errors = result.issues.filter(({ severity }) => severity === "error");
    return { ...NOTHING, id, reasons: errors.map(({ message }) => message) };
  }
  const { run, verdict } = result;
  if (verdict.kind === "not a verdict") return { ...NOTHING, id, reasons: [verdict.headline] };
  const fuse = fuseOf(run, place);
  const ending = endingOf(run, fuse, place);
  const reasons = [...endReasons(run, ending, fuse), ...verdictReasons(run, verdict), ...withinI2t(run).reasons];
  const spec = run.scenario.crowbar;
  return {
    id,
    ending,
    sound: reasons.length === 0,
    reasons,
    notes: notesOf(run, verdict, ending),
    hazards: hazardsOf(verdict),
    openAfter: fuse?.openTime == null ? null : fuse.openTime - zeroOf(run.scenario),
    letThroughI2t: fuse?.letThroughI2t ?? null,
    peakLoadVoltage: Math.max(...run.loads.map(({ peak }) => peak.value)),
    peakScrCurrent: run.crowbar?.peakCurrent.value ?? 0,
    peakJunction: spec === null ? Number.NaN : (run.crowbar?.peakTemperature.value ?? run.scenario.ambient),
    nearest: nearestOf(verdict.findings),
  };
}

function fuseOf(run: Run, place: FusePlace): FuseFindings | null {
  const found = run.fuses.find(({ subject }) =>
    place.kind === "main"
      ? subject.part === "main fuse"
      : subject.part === "in-line fuse" && subject.owner === run.scenario.sources[place.index].name,
  );
  return found ?? null;
}

function endingOf({ crowbar, fuses, scenario }: Run, fuse: FuseFindings | null, place: FusePlace): Ending {
  if (crowbar === null || crowbar.firings.length === 0) return "not fired";
  const goesOn = place.kind === "source" && crowbar.conductingAtEnd && crowbar.cycling === null;
  if (fuse?.openTime != null && goesOn) return "held on";
  if (fuse?.openTime != null) return "fuse blown";
  // Another fuse may have ended it: that of the one source that was at fault.
  if (
    fuses.some(({ openTime, subject }) => openTime !== null && subject.part !== "main fuse") &&
    !crowbar.conductingAtEnd
  )
    return "fuse blown";
  if (crowbar.cycling !== null) return "repeated tripping";
  if (!crowbar.conductingAtEnd) return "shut off";
  const still = scenario.mainFuse !== null && fuse !== null && fuse.peakTheta > 0.999 && fuse.openTime === null;
  return still ? "not ended" : "held on";
}

function endReasons(run: Run, ending: Ending, fuse: FuseFindings | null): readonly string[] {
  const { crowbar, scenario } = run;
  const spec = scenario.crowbar;
  if (crowbar === null || spec === null) return ["The line has no crowbar."];
  switch (ending) {
    case "not fired":
      return ["The SCR never fired in this run, so nothing was put to the test."];
    case "not ended":
      return [`The fuse melted and has not opened when the run ends.`];
    case "held on": {
      const holding = holdingOf(run);
      if (holding === null || holding.timeToLimit === null) return [];
      const limit = show(spec.ratings.junctionTemperature, "temperature");
      const way =
        fuse === null || fuse.openTime !== null
          ? ""
          : ` (the fuse came ${show(fuse.peakTheta, "ratio")} of the way to melting)`;
      return [
        `The SCR is held on with ${show(holding.current, "current")}${way}; its junction settles at ${show(holding.restTemperature, "temperature")}, and ${limit} is allowed.`,
      ];
    }
    case "repeated tripping": {
      const long = crowbar.cycling?.longRun ?? null;
      if (long === null || long.timeToPeakLimit === null) return [];
      const { timeToPeakLimit } = long;
      const melts = long.fuses.some(({ peakMeltTime }) => peakMeltTime !== null && peakMeltTime < timeToPeakLimit);
      const limit = show(spec.ratings.junctionTemperature, "temperature");
      return melts
        ? []
        : [
            `The SCR trips again and again; its junction passes ${limit} ${timeToPeakLimit > 0 ? `after ${longTime(timeToPeakLimit)}` : "at once"}.`,
          ];
    }
    default:
      return [];
  }
}

const WATCHED = /^(crowbar|main fuse|in-line fuse|lead of)/;

function verdictReasons(run: Run, verdict: Judged): readonly string[] {
  const parts = verdict.findings.filter((finding) => WATCHED.test(finding.subject) && isBeyond(finding));
  const loads = verdict.loads.filter(({ grade }) => grade === "beyond");
  const unknown = verdict.findings.filter(
    ({ quantity, severity, subject }) =>
      quantity === "available short-circuit current" && severity === "not rated" && WATCHED.test(subject),
  );
  const close = verdict.tooClose.filter(
    ({ subject }) => WATCHED.test(subject) || run.loads.some(({ name }) => name === subject),
  );
  return [
    ...loads.map(({ sentence }) => sentence),
    ...parts.map(({ sentence }) => sentence),
    ...unknown.map(({ sentence }) => sentence),
    ...close.map(({ sentence }) => `Too close to call: ${sentence}`),
  ];
}

function notesOf(run: Run, verdict: Judged, ending: Ending): readonly string[] {
  const used = verdict.findings.filter(({ severity }) => severity === "used up");
  const holding = ending === "held on" ? holdingOf(run) : null;
  return [
    ...withinI2t(run).notes,
    ...verdict.loads.filter(({ grade }) => grade === "withstood").map(({ sentence }) => sentence),
    ...used.map(({ sentence }) => sentence),
    ...(holding === null
      ? []
      : [
          `Nothing in the line ends it: the SCR carries ${show(holding.current, "current")} until somebody switches the source off.`,
        ]),
    ...(ending === "repeated tripping" ? verdict.tripping.map(({ sentence }) => sentence) : []),
    ...hazardsOf(verdict),
  ];
}

/** What fuse, SCR and wire cannot keep off: beyond its limit is a part that this study does not choose. */
function hazardsOf({ findings }: Judged): readonly string[] {
  return findings
    .filter((finding) => !WATCHED.test(finding.subject) && isBeyond(finding))
    .map(({ sentence }) => sentence);
}

/**
 * What the run let through the SCR, and by which rule it stands that: by its I²t within 10 ms, for which that holds, and by its surge
 * windows beyond.
 */
function withinI2t({ crowbar, scenario }: Run): {
  readonly reasons: readonly string[];
  readonly notes: readonly string[];
} {
  const spec = scenario.crowbar;
  if (crowbar === null || spec === null || crowbar.firings.length === 0) return { reasons: [], notes: [] };
  const { ratings } = spec;
  const span = duration(I2T_TIME);
  const found = crowbar.worst10msI2t;
  const within = `The SCR carried ${show(found, "I2t")} within ${span}`;
  if (found > ratings.i2t) return { reasons: [`${within}; its I²t is ${show(ratings.i2t, "I2t")}.`], notes: [] };
  if (crowbar.totalI2t < 1.01 * found || crowbar.firings.length > 1) return { reasons: [], notes: [] };
  const windows = crowbar.worstWindows.flatMap(({ duration: window, rms }) => {
    const rated = ratings.surgeWindows.find((each) => Math.abs(each.duration / window - 1) < 1e-6)?.rms;
    return rated === undefined || window <= I2T_TIME ? [] : [{ window, rms, rated }];
  });
  const [nearest] = windows.sort((a, b) => b.rms / b.rated - a.rms / a.rated);
  if (nearest === undefined) return { reasons: [], notes: [] };
  const beyond = `The ${show(crowbar.totalI2t, "I2t")} of the whole run it stands by its surge windows: at the nearest of those longer than ${span} ${show(nearest.rms, "current")} RMS over ${duration(nearest.window)}, where ${show(nearest.rated, "current")} are allowed.`;
  return {
    reasons: [],
    notes: [`${within}, of the ${show(ratings.i2t, "I2t")} that its I²t allows for so long. ${beyond}`],
  };
}

function nearestOf(findings: readonly Finding[]): Outcome["nearest"] {
  const rated = findings.flatMap(({ subject, quantity, headroom }) =>
    headroom === null || quantity === "way to melting" || !WATCHED.test(subject)
      ? []
      : [{ subject, quantity, headroom }],
  );
  return rated.sort((a, b) => a.headroom - b.headroom)[0] ?? null;
}
