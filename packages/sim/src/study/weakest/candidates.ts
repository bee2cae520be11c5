import type { ScenarioResult, TextChange } from "../../scenario/index.ts";
import type { Path } from "../../scenario/keys.ts";
import { findPart, parts } from "../../scenario/parts/index.ts";
import type { PartKind } from "../../scenario/parts/types.ts";
import { asValue, isPlainMap } from "../../scenario/text/written.ts";
import type { Fuse, Scenario } from "../../scenario/types.ts";
import { gaugeArea } from "../../scenario/wire.ts";
import type { FusePlace } from "./place.ts";

/** Cross-sections of copper conductors as they are sold, mm²: IEC 60228. */
export const METRIC_SIZES = [0.75, 1, 1.5, 2.5, 4, 6, 10, 16] as const;
/** The gauges that lie beside them. */
const GAUGES = [18, 16, 14, 12, 10, 8, 6, 4] as const;

/** Keys of a crowbar that a data sheet gives; the others (trip point, filter, heat sink, wiring) belong to the line. */
const SHEET_KEYS = [
  "label",
  "threshold voltage",
  "slope resistance",
  "leak resistance",
  "holding current",
  "latching current",
  "turn on delay",
  "turn off time",
  "fail temperature",
  "junction stages",
  "surge duration",
  "junction to case",
  "ratings",
] as const;

/** A part that takes part, before its values are looked up. */
export interface Named {
  readonly name: string;
  readonly yours: boolean;
  readonly changes: readonly TextChange[];
}

/** What the rules of a fuse alone need, which a part class tells without its thermal model. */
export type FuseFacts = Pick<
  Fuse,
  "ratedCurrent" | "ratedVoltage" | "breakingCapacity" | "nominalMeltingI2t" | "meltingTemperature"
>;

/** Where the fuse of a line stands: its main fuse; else the in-line fuse of the source with the largest fault current; else a new main fuse. */
export function fusePlaceOf(scenario: Scenario, strength: (index: number) => number): FusePlace {
  const fused = scenario.sources.flatMap(({ lead }, index) => (lead.fuse === null ? [] : [index]));
  if (scenario.mainFuse !== null || fused.length === 0) return { kind: "main" };
  return { kind: "source", index: fused.sort((a, b) => strength(b) - strength(a))[0] };
}

export function fusePath(place: FusePlace): Path {
  return place.kind === "main" ? ["main fuse"] : ["sources", place.index, "lead", "fuse"];
}

export function fuseAt(scenario: Scenario, place: FusePlace): Fuse | null {
  return place.kind === "main" ? scenario.mainFuse : scenario.sources[place.index].lead.fuse;
}

/** What is written at a path, as plain data; undefined where nothing stands. */
export function writtenAt(written: unknown, path: Path): unknown {
  let at: unknown = written;
  for (const step of path) {
    if (Array.isArray(at) && typeof step === "number") at = at[step];
    else if (isPlainMap(at) && typeof step === "string") at = at[step];
    else return undefined;
  }
  return at;
}

/** The class that is written somewhere without any value of its own beside `free` keys; null for a part with own values. */
function pureClass(kind: PartKind, written: unknown, own: readonly string[] | "all but part"): string | null {
  const { part, ...others } = isPlainMap(written) ? written : { part: written };
  const given = Object.keys(others).filter((key) => own === "all but part" || own.includes(key));
  return typeof part === "string" && given.length === 0 ? (findPart(kind, part)?.name ?? null) : null;
}

function withYours(kind: PartKind, pure: string | null, label: string | null, make: (name: string) => Named): Named[] {
  const classes = parts.filter((part) => part.kind === kind).map(({ name }) => name);
  const own = label !== null && pure === null;
  // A class with some values of its own is another part than the class.
  const ownName = label !== null && classes.includes(label) ? `${label}, your values` : (label ?? "");
  return [
    ...(own ? [{ name: ownName, yours: true, changes: [] }] : []),
    ...classes.map((name) => (name === pure ? { name, yours: true, changes: [] } : make(name))),
  ];
}

/** The user's own fuse and every class. */
export function fuseCandidates(parsed: ScenarioResult, scenario: Scenario, place: FusePlace): Named[] {
  const path = fusePath(place);
  const written = writtenAt(parsed.written, path);
  const fuse = fuseAt(scenario, place);
  const pure = fuse === null ? null : pureClass("fuse", written, "all but part");
  // How it starts is a matter of the run, not of the part.
  const start = isPlainMap(written) && typeof written.start === "string" ? `, start: ${asValue(written.start)}` : "";
  return withYours("fuse", pure, fuse?.label ?? null, (name) => ({
    name,
    yours: false,
    changes: [[path, start === "" ? asValue(name) : `{part: ${asValue(name)}${start}}`]],
  }));
}

