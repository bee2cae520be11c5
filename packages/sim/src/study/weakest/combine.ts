import type { TextChange } from "../../scenario/index.ts";
import type { Crowbar, Fuse, Scenario } from "../../scenario/types.ts";
import { broken } from "./check.ts";
import { coordinate } from "./combination-rules.ts";
import { lastingCurrent } from "./fault-current.ts";
import { heatSinkToTake } from "./heat-sink.ts";
import type { FusePlace } from "./place.ts";
import type { Parts, PlannedFuse, PlannedScr, PlannedWire } from "./plan.ts";
import { roundedUp } from "./scr-rules.ts";
import type { Combination } from "./types.ts";
import { dropCheck, wireChecks } from "./wire-rules.ts";

/** How many estimated melting times a run gets to show that the fuse melts, and a margin, s. */
const PATIENCE = 4;
const MARGIN = 0.2;
/** Longer runs show nothing that their first hour does not, s. */
const LONGEST_RUN = 3600;

/** Every combination of parts that were looked up, held against the rules of pairs and of the three together; one fuse and SCR at a time. */
export function* combine(parts: Parts, allowedDrop: number | null): Generator<void, Combination[], void> {
  const all: Combination[] = [];
  for (const fuse of parts.fuses) {
    if (fuse.fuse === null) continue;
    for (const scr of parts.scrs) {
      for (const wire of parts.wires) all.push(combination(parts, fuse, fuse.fuse, scr, wire, allowedDrop));
      yield;
    }
  }
  return all;
}

/** Whether the parts of a combination and all of them together keep every rule. */
export function keepsAll(parts: Parts, combination: Combination): boolean {
  return brokenOf(parts, combination).length === 0;
}

/** Every broken rule of a combination, those of its parts alone first. */
export function brokenOf({ fuses, scrs, wires }: Parts, { fuse, scr, wire, checks }: Combination) {
  const of = (list: readonly { readonly name: string; readonly checks: Combination["checks"] }[], name: string) =>
    list.filter((each) => each.name === name).flatMap((each) => each.checks);
  return broken([...of(fuses, fuse), ...of(scrs, scr), ...of(wires, wire), ...checks]);
}

function withParts(scenario: Scenario, place: FusePlace, fuse: Fuse, crowbar: Crowbar, wire: PlannedWire): Scenario {
  if (place.kind === "main") return { ...scenario, mainFuse: fuse, crowbar, sources: wire.sources };
  const sources = wire.sources.map((source, index) =>
    index === place.index ? { ...source, lead: { ...source.lead, fuse } } : source,
  );
  return { ...scenario, crowbar, sources };
}

function combination(
  parts: Parts,
  fusePart: PlannedFuse,
  fuse: Fuse,
  scr: PlannedScr,
  wire: PlannedWire,
  allowedDrop: number | null,
): Combination {
  const { scenario, place, facts, draws } = parts;
  const line = withParts(scenario, place, fuse, scr.crowbar, wire);
  const lasting = lastingCurrent(line, place);
  const names = { fuse: fusePart.name, scr: scr.name, wire: wire.name };
  const found = coordinate(
    names,
    { scenario: line, place, crowbar: scr.crowbar, fuse },
    lasting,
    facts.prospective.voltage,
  );
  const { check, drop } = dropCheck(wire.name, line, draws, parts.restVoltage, allowedDrop);
  const { inductance } = scr.rules;
  const { heatSink } = found;
  return {
    id: `${names.fuse} + ${names.scr} + ${names.wire}`,
    ...names,
    yoursWire: wire.yours,
    changed: [fusePart, scr, wire].filter(({ yours }) => !yours).length,
    changes: [
      ...fusePart.changes,
      ...scr.changes,
      ...wire.changes,
      ...(inductance === null ? [] : [[["crowbar", "inductance"], `${(inductance * 1e9).toPrecision(3)} nH`] as const]),
      ...heatSinkChange(scr.crowbar, heatSink),
      ...longEnough(scenario, found.meltsIn),
    ],
    checks: [...found.checks, ...wireChecks(names, line, facts.service.current, found.letThrough), check],
    lasting: lasting.fuse,
    meltsIn: found.meltsIn,
    drop,
    heatSink,
    inductance,
    outcome: null,
  };
}

/** A larger heat sink where the one in the file is too small. */
function heatSinkChange(crowbar: Crowbar, needed: number | null): TextChange[] {
  if (needed === null || !(needed > 0) || crowbar.caseToAmbient <= needed) return [];
  return [[["crowbar", "case to ambient"], `${heatSinkToTake(needed)} K/W`]];
}

function longEnough({ faultTime, endTime }: Scenario, meltsIn: number | null): TextChange[] {
  if (meltsIn === null) return [];
  const needed = Math.min(LONGEST_RUN, faultTime + PATIENCE * meltsIn + MARGIN);
  return needed <= endTime ? [] : [[["run for"], `${roundedUp(needed)} s`]];
}
