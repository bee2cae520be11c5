import { InvalidInput, type Issue } from "../../issue/issue.ts";
import { restVoltage } from "../../scenario/check/errors.ts";
import {
  changeTexts,
  type FitMemory,
  parseScenario,
  type ScenarioResult,
  type TextChange,
} from "../../scenario/index.ts";
import { fuseDuties } from "../../scenario/prospective.ts";
import type { Crowbar, Fuse, Scenario } from "../../scenario/types.ts";
import { partName } from "../../verdict/words.ts";
import {
  type FuseFacts,
  factsOfClass,
  fuseAt,
  fuseCandidates,
  fusePath,
  fusePlaceOf,
  type Named,
  scrCandidates,
  wireCandidates,
  writtenAt,
} from "./candidates.ts";
import { broken, unreadable } from "./check.ts";
import { dumpOf } from "./dump.ts";
import { lastingCurrent } from "./fault-current.ts";
import { fuseChecks } from "./fuse-rules.ts";
import { lineAlone } from "./line-alone.ts";
import type { ReadOptions } from "./options.ts";
import type { FusePlace } from "./place.ts";
import { type ScrRules, scrRules } from "./scr-rules.ts";
import { type Draw, largestDraws, switchOnI2t } from "./service.ts";
import type { Candidate, LineFacts } from "./types.ts";
import { loadWireChecks } from "./wire-rules.ts";

/** A fuse with its thermal model; null where a rule of its own has thrown it out before. */
export interface PlannedFuse extends Candidate {
  readonly fuse: Fuse | null;
}
/** Parts with which the file cannot be read: they are told, and go into no combination. */
interface RefusedParts {
  readonly scrs: readonly Candidate[];
  readonly wires: readonly Candidate[];
}
export interface PlannedScr extends Candidate {
  readonly crowbar: Crowbar;
  readonly rules: ScrRules;
}
export interface PlannedWire extends Candidate {
  /** The line's sources with this wire. */
  readonly sources: Scenario["sources"];
  readonly area: number;
}

/** All parts that take part, each held against the rules that speak of it alone. */
export interface Parts {
  readonly scenario: Scenario;
  readonly place: FusePlace;
  readonly facts: LineFacts;
  readonly draws: readonly Draw[];
  readonly restVoltage: number;
  readonly fuses: readonly PlannedFuse[];
  readonly scrs: readonly PlannedScr[];
  readonly wires: readonly PlannedWire[];
  readonly refused: RefusedParts;
}

/**
 * Looks up every part and holds it against its own rules, cheap ones first: a fuse that does not carry the load is never fitted. A generator,
 * so that a page may breathe between two parts.
 *
 * @throws InvalidInput where the line cannot be asked this question, or options fit nothing
 */
export function* planParts(
  text: string,
  file: string,
  options: ReadOptions,
  memory: FitMemory,
): Generator<void, Parts, void> {
  const parsed = parseScenario(text, file, memory);
  const { scenario } = parsed;
  if (scenario === null) throw new InvalidInput(parsed.issues);
  const { crowbar } = scenario;
  if (crowbar === null) throw new InvalidInput([noCrowbar()]);
  yield;
  const base = baseOf(parsed, scenario, options);
  const { place } = base;
  const bare = lineAlone(text, memory);
  const read: Read = (changes) => {
    if (changes.length === 0) return parsed;
    try {
      return parseScenario(changeTexts(bare, changes, undefined, memory.texts), file, memory);
    } catch (error) {
      // A part that cannot be put into the file is told like one with which it cannot be read.
      if (!(error instanceof InvalidInput)) throw error;
      return { ...parsed, scenario: null, issues: error.issues };
    }
  };
  const refused = { scrs: [] as Candidate[], wires: [] as Candidate[] };
  const scrs: PlannedScr[] = [];
  for (const named of scrCandidates(parsed, scenario).filter(takesPart(options.scrs))) {
    const line = read(named.changes);
    const resolved = line.scenario?.crowbar ?? null;
    if (resolved !== null) scrs.push(plannedScr(named, scenario, resolved, place));
    else refused.scrs.push({ ...named, checks: [unreadable(named.name, "SCR", line)] });
    yield;
  }
  const wires: PlannedWire[] = [];
  for (const { area, ...named } of wireCandidates(parsed, scenario, options.wires ?? undefined)) {
    const line = read(named.changes);
    if (line.scenario !== null) wires.push({ ...named, checks: [], sources: line.scenario.sources, area });
    else refused.wires.push({ ...named, checks: [unreadable(named.name, "wire", line)] });
    yield;
  }
  const fuses: PlannedFuse[] = [];
  for (const named of fuseCandidates(parsed, scenario, place).filter(takesPart(options.fuses))) {
    fuses.push(plannedFuse(named, base, read, parsed.written));
    yield;
  }
  return { ...base, fuses, scrs, wires, refused };
}

/** The line with other parts. */
type Read = (changes: readonly TextChange[]) => ScenarioResult;

