import type { FuseFindings, Run } from "../model/result.ts";
import type { Fuse } from "../scenario/types.ts";
import { judgeLimit } from "./finding.ts";
import { endOf } from "./look.ts";
import type { Finding } from "./types.ts";
import { when } from "./when.ts";
import { capital, duration, partName, show, the } from "./words.ts";

/** Largest current that this fuse would have had to break, A, from a second run in which it cannot melt; null where none was made. */
export type Prospective = (fuseIndex: number) => number | null;

/** A fuse still clearing at the end of the run counts as holding its arc when it has been doing so for longer than this, s. */
const ARC_PATIENCE = 0.1;

/** The fuse of a scenario that a finding speaks of; null where the scenario has none there. */
export function fuseSpec(run: Run, found: FuseFindings): Fuse | null {
  const { part, owner } = found.subject;
  if (part === "main fuse") return run.scenario.mainFuse;
  const owners = [...run.scenario.sources, ...run.scenario.loads];
  return owners.find((each) => each.name === owner)?.lead.fuse ?? null;
}

/** `main fuse (blade fuse 20 A)`. */
export function fuseName(found: FuseFindings): string {
  return `${partName(found.subject)} (${found.label})`;
}

/** The limits of one fuse: how near it is to melting, voltage, breaking capacity, a held arc. */
export function judgeFuse(run: Run, index: number, prospective: Prospective | null): readonly Finding[] {
  const found = run.fuses[index];
  if (found === undefined) return [];
  const fuse = fuseSpec(run, found);
  if (fuse === null) return [];
  const subject = partName(found.subject);
  const findings: Finding[] = [];
  if (found.meltTime === null) findings.push(melting(subject, found));
  else findings.push(...afterMelting(run, subject, found, fuse));
  if (found.meltTime !== null) findings.push(breaking(subject, found, fuse, prospective?.(index) ?? null));
  else findings.push(...hadItMelted(subject, found, fuse));
  return findings;
}

function melting(subject: string, found: FuseFindings): Finding {
  const who = capital(the(subject));
  return judgeLimit({
    subject,
    quantity: "way to melting",
    dimension: "ratio",
    rating: 1,
    found: found.peakTheta,
    above: "beyond",
    say: () => `${who} did not melt: it came ${show(found.peakTheta, "ratio")} of the way.`,
  });
}

function afterMelting(run: Run, subject: string, found: FuseFindings, fuse: Fuse): readonly Finding[] {
  const findings: Finding[] = [];
  const who = capital(the(subject));
  const held = endOf(run) - (found.meltTime ?? 0);
  if (found.state === "clearing") {
    const early = held < ARC_PATIENCE;
    findings.push({
      subject,
      quantity: "arc still burning",
      dimension: "time",
      rating: null,
      found: held,
      headroom: null,
      severity: early ? "unknown" : "beyond",
      close: false,
      hazard: early ? null : "fire",
      sentence: early
        ? `${who} is still clearing when the run ends, ${duration(held)} after it melted: give the run more time to see whether it opens.`
        : `${who} melted but never cleared: the source holds its arc (${duration(held)} at the end of the run). Fire hazard.`,
    });
  }
  findings.push(rated(run, subject, found, fuse));
  return findings;
}

/**
 * Voltage against the fuse's rating. The arc's own voltage is how a fuse clears and may exceed the rating; what the rating speaks of is the
 * voltage of the line that the open fuse must stand. So a peak that its arc explains is not held against it: judged is then the voltage
 * once it is open, or, before it is, the highest voltage at any source, which it cannot exceed.
 */
function rated(run: Run, subject: string, found: FuseFindings, fuse: Fuse): Finding {
  const across = Math.max(0, found.peakVoltage ?? 0);
  const arc = fuse.arcVoltage + fuse.coldResistance * fuse.resistanceRatio * found.peakCurrent;
  const highest = Math.max(0, ...run.sources.map(({ peak }) => peak.value));
  const open = found.openVoltage;
  const exact = across > arc * 1.001 || open !== null;
  const stood = across > arc * 1.001 ? across : Math.min(across, open ?? highest);
  const who = capital(the(subject));
  return judgeLimit({
    subject,
    quantity: "voltage to keep off",
    dimension: "voltage",
    rating: fuse.ratedVoltage,
    found: stood,
    above: exact ? "beyond" : "unknown",
    burns: true,
    say: (severity) => {
      const [had, rating] = [show(stood, "voltage"), show(fuse.ratedVoltage, "voltage")];
      if (severity === "ok") return `${who} is rated ${rating}; it had ${exact ? "" : "at most "}${had} to keep off.`;
      const may = exact ? "had" : "may have had";
      return `${who} is rated ${rating} but ${may} ${had} to keep off: it may arc again. Fire hazard.`;
    },
  });
}

function breaking(subject: string, found: FuseFindings, fuse: Fuse, second: number | null): Finding {
  const current = second ?? found.peakCurrent;
  const how =
    second === null
      ? "the largest current of this run, no second run without it was made"
      : "by a second run in which it cannot melt";
  const who = capital(the(subject));
  return judgeLimit({
    subject,
    quantity: "available short-circuit current",
    dimension: "current",
    rating: fuse.breakingCapacity,
    found: current,
    above: "beyond",
    burns: true,
    say: (severity) => {
      const says = `${who} faced ${show(current, "current")} (${how})`;
      if (fuse.breakingCapacity === null) return `${says}; its breaking capacity is not known.`;
      const able = `it is able to break ${show(fuse.breakingCapacity, "current")}`;
      if (severity === "ok") return `${says}; ${able}.`;
      return `${says} but ${able}: it may burst or go on burning. Fire hazard.`;
    },
  });
}

/** A whole fuse had nothing to break: only a current beyond its breaking capacity is worth a word. */
function hadItMelted(subject: string, found: FuseFindings, fuse: Fuse): readonly Finding[] {
  const finding = judgeLimit({
    subject,
    quantity: "largest current of the run",
    dimension: "current",
    rating: fuse.breakingCapacity,
    found: found.peakCurrent,
    above: "beyond",
    burns: true,
    say: () =>
      `${capital(the(subject))} carried ${show(found.peakCurrent, "current")} but is able to break ${show(fuse.breakingCapacity ?? 0, "current")}: had it melted, it might have burst or gone on burning. Fire hazard.`,
  });
  return finding.severity === "beyond" || finding.close ? [finding] : [];
}

/** What a fuse did, in one sentence; melting and let-through figures only where it melted. */
export function fuseSentence(run: Run, found: FuseFindings): string {
  const who = capital(the(fuseName(found)));
  if (found.meltTime === null) return `${who} did not melt: it came ${show(found.peakTheta, "ratio")} of the way.`;
  const figures = [
    found.meltingI2t === null ? null : `melting I²t ${show(found.meltingI2t, "I2t")}`,
    found.letThroughI2t === null ? null : `let-through I²t ${show(found.letThroughI2t, "I2t")}`,
  ].filter((figure) => figure !== null);
  const numbers = figures.length === 0 ? "" : ` (${figures.join(", ")})`;
  const open =
    found.openTime === null ? "has not opened" : `was open ${duration(found.openTime - found.meltTime)} later`;
  return `${who} melted ${when(run.scenario, found.meltTime)} and ${open}${numbers}.`;
}
