import type { ClampFindings, Run } from "../model/result.ts";
import type { Clamp } from "../scenario/types.ts";
import { isClose, judgeLimit } from "./finding.ts";
import type { Finding, Severity } from "./types.ts";
import { capital, duration, show, the } from "./words.ts";

export interface Clamping {
  readonly subject: string;
  /** The load that it lies at; empty: the line's. */
  readonly owner: string;
  /** Its name in the trace. */
  readonly column: string;
  readonly spec: Clamp;
  readonly found: ClampFindings;
}

/** Every clamp of a run: the line's first, then those at loads. */
export function clampsOf(run: Run): readonly Clamping[] {
  const { scenario } = run;
  const clamps: Clamping[] = [];
  if (run.clamp !== null && scenario.clamp !== null)
    clamps.push({ subject: "clamp", owner: "", column: "clamp", spec: scenario.clamp, found: run.clamp });
  for (const { load, findings } of run.loadClamps) {
    const spec = scenario.loads.find((each) => each.name === load)?.clamp ?? null;
    if (spec !== null)
      clamps.push({ subject: `clamp at ${the(load)}`, owner: load, column: `${load} clamp`, spec, found: findings });
  }
  return clamps;
}

/** Energy, current and temperature of one clamp; of a clamp that failed short, current and temperature at the failure. */
export function judgeClamp({ subject, spec, found }: Clamping, ambient: number): readonly Finding[] {
  const who = capital(the(subject));
  const above: Severity = found.failedShort ? "beyond" : "unknown";
  const ended = found.failedShort ? "it failed short" : "the outcome is unknown: it may end short or open";
  const current = found.atFailure?.current ?? found.peakCurrent.value;
  const temperature = ambient + (found.atFailure?.rise ?? found.peakRise);
  const until = found.failedShort ? " at its failure" : "";
  const energy: Finding = {
    ...judgeLimit({
      subject,
      quantity: "energy",
      dimension: "energy",
      rating: spec.ratings.energy,
      found: found.energy,
      above,
      say: (severity) => {
        const says = `${who} took ${show(found.energy, "energy")}; its rating is ${show(spec.ratings.energy, "energy")}`;
        return severity === "ok" ? `${says}.` : `${says}: ${ended}.`;
      },
    }),
    close: isClose(found.energy, spec.ratings.energy),
  };
  return [
    found.failedShort ? failed(energy, found, spec, who) : energy,
    judgeLimit({
      subject,
      quantity: `peak current${until}`,
      dimension: "current",
      rating: spec.ratings.peakCurrent,
      found: current,
      above,
      say: () => `${who} carried ${show(current, "current")}${until}${against(spec.ratings.peakCurrent, "current")}`,
    }),
    judgeLimit({
      subject,
      quantity: `temperature${until}`,
      dimension: "temperature",
      rating: spec.ratings.temperature,
      found: temperature,
      above,
      ambient,
      say: () =>
        `${who} reached ${show(temperature, "temperature")}${until}${against(spec.ratings.temperature, "temperature")}`,
    }),
  ];
}

/** A clamp that failed short reached its energy rating, whatever the sum at the end says; what came after is no headroom. */
function failed(energy: Finding, found: ClampFindings, spec: Clamp, who: string): Finding {
  const at = found.failTime === null ? "" : ` at ${duration(found.failTime, 4)}`;
  return {
    ...energy,
    found: spec.ratings.energy,
    headroom: 1,
    severity: "beyond",
    hazard: "fire",
    sentence: `${who} reached its energy rating of ${show(spec.ratings.energy, "energy")}${at} and failed short: it is a short circuit across the line and may burn.`,
  };
}

function against(rating: number | null, dimension: "current" | "temperature"): string {
  return rating === null ? "; no rating is known." : `; its rating is ${show(rating, dimension)}.`;
}

/** What the clamp did, in one sentence. */
export function clampSentence({ subject, spec, found }: Clamping): string {
  const who = capital(the(subject));
  if (found.peakCurrent.value <= 0)
    return `${who} never conducted: it begins at ${show(spec.breakdownVoltage, "voltage")}.`;
  const end = found.failedShort ? " and failed short" : "";
  return `${who} took up to ${show(found.peakCurrent.value, "current")} and ${show(found.energy, "energy")} in all${end}.`;
}