/** The user's own SCR and every class; what belongs to the line stays. */
export function scrCandidates(parsed: ScenarioResult, scenario: Scenario): Named[] {
  const written = writtenAt(parsed.written, ["crowbar"]);
  const pure = pureClass("crowbar", written, SHEET_KEYS);
  const given = isPlainMap(written) ? SHEET_KEYS.filter((key) => written[key] !== undefined) : [];
  return withYours("crowbar", pure, scenario.crowbar?.label ?? null, (name) => ({
    name,
    yours: false,
    changes: [
      ...given.map((key): TextChange => [["crowbar", key], null]),
      [["crowbar", "part"], asValue(name)] satisfies TextChange,
    ],
  }));
}

/** `4 mm²`, `12 AWG` with its value in a file and its area in m². */
export interface WireSize {
  readonly name: string;
  readonly key: "area" | "gauge";
  readonly value: string;
  readonly area: number;
}

function metric(size: number): WireSize {
  return { name: `${size} mm²`, key: "area", value: `${size} mm2`, area: size * 1e-6 };
}

export function gauge(number: number | string): WireSize {
  return { name: `${number} AWG`, key: "gauge", value: `${number} AWG`, area: gaugeArea(number) };
}

/** The wire as it stands and every size as it is sold, thin ones first; only leads given by their length can be changed. */
export function wireCandidates(
  parsed: ScenarioResult,
  scenario: Scenario,
  sizes?: readonly WireSize[],
): (Named & { readonly area: number })[] {
  const leads = scenario.sources.map((_, index) => writtenAt(parsed.written, ["sources", index, "lead"]));
  const changeable = leads.flatMap((lead, index) => (isPlainMap(lead) && lead.length !== undefined ? [index] : []));
  const gaugeOfFirst = writtenAt(parsed.written, ["sources", 0, "lead", "gauge"]);
  const byGauge = gaugeOfFirst !== undefined;
  const known = sizes ?? (byGauge ? GAUGES.map(gauge) : METRIC_SIZES.map(metric));
  const areas = scenario.sources.map(({ lead }) => lead.copperArea);
  const same = areas.every((area) => Math.abs(area / areas[0] - 1) < 1e-9);
  const yours: WireSize = byGauge
    ? { ...metric(0), name: String(gaugeOfFirst), area: areas[0] }
    : { ...metric(0), name: `${Number((areas[0] * 1e6).toPrecision(3))} mm²`, area: areas[0] };
  const own = { name: same ? yours.name : "your wires", yours: true, changes: [], area: Math.min(...areas) };
  const others =
    changeable.length === 0 ? [] : known.filter(({ area }) => !same || Math.abs(area / areas[0] - 1) > 1e-6);
  return [
    own,
    ...others.map(({ name, key, value, area }) => ({
      name,
      yours: false,
      area,
      changes: changeable.flatMap((index) => wireChanges(["sources", index, "lead"], leads[index], key, value)),
    })),
  ].sort((a, b) => a.area - b.area);
}

/** Another cross-section for a lead; a given spacing may be too small for it, so the pair lies side by side. */
export function wireChanges(path: Path, written: unknown, key: "area" | "gauge", value: string): TextChange[] {
  const given = isPlainMap(written) ? written : {};
  const other = key === "area" ? "gauge" : "area";
  return [
    ...[other, "spacing"].flatMap((each): TextChange[] => (given[each] === undefined ? [] : [[[...path, each], null]])),
    [[...path, key], value],
  ];
}

/** What a class tells of a fuse without its thermal model. */
export function factsOfClass(name: string): FuseFacts | null {
  const values = findPart("fuse", name)?.values;
  if (values === undefined) return null;
  const number = (key: string): number | null => {
    const value = values[key]?.value;
    return typeof value === "number" ? value : null;
  };
  return {
    ratedCurrent: number("ratedCurrent"),
    ratedVoltage: number("ratedVoltage") ?? Number.NaN,
    breakingCapacity: number("breakingCapacity"),
    nominalMeltingI2t: number("nominalMeltingI2t"),
    meltingTemperature: number("meltingTemperature"),
  };
}
