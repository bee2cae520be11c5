import type { Run } from "../../model/result.ts";
import { isBeyond } from "../../verdict/exit-status.ts";
import { heldTooHot } from "../../verdict/holding.ts";
import { atEnd } from "../../verdict/look.ts";
import type { Finding, Judged, Pending } from "../../verdict/types.ts";
import { show, the } from "../../verdict/words.ts";

const PENDING: Readonly<Record<Pending["kind"], (subject: string) => string>> = {
  "held on": () => "a source holds the SCR on when the run ends",
  "repeated tripping": () => "trips on and on",
  "going on and off": (subject) => `${the(subject)} goes on and off`,
  "clamp conducting": (subject) => `${the(subject)} still conducts when the run ends`,
  "overcurrent in a lead": (subject) => `the ${subject} carries more than it is able to for ever`,
  "above its maximum": (subject) => `${the(subject)} stays above its maximum`,
  "voltage rising with charge": (subject) => `the voltage of ${the(subject)} rises as a battery fills`,
  charging: (subject) => `${the(subject)} is still being charged`,
  "set voltage moving": (subject) => `the voltage of ${the(subject)} has not stopped moving`,
  "still to come": () => "not over when the run ends",
};

/** What is left to fear when the run ends, each a phrase; worst first. */
export function risksOf(run: Run, { findings, pending, tooClose }: Judged): readonly string[] {
  const beyond = findings.filter(isBeyond);
  const fire = subjects(beyond.filter(({ hazard }) => hazard === "fire"));
  const unknown = subjects(beyond.filter(({ severity }) => severity === "unknown"));
  const passed = subjects(beyond.filter(({ severity }) => severity === "beyond"));
  const used = subjects(findings.filter(({ severity }) => severity === "used up"));
  return [
    ...fire.map((subject) => `fire hazard at ${the(subject)}`),
    ...unknown.filter((each) => !fire.includes(each)).map((subject) => `nobody can say how ${the(subject)} ended`),
    ...passed
      .filter((each) => !fire.includes(each) && !unknown.includes(each))
      .map((subject) => `${the(subject)} was used beyond its rating`),
    ...(heatsUp(run) ? ["the SCR heats past its limit unless somebody switches off"] : []),
    ...new Set(pending.map(({ kind, subject }) => PENDING[kind](subject))),
    ...used.map((subject) => `one of the few surges of ${the(subject)} is used up`),
    ...live(run),
    ...(tooClose.length > 0 ? ["too close to call"] : []),
  ];
}

const subjects = (findings: readonly Finding[]): readonly string[] => [
  ...new Set(findings.map(({ subject }) => subject)),
];

/** Whether the SCR goes on getting hotter than it may, held on or tripping; an estimate. */
export function heatsUp(run: Run): boolean {
  const { cycling } = run.crowbar ?? {};
  return heldTooHot(run) || (cycling?.longRun?.timeToJunctionLimit ?? null) !== null;
}

/** What stays behind an open fuse or switch: whoever works there meets the fault's voltage. */
function live(run: Run): readonly string[] {
  const stays = run.scenario.loads.flatMap(({ name, limits }) => {
    const voltage = atEnd(run, name, "V") ?? 0;
    return voltage > limits.maximum ? [`${the(name)} stays at ${show(voltage, "voltage")}`] : [];
  });
  if (stays.length > 0) return stays;
  const highest = Math.max(...run.sources.map(({ name }) => atEnd(run, name, "V") ?? 0));
  const limit = Math.min(...run.scenario.loads.map(({ limits }) => limits.maximum));
  return highest > limit ? [`the supply side stays live at ${show(highest, "voltage")}`] : [];
}
