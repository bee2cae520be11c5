import type { Run } from "../model/result.ts";
import type { Scenario, Source, Supply } from "../scenario/types.ts";
import { endangeredLater } from "../verdict/exit-status.ts";
import type { Verdict } from "../verdict/types.ts";
import { show } from "../verdict/words.ts";

/**
 * What a picture of a run must say of itself, whatever its title: how it ended, the fault, what protects at which voltage, the fuse, and
 * whether values are assumed.
 *
 * @returns for instance `Radio safe · shorted pass transistor · SCR at 15.0 V · blade fuse 20 A · some values assumed`
 * @example const data = { ...figureData(run, verdict), facts: runFacts(run, verdict) };
 */
export function runFacts({ scenario }: Pick<Run, "scenario">, verdict: Verdict): string {
  return [
    gradeWords(verdict),
    ...besides(verdict),
    faultWords(scenario),
    protectorWords(scenario),
    fuseWords(scenario),
    ...(verdict.assumptions.length > 0 ? ["some values assumed"] : []),
  ].join(" · ");
}

function gradeWords(verdict: Verdict): string {
  if (verdict.kind !== "verdict") return "No verdict";
  if (verdict.stoppedAt !== null && verdict.grade !== "beyond") return "Stopped early";
  if (verdict.tooClose.length > 0) return "Too close to call";
  const several = verdict.loads.length > 1;
  if (verdict.grade === "beyond") return several ? "A radio endangered" : "Radio endangered";
  const soFar = endangeredLater(verdict.pending) ? " so far" : "";
  return `${several ? "Radios" : "Radio"} ${verdict.grade === "withstood" ? "withstood it" : "safe"}${soFar}`;
}

/** A safe radio beside a wire that may burn is no good news alone. */
function besides(verdict: Verdict): string[] {
  if (verdict.kind !== "verdict") return [];
  const passed = verdict.findings.some(({ severity }) => severity === "beyond" || severity === "unknown");
  const fire = verdict.findings.some(({ hazard }) => hazard === "fire");
  return [
    ...(fire ? ["fire hazard"] : passed ? ["another part beyond its rating"] : []),
    ...(verdict.pending.length > 0 ? ["not over yet"] : []),
  ];
}

function faultWords({ sources }: Scenario): string {
  const faulty = sources.filter((source): source is Exclude<Source, { kind: "battery" }> => {
    return source.kind !== "battery" && source.fault.kind !== "none";
  });
  if (faulty.length === 0) return "no fault";
  return faulty.map(({ name, fault }) => (sources.length > 1 ? `${fault.kind} of ${name}` : fault.kind)).join(", ");
}

function protectorWords({ crowbar, clamp, seriesSwitch, sources }: Scenario): string {
  const own = sources.flatMap((source) => (source.kind === "supply" ? ownProtector(source) : []));
  const parts = [
    ...(crowbar === null ? [] : [`SCR at ${volts(crowbar.tripVoltage)}`]),
    ...(clamp === null ? [] : [`clamp at ${volts(clamp.breakdownVoltage)}`]),
    ...(seriesSwitch === null ? [] : [`series switch at ${volts(seriesSwitch.offVoltage)}`]),
  ];
  return [...(parts.length === 0 ? ["no protector"] : parts), ...own].join(" · ");
}

function ownProtector({ ownCrowbar, shutdown }: Supply): string[] {
  return [
    ...(ownCrowbar === null ? [] : [`supply's own SCR at ${volts(ownCrowbar.tripVoltage)}`]),
    ...(shutdown === null ? [] : [`supply's own shutdown at ${volts(shutdown.voltage)}`]),
  ];
}

function fuseWords({ mainFuse, sources, loads }: Scenario): string {
  const inLine = sources.flatMap(({ lead }) => (lead.fuse === null ? [] : [`${lead.fuse.label} in line`]));
  const fuses = [...(mainFuse === null ? [] : [mainFuse.label]), ...new Set(inLine), ...loadFuses(loads)];
  return fuses.length === 0 ? "no fuse" : fuses.join(" · ");
}

/** A fuse behind the protector is no fuse of the protector's: its place is told with it. */
function loadFuses(loads: Scenario["loads"]): string[] {
  const labels = new Set(loads.flatMap(({ lead }) => lead.fuse?.label ?? []));
  return [...labels].map((label) => {
    const at = loads.filter(({ lead }) => lead.fuse?.label === label);
    return `${label} at ${at.length === 1 ? at[0].name : `${at.length} loads`}`;
  });
}

/** A trip voltage is set to a tenth: `15.0 V`. */
function volts(value: number): string {
  return value.toFixed(1) === String(value) || Number.isInteger(value)
    ? `${value.toFixed(1)} V`
    : show(value, "voltage", 4);
}
