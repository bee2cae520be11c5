import type { Run } from "../model/result.ts";
import { isBeyond } from "./exit-status.ts";
import { endOf } from "./look.ts";
import type { Finding } from "./types.ts";
import { duration, the } from "./words.ts";

/** An arc in a contact that is this old at the end of the run counts as held, s. */
const ARC_PATIENCE = 0.1;

/** Contacts in leads whose arc was still burning at the end of the run. */
export function judgeContacts(run: Run): readonly Finding[] {
  const owners = [...run.scenario.sources, ...run.scenario.loads].filter(({ lead }) => lead.contact !== null);
  return owners.flatMap(({ name }) => {
    const events = run.events.filter(({ kind, subject }) => subject.owner === name && kind.startsWith("contact"));
    const last = events.at(-1);
    if (last === undefined || last.kind !== "contact opens") return [];
    const held = endOf(run) - last.time;
    const early = held < ARC_PATIENCE;
    const says = `The contact in the lead of ${the(name)} still draws an arc ${duration(held)} after it opened`;
    const finding: Finding = {
      subject: `contact of ${the(name)}`,
      quantity: "arc still burning",
      dimension: "time",
      rating: null,
      found: held,
      headroom: null,
      severity: early ? "unknown" : "beyond",
      close: false,
      hazard: early ? null : "fire",
      sentence: early
        ? `${says}: give the run more time to see whether it ends.`
        : `${says}: it does not break this current. Fire hazard.`,
    };
    return [finding];
  });
}

/** Contacts that opened in the run, to be made fast; one whose arc went on burning is to be replaced anyway. */
export function contactSteps(run: Run, findings: readonly Finding[]): readonly string[] {
  return [...run.scenario.sources, ...run.scenario.loads].flatMap(({ name }) => {
    const moves = run.events.filter(
      ({ kind, subject }) => subject.owner === name && (kind === "contact opens" || kind === "contact closes"),
    );
    const where = `the contact in the lead of ${the(name)}`;
    if (!moves.some(({ kind }) => kind === "contact opens")) return [];
    if (findings.some((finding) => finding.subject === `contact of ${the(name)}` && isBeyond(finding))) return [];
    return moves.at(-1)?.kind === "contact opens"
      ? [`Close ${where} again, and make sure that it holds: it is open.`]
      : [`Make sure that ${where} holds: it opened and closed again.`];
  });
}
