import type { FuseFindings, Run } from "../../model/result.ts";
import type { Source } from "../../scenario/types.ts";
import { type Clamping, clampsOf, judgeClamp } from "../clamp.ts";
import { contactSteps } from "../contacts.ts";
import { type Bar, barsOf, judgeBar } from "../crowbar.ts";
import { isBeyond } from "../exit-status.ts";
import { fuseName } from "../fuses.ts";
import type { Finding, LoadVerdict } from "../types.ts";
import { partName, show, the } from "../words.ts";
import { type Step, step } from "./order.ts";
import { MUCH } from "./still-flows.ts";

/** What the fault was and what it hurt, then the fuses; empty where nothing needs a hand. */
export function mend(run: Run, loads: readonly LoadVerdict[], findings: readonly Finding[]): readonly Step[] {
  const sentences = [
    ...faults(run),
    ...barsOf(run).flatMap((bar) => scr(bar, run.scenario.ambient)),
    ...clampsOf(run).flatMap((clamp) => clampStep(clamp, run.scenario.ambient)),
    ...others(run, findings),
    ...notEnough(run, loads),
    ...radios(loads),
    ...contactSteps(run, findings),
  ];
  const fuses = run.fuses.filter(({ meltTime }) => meltTime !== null);
  return [
    ...sentences.map((sentence) => step("mend", sentence)),
    ...fuses.map((fuse) => step("fuses", fuseStep(run, fuse, findings))),
  ];
}

/** A fuse that could not do its work is no pattern for the next one. */
function fuseStep(run: Run, fuse: FuseFindings, findings: readonly Finding[]): string {
  const failed = findings.some((finding) => finding.subject === partName(fuse.subject) && isBeyond(finding));
  if (!failed && barsOf(run).some(({ found }) => found.failedShort))
    return `Replace ${the(fuseName(fuse))}, never by a larger one: the new SCR has to stand what the fuse lets through.`;
  return failed
    ? `Replace ${the(fuseName(fuse))} by one of the same rated current that is made for the voltage and the short-circuit current of this line: another of its kind would fail in the same way.`
    : `Replace ${the(fuseName(fuse))} by one of the same type and rating, never by a larger one.`;
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
  if (bar.found.failedShort)
    return [
      `Replace the SCR of ${who}: it failed short. One of its kind would do so again in this line: fit one that stands more, or what ends the current sooner.`,
    ];
  if (findings.some(isBeyond)) return [`Replace the SCR of ${who}: it may be damaged, nobody can say how.`];
  if (findings.some(({ severity }) => severity === "used up"))
    return [`Test the SCR of ${who} (blocking and trip voltage): it used up one of its surges.`];
  return [];
}

function clampStep(clamp: Clamping, ambient: number): readonly string[] {
  if (clamp.found.failedShort)
    return [
      `Replace ${the(clamp.subject)}: it failed short. One of its kind would do so again in this line: a clamp alone is made for pulses.`,
    ];
  return judgeClamp(clamp, ambient).some(isBeyond)
    ? [`Replace ${the(clamp.subject)}: it was used beyond its rating.`]
    : [];
}

function others(run: Run, findings: readonly Finding[]): readonly string[] {
  const beyond = (subject: string): boolean =>
    findings.some((finding) => finding.subject === subject && isBeyond(finding));
  const steps: string[] = [];
  steps.push(...switchStep(findings));
  const { sources, loads, ambient } = run.scenario;
  for (const { name, lead } of [...sources, ...loads]) {
    if (beyond(`lead of ${the(name)}`))
      steps.push(
        `Replace the lead of ${the(name)}: its insulation may be burnt. Another like it needs ${ambient < lead.insulation.continuous ? "a fuse that protects it" : "cooler surroundings"}.`,
      );
    if (beyond(`contact of ${the(name)}`))
      steps.push(`Replace the contact in the lead of ${the(name)}: its arc burnt it.`);
  }
  for (const { name, kind } of sources)
    if (kind === "battery" && beyond(name))
      steps.push(`Have ${the(name)} checked: it was charged or emptied beyond its limits.`);
  return [...steps, ...fedBack(run)];
}

/** This far above what it is set to nobody says what a sound supply stands from outside (assumed). */
const RAISED = 1.1;

/** A supply without a fault of its own whose terminals others raised: no rating tells, so that somebody has to look. */
function fedBack({ scenario, sources }: Run): readonly string[] {
  const sound = (source: Source): boolean => faultOf(source) === null;
  // What overshoots in a line of sound sources swings by itself.
  if (scenario.sources.every(sound)) return [];
  return sources.flatMap(({ name, peak, mostTaken }) => {
    const source = scenario.sources.find((each) => each.name === name && sound(each));
    return source?.kind === "supply" && mostTaken > MUCH && peak.value > RAISED * source.setVoltage
      ? [`Have ${the(name)} checked: others raised its terminals to ${show(peak.value, "voltage")}.`]
      : [];
  });
}

function switchStep(findings: readonly Finding[]): readonly string[] {
  const own = findings.filter(({ subject }) => subject === "series switch");
  if (own.some(({ severity }) => severity === "beyond"))
    return ["Replace the series switch: it was used beyond its rating."];
  return own.some(isBeyond)
    ? ["Test the series switch, whether it opens and closes: it may be damaged, nobody can say how."]
    : [];
}

/** A load that saw too much behind a protector that did all it does: the same fault ends in the same way once more. */
function notEnough(run: Run, loads: readonly LoadVerdict[]): readonly string[] {
  const hurt = loads.filter(({ grade }) => grade !== "inside").map(({ name }) => the(name));
  if (hurt.length === 0) return [];
  const { crowbar, seriesSwitch, clamp } = run.scenario;
  if (crowbar === null && seriesSwitch === null && clamp === null)
    return [`Fit a protector: nothing in the line keeps such a fault from ${hurt.join(" and ")}.`];
  return [
    `Change the protector (trip voltage, sense filter, place, leads): as it stands the same fault does the same to ${hurt.join(" and ")} again.`,
  ];
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
