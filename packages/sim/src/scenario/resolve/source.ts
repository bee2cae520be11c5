import { computed } from "../defaults.ts";
import type { Path } from "../keys.ts";
import { isMap, openSection, Section } from "../section.ts";
import type { Sheet } from "../sheet.ts";
import type { Panel, Source } from "../types.ts";
import { batteryValues } from "./battery.ts";
import { resolveLead } from "./lead.ts";
import type { LineFacts } from "./load.ts";
import { supplyValues } from "./supply.ts";

const kinds = ["supply", "charger", "battery", "panel"] as const;
export type SourceKind = (typeof kinds)[number];

/** Opens a source and finds out what it is: its own word, else the kind of its part class. */
export function openSource(
  sheet: Sheet,
  path: Path,
  value: unknown,
  name: string,
): { section: Section; kind: SourceKind | null } {
  const written = isMap(value) ? value.kind : undefined;
  const wanted = kinds.find((kind) => kind === written);
  // A supply's class may serve as a charger and the other way round.
  const allowed =
    wanted === undefined
      ? kinds
      : wanted === "supply" || wanted === "charger"
        ? (["supply", "charger"] as const)
        : [wanted];
  const section = openSection(sheet, path, value, { noun: name, table: tableOf(wanted), kinds: [...allowed] });
  section.raw("name");
  section.raw("kind");
  const ofPart = kinds.find((kind) => kind === section.sources.part?.kind);
  const kind = wanted ?? ofPart ?? null;
  if (kind === null && !section.sources.unknownPart && !sheet.isSpoilt([...path, "kind"]) && !sheet.isSpoilt(path)) {
    sheet.error("missing", [...path, "kind"], `Nothing says what \`${name}\` is.`, {
      received: null,
      allowed: kinds.join(", "),
      hint: "write `part: …` or `kind: …`",
    });
  }
  const sources = { ...section.sources, table: tableOf(kind ?? undefined) };
  return { section: reopened(section, sources), kind };
}

function reopened(section: Section, sources: Section["sources"]): Section {
  const again = new Section(section.sheet, section.path, section.written, sources);
  for (const field of ["part", "name", "kind"]) again.raw(field);
  return again;
}

function tableOf(kind: SourceKind | undefined): string {
  return kind === "battery" || kind === "panel" ? kind : "supply";
}

export function resolveSource(
  opened: { section: Section; kind: SourceKind | null },
  name: string,
  line: LineFacts,
): Source {
  const { section, kind } = opened;
  const lead = resolveLead(section.sheet, section, line.ambient, line.endTime);
  // Of unknown kind, it stands in as a source that nothing more can be said about: the list keeps its order.
  if (kind === null) return { name, lead, diode: null, ...UNKNOWN };
  const base = { name, lead, diode: diodeOf(section) };
  const source: Source =
    kind === "battery"
      ? { ...base, ...batteryValues(section, line) }
      : kind === "panel"
        ? { ...base, ...panel(section) }
        : { ...base, ...supplyValues(section, kind, line) };
  section.finish(`on a ${kind}`);
  return source;
}

const UNKNOWN: Omit<Panel, "name" | "lead" | "diode"> = {
  kind: "panel",
  shortCircuitCurrent: Number.NaN,
  openCircuitVoltage: Number.NaN,
  kneeVoltage: Number.NaN,
  outputCapacitance: Number.NaN,
  esr: Number.NaN,
  fault: { kind: "none" },
};

function diodeOf(source: Section): Source["diode"] {
  const section = source.child("diode");
  if (section === null) return null;
  const diode = {
    forwardVoltage: section.number("forwardVoltage", "voltage"),
    resistance: section.number("resistance", "resistance"),
  };
  section.finish("on a diode");
  return diode;
}

function panel(section: Section): Omit<Panel, "name" | "lead" | "diode"> {
  const openCircuitVoltage = section.number("openCircuitVoltage", "voltage");
  return {
    kind: "panel",
    shortCircuitCurrent: section.number("shortCircuitCurrent", "current"),
    openCircuitVoltage,
    kneeVoltage: section.number("kneeVoltage", "voltage", computed.panelKneeVoltage(openCircuitVoltage)),
    outputCapacitance: section.number("outputCapacitance", "capacitance"),
    esr: section.number("esr", "resistance"),
    fault: { kind: panelFault(section) },
  };
}

function panelFault(section: Section): Panel["fault"]["kind"] {
  const value = section.raw("fault");
  if (isMap(value)) {
    const map = new Section(section.sheet, [...section.path, "fault"], value, section.sources);
    map.raw("kind");
    map.finish("on a panel, whose fault has no figures");
  }
  const kind = isMap(value) ? value.kind : value;
  if (kind === undefined || kind === "none" || kind === "shorted controller") return kind ?? "none";
  section.sheet.error("wrong-fault", [...section.path, "fault"], `A panel has no fault \`${kind}\`.`, {
    allowed: "none, shorted controller",
  });
  return "none";
}
