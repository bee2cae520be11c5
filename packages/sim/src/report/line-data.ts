import { columnName } from "../model/readings.ts";
import type { Run } from "../model/result.ts";
import { describeValue, type ScenarioResult } from "../scenario/index.ts";
import type { Clamp, Crowbar, Load, Source } from "../scenario/types.ts";
import { show } from "../verdict/words.ts";
import type { LineBranch, LineDiagramData, LinePart } from "./figure/line/types.ts";
import { stateRows } from "./state-rows.ts";
import type { StateRow } from "./state-types.ts";

/** What a diagram of a line shows beside its parts. */
export interface LineDiagramChoice {
  /** Whose states and readings are written; left out: none are. */
  readonly run?: Run;
  /** At which time of that run, s since its start; just after what happens then. Left out: its start. */
  readonly time?: number;
  /** Above the diagram; left out: the scenario's title, and its question. */
  readonly title?: string;
  /** Below the title; left out: the scenario's question. */
  readonly subtitle?: string;
  /** In small type: how the run ended and on which values; left out: nothing. */
  readonly facts?: string;
}

/** What is looked up in a run: states by the labels of `stateRows`, readings by the columns of the trace. */
interface Seen {
  state(label: string): LinePart["state"];
  value(name: string, unit: "V" | "A"): string | null;
}

/**
 * The line of a scenario as it is wired: what `lineDiagram` draws.
 *
 * @param parsed of `parseScenario`, without errors: the words of the file for parts and leads come from it
 * @param choice whose states and readings are written, at which time, and what stands above
 * @returns texts with their units
 * @throws RangeError for a file with errors, or a time outside the run
 * @example lineDiagramData(result.parsed, { run: result.run, time: result.run.events[1].time })
 */
export function lineDiagramData(parsed: ScenarioResult, choice: LineDiagramChoice = {}): LineDiagramData {
  const scenario = choice.run?.scenario ?? parsed.scenario;
  if (scenario === null) throw new RangeError("the scenario has errors: there is no line to be drawn");
  const seen = choice.run === undefined ? nothingSeen : seenIn(choice.run, choice.time ?? choice.run.trace.time[0]);
  const { question } = parsed.about;
  const { mainFuse, crowbar, clamp, seriesSwitch } = scenario;
  return {
    title: choice.title ?? scenario.title,
    subtitle: choice.subtitle ?? question,
    ...(choice.facts === undefined ? {} : { facts: choice.facts }),
    sources: scenario.sources.map((source, i) => sourceBranch(parsed, source, i, seen)),
    mainFuse:
      mainFuse === null
        ? null
        : part("fuse", "main fuse", [mainFuse.label], seen.state("main fuse"), seen.value("main fuse", "A")),
    across: [
      ...(crowbar === null ? [] : [scrPart(crowbar, "SCR", seen.state("SCR"), seen.value("crowbar", "A"))]),
      ...(clamp === null ? [] : [clampPart(clamp, seen.state("clamp"), seen.value("clamp", "A"))]),
    ],
    seriesSwitch:
      seriesSwitch === null
        ? null
        : part(
            seriesSwitch.kind,
            "series switch",
            [seriesSwitch.label, `opens at ${volts(seriesSwitch.offVoltage)}`],
            seen.state("series switch"),
          ),
    loads: scenario.loads.map((load, i) => loadBranch(parsed, load, i, seen)),
    readings: {
      supplySide: mainFuse === null ? null : seen.value("supply side", "V"),
      protectedSide: seen.value("protected side", "V"),
      radioSide: seriesSwitch === null ? null : seen.value("radio side", "V"),
    },
  };
}

const nothingSeen: Seen = { state: () => null, value: () => null };

function seenIn(run: Run, time: number): Seen {
  const { trace } = run;
  const last = trace.time.length - 1;
  // A run that came to rest goes on as it is.
  const end = Math.max(trace.time[last], run.scenario.endTime);
  if (!(time >= trace.time[0] && time <= end))
    throw new RangeError(`the time is ${time} s, allowed: from ${trace.time[0]} to ${end} s`);
  const rows = new Map(stateRows(run).map((row) => [row.label, row]));
  const index = trace.time.findLastIndex((each) => each <= time);
  return {
    state: (label) => stateAt(rows.get(label), time),
    value: (name, unit) => {
      const full = columnName(name, unit);
      const values = trace.columns.find((column) => column.name === full)?.values;
      return values === undefined ? null : meter(values[index], unit);
    },
  };
}

function stateAt(row: StateRow | undefined, time: number): LinePart["state"] {
  const span = row?.spans.findLast(({ from }) => from <= time);
  return span === undefined ? null : { text: span.tag, tone: span.tone };
}

/** As a meter of three digits after the line's usual size would show it: nobody reads microamperes off a picture. */
function meter(value: number, unit: "V" | "A"): string {
  const size = Math.abs(value);
  if (size < 0.005) return `0 ${unit}`;
  const text = value.toFixed(size >= 99.5 ? 0 : size >= 9.95 ? 1 : 2);
  return `${text.replace("-", "−")} ${unit}`;
}

