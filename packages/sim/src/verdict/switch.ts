import type { Run, SwitchFindings } from "../model/result.ts";
import type { SeriesSwitch } from "../scenario/types.ts";
import { judgeLimit } from "./finding.ts";
import { endOf } from "./look.ts";
import { judgeSwitchCurrent } from "./switch-current.ts";
import type { Finding } from "./types.ts";
import { when } from "./when.ts";
import { duration, show, times } from "./words.ts";

/** A switch still clearing at the end counts as holding its arc when the last opening is longer ago than this, s. */
const ARC_PATIENCE = 0.1;

/** Current, voltage and a held arc of the series switch; empty without one. */
export function judgeSwitch(run: Run): readonly Finding[] {
  const spec = run.scenario.seriesSwitch;
  const found = run.seriesSwitch;
  if (spec === null || found === null) return [];
  const findings: Finding[] = [...judgeSwitchCurrent(spec, found), ...voltages(run, spec, found)];
  if (found.state === "clearing") findings.push(arc(run, found.starts.at(-1) ?? run.scenario.faultTime, spec.kind));
  return findings;
}

/**
 * A transistor that breaks a current goes into avalanche, a relay draws an arc: that is how they clear, and its voltage is not held against
 * the rating. Judged is what they keep off once open, or the whole peak where no arc or avalanche explains it.
 */
function voltages(run: Run, spec: SeriesSwitch, found: SwitchFindings): readonly Finding[] {
  const subject = "series switch";
  const cleared = found.peakVoltage >= spec.arcVoltage;
  const explained = found.peakVoltage <= (spec.arcVoltage + spec.resistance * found.peakCurrent) * 1.001;
  const highest = Math.max(0, ...run.sources.map(({ peak }) => peak.value));
  const kept = cleared && explained ? Math.min(found.peakVoltage, found.openVoltage ?? highest) : found.peakVoltage;
  const keeping = judgeLimit({
    subject,
    quantity: "voltage to keep off",
    dimension: "voltage",
    rating: spec.ratings.voltage,
    found: kept,
    above: "beyond",
    say: (severity) => {
      const end = tail(spec.ratings.voltage, severity);
      return `The series switch had ${show(kept, "voltage")} to keep off${end}`;
    },
  });
  if (spec.kind === "relay" || !cleared) return [keeping];
  const avalanche = judgeLimit({
    subject,
    quantity: "avalanche",
    dimension: "voltage",
    rating: null,
    found: found.peakVoltage,
    above: "unknown",
    say: () =>
      `The series switch broke its current in avalanche at ${show(found.peakVoltage, "voltage")}; the energy it stands so is not known.`,
  });
  return [keeping, avalanche];
}

function tail(rating: number | null, severity: string): string {
  if (rating === null) return "; no rating is known.";
  return severity === "ok"
    ? `; its rating is ${show(rating, "voltage")}.`
    : `, above its rating of ${show(rating, "voltage")}: replace it.`;
}

function arc(run: Run, start: number, kind: "transistor" | "relay"): Finding {
  const held = endOf(run) - start;
  const early = held < ARC_PATIENCE;
  const what = kind === "relay" ? "the arc between its contacts still burns" : "it still conducts in avalanche";
  return {
    subject: "series switch",
    quantity: kind === "relay" ? "arc still burning" : "still in avalanche",
    dimension: "time",
    rating: null,
    found: held,
    headroom: null,
    severity: early ? "unknown" : "beyond",
    close: false,
    hazard: early ? null : "fire",
    sentence: early
      ? `The series switch is still clearing when the run ends: give the run more time to see whether it opens.`
      : `The series switch opened but ${what}, ${duration(held)} after its opening began: it does not break this current. Fire hazard.`,
  };
}

/** What the series switch did, in one sentence; null without one. */
export function switchSentence(run: Run): string | null {
  const spec = run.scenario.seriesSwitch;
  const found = run.seriesSwitch;
  if (spec === null || found === null) return null;
  const first = found.starts[0];
  const level = show(spec.offVoltage, "voltage", 4);
  if (first === undefined)
    return `The series switch never opened: behind its filter it saw ${show(found.peakSense.value, "voltage", 4)}, it opens at ${level}.`;
  const since = when(run.scenario, first);
  const count = found.starts.length;
  const start =
    count === 1
      ? `The series switch began to open once, ${since}`
      : `The series switch began to open ${times(count)}, first ${since}`;
  const reclosed = found.recloses.length === 0 ? "" : `, and reclosed ${times(found.recloses.length)}`;
  return `${start}${reclosed}; at the end it is ${found.state}.`;
}
