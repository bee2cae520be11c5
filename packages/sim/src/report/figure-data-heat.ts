import type { CrowbarFindings, FuseFindings, Run } from "../model/result.ts";
import type { Clamp, Crowbar } from "../scenario/types.ts";
import type { Judged } from "../verdict/types.ts";
import { hasFault, when, zeroOf } from "../verdict/when.ts";
import { capital, partName, show, the } from "../verdict/words.ts";
import { traceColumn } from "./conduction.ts";
import type { HeatData } from "./figure/heat-types.ts";
import type { LimitedCurve } from "./figure/limited-panel.ts";
import { figureEvents } from "./figure-data.ts";
import { runFacts } from "./run-facts.ts";

/**
 * What the heat figure draws of a run: the junctions of SCRs and the line's clamp, the ways of the fuses to melting.
 *
 * @param run with its waveforms (`record` not switched off)
 * @returns null for a line without SCR, clamp and fuse
 * @example
 * const shown = heatData(run, verdict);
 * if (shown !== null) heatFigure(shown, { document })
 */
export function heatData(run: Run, verdict: Judged): HeatData | null {
  const { scenario, trace } = run;
  const bars = scrsOf(run);
  const temperatures = [...bars.map(({ curve }) => curve), ...clampOf(run)];
  const melting = run.fuses.flatMap((fuse) => meltOf(run, fuse));
  if (temperatures.length + melting.length === 0) return null;
  const sentences = [
    ...bars.map(({ label, spec, found }) => junctionSentence(run, label, spec, found)),
    ...clampSentence(run),
    ...(nearestFuse(run) ?? []),
  ];
  return {
    title: `${verdict.title === "" ? "A fault on a 12 V line" : verdict.title}: how hot?`,
    facts: runFacts(run, verdict),
    subtitle: sentences.join(" "),
    time: trace.time,
    faultTime: zeroOf(scenario),
    zero: hasFault(scenario) ? "fault" : "start",
    events: figureEvents(run, verdict),
    restsUntil: run.outcome.status === "at rest" ? scenario.endTime : null,
    ambient: scenario.ambient,
    temperatures,
    melting,
  };
}

interface ScrHeat {
  readonly label: string;
  readonly spec: Crowbar;
  readonly found: CrowbarFindings;
  readonly curve: LimitedCurve;
}

function scrsOf(run: Run): ScrHeat[] {
  const { crowbar, sources } = run.scenario;
  const scr = (label: string, name: string, spec: Crowbar, found: CrowbarFindings): ScrHeat[] => {
    const values = traceColumn(run, `${name} junction`, "degC");
    if (values === null) return [];
    const who = label === "SCR" ? label : "own SCR";
    const limits = [
      { value: spec.ratings.junctionTemperature, label: `${who} rated for` },
      { value: spec.failTemperature, label: `${who} fails above` },
    ];
    const alone = run.ownCrowbars.length < 2;
    return [{ label, spec, found, curve: { label: `${alone ? who : label} junction`, values, limits } }];
  };
  return [
    ...(crowbar && run.crowbar ? scr("SCR", "crowbar", crowbar, run.crowbar) : []),
    ...run.ownCrowbars.flatMap(({ source, findings }) => {
      const supply = sources.find(({ name }) => name === source);
      const spec = supply?.kind === "supply" ? supply.ownCrowbar : null;
      return spec === null ? [] : scr(`${source} own SCR`, `${source} own crowbar`, spec, findings);
    }),
  ];
}

function clampOf(run: Run): LimitedCurve[] {
  const { clamp, ambient } = run.scenario;
  const rise = clamp === null ? null : traceColumn(run, "clamp rise", "K");
  if (clamp === null || rise === null) return [];
  return [{ label: "clamp junction", values: rise.map((kelvin) => ambient + kelvin), limits: clampLimits(clamp) }];
}

function clampLimits({ ratings: { temperature } }: Clamp): LimitedCurve["limits"] {
  return temperature === null ? [] : [{ value: temperature, label: "clamp rated for" }];
}

function meltOf(run: Run, { subject }: FuseFindings): LimitedCurve[] {
  const main = subject.part === "main fuse";
  const values = traceColumn(run, main ? "main fuse melt" : `${subject.owner} fuse melt`, "share");
  if (values === null) return [];
  const label = main ? "main fuse" : `fuse of ${the(subject.owner)}`;
  return [{ label, values, limits: [{ value: 1, label: "it melts at" }] }];
}

function junctionSentence(run: Run, label: string, spec: Crowbar, found: CrowbarFindings): string {
  const { value, time } = found.peakTemperature;
  const who = label === "SCR" ? "The SCR's junction" : `The junction of ${the(label)}`;
  const rated = show(spec.ratings.junctionTemperature, "temperature");
  if (found.failedShort) return `${who} passed ${show(spec.failTemperature, "temperature")} and counts as destroyed.`;
  if (found.firings.length === 0) return `${who} stayed at ${show(value, "temperature")}: it never fired.`;
  const judged =
    value > spec.ratings.junctionTemperature ? `, above the ${rated} it is rated for,` : ` (rated ${rated})`;
  return `${who} reached ${show(value, "temperature")}${judged} ${when(run.scenario, time)}.`;
}

function clampSentence({ clamp: found, scenario }: Run): string[] {
  if (found === null || scenario.clamp === null || !(found.peakRise > 0)) return [];
  const reached = show(scenario.ambient + found.peakRise, "temperature");
  if (found.failTime !== null)
    return [`The clamp failed short ${when(scenario, found.failTime)} and reached ${reached}.`];
  const { temperature } = scenario.clamp.ratings;
  const rated = temperature === null ? "" : ` (rated ${show(temperature, "temperature")})`;
  return [`The clamp's junction reached ${reached}${rated}.`];
}

/** The fuse that melted first, or came nearest to it. */
function nearestFuse(run: Run): [string] | null {
  const fuses = [...run.fuses].sort(
    (a, b) => order(a.meltTime ?? Infinity, b.meltTime ?? Infinity) || b.peakTheta - a.peakTheta,
  );
  const fuse = fuses[0];
  if (fuse === undefined) return null;
  const who = capital(the(partName(fuse.subject)));
  if (fuse.meltTime !== null) return [`${who} melted ${when(run.scenario, fuse.meltTime)}.`];
  return [`${who} came ${show(fuse.peakTheta, "ratio", 2)} of the way to melting.`];
}

/** Two that never melted are alike: Infinity − Infinity would be no number. */
function order(a: number, b: number): number {
  return a === b ? 0 : a - b;
}