const takesPart =
  (wanted: readonly string[] | null) =>
  ({ name, yours }: Named): boolean =>
    yours || wanted === null || wanted.includes(name);

function noCrowbar(): Issue {
  return {
    severity: "error",
    code: "no-crowbar",
    path: "crowbar",
    message: "This line has no crowbar, so there is no SCR that could go first.",
    received: null,
    allowed: "a line with a `crowbar`",
    hint: "write `crowbar: {part: SCR 25 A, trip voltage: 15 V, sense filter: fast}`",
    position: null,
  };
}

type Base = Omit<Parts, "fuses" | "scrs" | "wires" | "refused">;

function baseOf(parsed: ScenarioResult, scenario: Scenario, options: ReadOptions): Base {
  const { sources, ambient } = scenario;
  const alone = (index: number): number =>
    lastingCurrent({ ...scenario, sources: [sources[index]] }, { kind: "main" }).scr;
  const place = fusePlaceOf(scenario, alone);
  const lasting = lastingCurrent(scenario, place);
  const known = largestDraws(parsed);
  const total = known.reduce((sum, { current }) => sum + current, 0);
  // What the user says stands for all loads together; each keeps its share.
  const factor = options.load === null ? 1 : options.load / total;
  const draws = known.map((draw) => ({ ...draw, current: draw.current * factor }));
  const rest = restVoltage(sources);
  const owner = place.kind === "main" ? "" : sources[place.index].name;
  const facts: LineFacts = {
    title: parsed.about.title,
    ambient,
    fusePlace: partName({ part: place.kind === "main" ? "main fuse" : "in-line fuse", owner }),
    service: {
      current: options.load ?? total,
      source: options.load !== null ? "as you gave it" : serviceSource(known),
    },
    switchOnI2t: switchOnI2t(scenario, rest),
    lasting: { current: lasting.scr, style: lasting.style },
    onShare: lasting.pulses?.onShare ?? 1,
    prospective: prospective(scenario, place),
    dumpI2t: dumpOf(scenario, place),
  };
  return { scenario, place, facts, draws, restVoltage: rest };
}

function serviceSource(draws: readonly Draw[]): string {
  const byClass = draws.filter((each) => each.byClass).map(({ load }) => load);
  if (byClass.length === 0) return "the most that the loads draw by their own values";
  if (byClass.length === draws.length) return "what the loads draw on transmit, by their part classes";
  return `the most that the loads draw, by their own values, and on transmit by part class: ${byClass.join(", ")}`;
}

/** By voltage over resistance, also where there is no fuse yet. */
function prospective(scenario: Scenario, place: FusePlace): LineFacts["prospective"] {
  const path = fusePath(place).join(".");
  const own = fuseDuties(scenario).find((duty) => duty.path.join(".") === path);
  if (own !== undefined) return own.available;
  // A fuse that is not there yet: any one in its place shows what flows past it.
  const pretended = { ...scenario, mainFuse: { ...emptyFuse } };
  const [{ available }] = fuseDuties(pretended).filter((duty) => duty.path[0] === "main fuse");
  return available;
}

const emptyFuse: Fuse = Object.freeze({
  label: "",
  ratedCurrent: null,
  ratedVoltage: Number.POSITIVE_INFINITY,
  breakingCapacity: null,
  nominalMeltingI2t: null,
  coldResistance: 0,
  resistanceRatio: 1,
  minimumMeltingCurrent: Number.POSITIVE_INFINITY,
  stages: [],
  arcVoltage: 1,
  extinctionCurrent: 0,
  extinctionTime: 0,
  meltingTemperature: null,
  start: "cold",
});

function plannedScr(named: Named, scenario: Scenario, crowbar: Crowbar, place: FusePlace): PlannedScr {
  const line = { ...scenario, crowbar };
  const rules = scrRules(named.name, line, crowbar, lastingCurrent(line, place));
  return { ...named, crowbar, rules, checks: rules.checks };
}

function plannedFuse(named: Named, { scenario, place, facts }: Base, read: Read, written: unknown): PlannedFuse {
  const own = named.yours ? fuseAt(scenario, place) : null;
  const known: FuseFacts | null = own ?? factsOfClass(named.name);
  if (known === null) return { ...named, checks: [], fuse: null };
  const checks = fuseChecks(named, known, facts, fusePath(place));
  const failed = broken(checks);
  // One that fails only by what a better one of its kind would have may still show the cheapest change.
  const worth = failed.length === 0 || (failed.length === 1 && (failed[0].mend?.changes.length ?? 0) > 0);
  const line = worth || own !== null ? read(named.changes) : null;
  if (line?.scenario === null)
    return { ...named, checks: [...checks, unreadable(named.name, "fuse", line)], fuse: null };
  const fuse = line === null ? null : fuseAt(line.scenario, place);
  if (fuse === null || place.kind !== "main") return { ...named, checks, fuse };
  const leads = scenario.loads.map((_, index) => writtenAt(written, ["loads", index, "lead"]));
  return { ...named, checks: [...checks, ...loadWireChecks(named.name, fuse, scenario, leads)], fuse };
}
