import type { FuseFindings, Run } from "../model/result.ts";
import type { Source } from "../scenario/types.ts";
import { type Clamping, clampsOf, judgeClamp } from "./clamp.ts";
import { contactSteps } from "./contacts.ts";
import { type Bar, barsOf, judgeBar } from "./crowbar.ts";
import { isBeyond } from "./exit-status.ts";
import { fuseName } from "./fuses.ts";
import type { Finding, LoadVerdict } from "./types.ts";
import { capital, partName, the } from "./words.ts";

/**
 * What must be done before the next use, in that order: a room full of gas is aired; what still conducts is switched off and batteries are
 * taken off; the fault is found; what it hurt is replaced; then the fuses (or they would blow again into a short); then the resets. Empty where
 * nothing happened.
 */
export function replaceList(run: Run, loads: readonly LoadVerdict[], findings: readonly Finding[]): readonly string[] {
  const fuses = run.fuses.filter(({ meltTime }) => meltTime !== null);
  const steps = [
    ...faults(run),
    ...barsOf(run).flatMap((bar) => scr(bar, run.scenario.ambient)),
    ...clampsOf(run).flatMap((clamp) => clampStep(clamp, run.scenario.ambient)),
    ...others(run, findings),
    ...radios(loads),
    ...contactSteps(run, findings),
    ...fuses.map((fuse) => fuseStep(fuse, findings)),
    ...resets(run),
  ];
  if (steps.length === 0 && !tripped(run)) return [];
  const first =
    fuses.length > 0
      ? `Find the fault before replacing ${fuses.length === 1 ? "the fuse" : "the fuses"}.`
      : "Find the fault before switching on again.";
  const batteries = run.scenario.sources.filter(({ kind }) => kind === "battery").map(({ name }) => the(name));
  const off = switchOff(run);
  const live =
    steps.length + off.length === 0
      ? []
      : batteries.map((name) => `Disconnect ${name} before working on the line: it stays live.`);
  return [...gas(run, findings), ...off, ...live, first, ...steps];
}

/** A battery that was charged beyond full gives off hydrogen and oxygen: no switch is worked in that (common practice, no source). */
function gas(run: Run, findings: readonly Finding[]): readonly string[] {
  const gassing = run.scenario.sources.filter(
    ({ name, kind }, k) =>
      kind === "battery" &&
      (run.sources[k].charge?.highest ?? 0) > 1 &&
      findings.some((finding) => finding.subject === name && isBeyond(finding)),
  );
  return gassing.length === 0
    ? []
    : [
        `Air the room before anything is switched: ${gassing.map(({ name }) => the(name)).join(" and ")} may have given off explosive gas.`,
      ];
}

/** A fuse that could not do its work is no pattern for the next one. */
function fuseStep(fuse: FuseFindings, findings: readonly Finding[]): string {
  const failed = findings.some((finding) => finding.subject === partName(fuse.subject) && isBeyond(finding));
  return failed
    ? `Replace ${the(fuseName(fuse))} by one of the same rated current that is made for the voltage and the short-circuit current of this line: another of its kind would fail in the same way.`
    : `Replace ${the(fuseName(fuse))} by one of the same type and rating, never by a larger one.`;
}

function tripped(run: Run): boolean {
  return barsOf(run).some(({ found }) => found.firings.length > 0) || (run.seriesSwitch?.starts.length ?? 0) > 0;
}

function faults(run: Run): readonly string[] {
  return run.scenario.sources.flatMap((source) => {
    const fault = faultOf(source);
    if (fault === null) return [];
    return [
      fault === "voltage turned up"
        ? `Set ${the(source.name)} back to its voltage.`
        : `Repair or replace ${the(source.name)} (${fault}).`,
    ];
  });
}

function faultOf(source: Source): string | null {
  if (source.kind === "battery" || source.fault.kind === "none") return null;
  return source.fault.kind;
}

function scr(bar: Bar, ambient: number): readonly string[] {
  const findings = judgeBar(bar, ambient);
  const who = the(bar.subject);
  if (bar.found.failedShort) return [`Replace the SCR of ${who}: it failed short.`];
  if (findings.some(isBeyond)) return [`Replace the SCR of ${who}: it may be damaged, nobody can say how.`];
  if (findings.some(({ severity }) => severity === "used up"))
    return [`Test the SCR of ${who} (blocking and trip voltage): it used up one of its surges.`];
  return [];
}

function clampStep(clamp: Clamping, ambient: number): readonly string[] {
  if (clamp.found.failedShort) return [`Replace ${the(clamp.subject)}: it failed short.`];
  return judgeClamp(clamp, ambient).some(isBeyond)
    ? [`Replace ${the(clamp.subject)}: it was used beyond its rating.`]
    : [];
}

function others(run: Run, findings: readonly Finding[]): readonly string[] {
  const beyond = (subject: string): boolean =>
    findings.some((finding) => finding.subject === subject && isBeyond(finding));
  const steps: string[] = [];
  steps.push(...switchStep(findings));
  for (const { name } of [...run.scenario.sources, ...run.scenario.loads]) {
    if (beyond(`lead of ${the(name)}`)) steps.push(`Replace the lead of ${the(name)}: its insulation may be burnt.`);
    if (beyond(`contact of ${the(name)}`))
      steps.push(`Replace the contact in the lead of ${the(name)}: its arc burnt it.`);
  }
  for (const { name, kind } of run.scenario.sources)
    if (kind === "battery" && beyond(name))
      steps.push(`Have ${the(name)} checked: it was charged or emptied beyond its limits.`);
  return steps;
}

function switchStep(findings: readonly Finding[]): readonly string[] {
  const own = findings.filter(({ subject }) => subject === "series switch");
  if (own.some(({ severity }) => severity === "beyond"))
    return ["Replace the series switch: it was used beyond its rating."];
  return own.some(isBeyond)
    ? ["Test the series switch, whether it opens and closes: it may be damaged, nobody can say how."]
    : [];
}

function radios(loads: readonly LoadVerdict[]): readonly string[] {
  return loads
    .filter(({ grade }) => grade !== "inside")
    .map(({ name, grade }) =>
      grade === "beyond"
        ? `Have ${the(name)} checked before it is used again.`
        : `Check ${the(name)}: it was above its window.`,
    );
}

function switchOff(run: Run): readonly string[] {
  return barsOf(run)
    .filter(
      ({ spec, found }) =>
        found.conductingAtEnd && !found.failedShort && found.cycling === null && spec.variant !== "held",
    )
    .map(({ subject }) => `Switch every source off until ${the(subject)} has let go: it still conducts.`);
}

function resets(run: Run): readonly string[] {
  const steps: string[] = [];
  for (const { name, stateAtEnd } of run.sources)
    if (stateAtEnd === "latched off") steps.push(`Switch ${the(name)} off and on again: it has latched off.`);
  for (const { subject, spec, found } of barsOf(run)) {
    if (found.firings.length === 0) continue;
    if (spec.variant === "held") steps.push(`Reset ${the(subject)}: its gate is kept on until then.`);
  }
  const own = run.seriesSwitch;
  if (own !== null && own.starts.length > 0 && run.scenario.seriesSwitch?.reclose === null)
    steps.push("Reset the series switch: it stays open until then.");
  for (const load of run.scenario.loads) {
    const found = run.loads.find(({ name }) => name === load.name);
    if (load.dropOut?.comesBack === "by hand" && found?.sleepingAtEnd === true)
      steps.push(`Switch ${the(load.name)} on again at its place: it does not come back by itself.`);
  }
  return steps.map(capital);
}