/** What a source gives: the sign of a battery that is charged would be read as a mistake. */
const given = (current: string | null): string | null =>
  current?.startsWith("−") ? `${current.slice(1)} into it` : current;

const volts = (value: number): string =>
  `${value < 99.5 && Math.abs(value * 10 - Math.round(value * 10)) < 1e-6 ? value.toFixed(1) : show(value, "voltage", 4).replace(/ V$/, "")} V`;

function part(
  kind: LinePart["kind"],
  name: string,
  details: readonly string[],
  state: LinePart["state"] = null,
  reading: string | null = null,
): LinePart {
  return { kind, name, details: details.filter((each) => each !== "" && each !== name), state, reading };
}

function scrPart(spec: Crowbar, name: string, state: LinePart["state"], reading: string | null): LinePart {
  const gate = { plain: "", held: "gate kept on until reset", latched: "also opens the series switch" }[spec.variant];
  return part("SCR", name, [`trips at ${volts(spec.tripVoltage)}`, spec.label, gate], state, reading);
}

function clampPart(spec: Clamp, state: LinePart["state"], reading: string | null): LinePart {
  return part("clamp", "clamp", [`from ${volts(spec.breakdownVoltage)}`, spec.label], state, reading);
}

function sourceBranch(parsed: ScenarioResult, source: Source, index: number, seen: Seen): LineBranch {
  const { name } = source;
  const readings = [seen.value(name, "V"), given(seen.value(name, "A"))].filter((each) => each !== null);
  const state = source.kind === "battery" ? null : seen.state(name);
  const own = source.kind === "supply" ? source.ownCrowbar : null;
  return {
    part: part(
      source.kind,
      name,
      [partClass(parsed, ["sources", index]), ...ratings(source)],
      state,
      readings.length === 0 ? null : readings.join(", "),
    ),
    lead: leadText(parsed, ["sources", index], source.lead),
    inLead: [...inLead(name, source.lead, seen), ...(source.diode === null ? [] : [part("diode", "diode", ["diode"])])],
    across:
      own === null
        ? []
        : [scrPart(own, "own SCR", seen.state(`${name} own SCR`), seen.value(`${name} own crowbar`, "A"))],
  };
}

function ratings(source: Source): readonly string[] {
  if (source.kind === "battery") return [`${volts(source.emf)}, ${show(source.capacityAh, "charge")}`];
  if (source.kind === "panel")
    return [`${volts(source.openCircuitVoltage)} open, ${show(source.shortCircuitCurrent, "current")}`];
  const { limit } = source;
  const limited = limit.style === "none" ? "no current limit" : `${limit.style} at ${show(limit.current, "current")}`;
  return [`${volts(source.setVoltage)}, ${limited}`];
}

function loadBranch(parsed: ScenarioResult, load: Load, index: number, seen: Seen): LineBranch {
  const { name, limits, clamp } = load;
  return {
    part: part(
      "load",
      name,
      [partClass(parsed, ["loads", index]), `stands ${window(limits)}`],
      load.dropOut === null ? null : seen.state(name),
      seen.value(name, "V"),
    ),
    lead: leadText(parsed, ["loads", index], load.lead),
    inLead: inLead(name, load.lead, seen),
    across: clamp === null ? [] : [clampPart(clamp, seen.state(`${name} clamp`), seen.value(`${name} clamp`, "A"))],
  };
}

const window = ({ minimum, maximum }: Load["limits"]): string =>
  `${show(minimum, "voltage", 4).replace(/ V$/, "")} to ${show(maximum, "voltage", 4)}`;

function inLead(owner: string, lead: Source["lead"], seen: Seen): readonly LinePart[] {
  return [
    ...(lead.contact === null ? [] : [part("contact", "contact", ["contact"], seen.state(`${owner} contact`))]),
    ...(lead.fuse === null ? [] : [part("fuse", "in-line fuse", [lead.fuse.label], seen.state(`${owner} fuse`))]),
  ];
}

type Place = readonly ["sources" | "loads", number];

/** As the file says it: nobody needs what came of it. */
function partClass(parsed: ScenarioResult, place: Place): string {
  const value = describeValue(parsed, [...place, "part"])?.text ?? describeValue(parsed, [...place, "kind"])?.text;
  return value ?? "";
}

function leadText(parsed: ScenarioResult, place: Place, { resistance, copperArea }: Source["lead"]): string {
  const text = (key: string): string | null => {
    const found = describeValue(parsed, [...place, "lead", key]);
    return found === null || found.origin === "default" ? null : found.text.replace(/mm2$/, "mm²");
  };
  const thick = text("area") ?? text("gauge") ?? show(copperArea, "area");
  return [text("length") ?? show(resistance, "resistance"), thick.replace(" ", "\u00a0")].join(", ");
}
