import { formatQuantity } from "../../units/index.ts";
import { computed, withstandCurves } from "../defaults.ts";
import { keyOf, type Path } from "../keys.ts";
import { isMap, openSection, Section } from "../section.ts";
import type { Sheet } from "../sheet.ts";
import type { Load } from "../types.ts";
import { resolveLead } from "./lead.ts";
import { inOrder } from "./order.ts";
import { resolveClamp } from "./protectors.ts";

export interface LineFacts {
  readonly ambient: number;
  readonly endTime: number;
  /** Set voltage of the first supply, V; null where there is none. */
  readonly setVoltage: number | null;
  readonly startsDead: boolean;
}

const kinds = ["resistive", "constant current", "constant power", "lamp"] as const;
const scheduled = {
  resistive: "resistance",
  "constant current": "current",
  "constant power": "power",
  lamp: null,
} as const;

export function resolveLoad(sheet: Sheet, path: Path, value: unknown, name: string, line: LineFacts): Load {
  const section = openSection(sheet, path, value, { noun: name, table: "load", kinds: ["load"] });
  section.raw("name");
  const kind = section.word("kind", kinds);
  const simple = kind === "resistive" || kind === "lamp";
  const base = {
    name,
    lead: resolveLead(sheet, section, line.ambient, line.endTime),
    inputCapacitance: section.number("inputCapacitance", "capacitance", simple ? computed.noInputCapacitance : null),
    esr: section.number("esr", "resistance"),
    limits: limitsOf(section),
    schedule: kind === null ? [] : scheduleOf(section, kind, line.endTime),
    clamp: null as Load["clamp"],
    dropOut: dropOutOf(section),
  };
  const clampValue = section.raw("clamp");
  if (clampValue !== undefined && clampValue !== "none")
    base.clamp = resolveClamp(sheet, [...path, "clamp"], clampValue, `${name}: clamp`);
  const load =
    kind === null
      ? { ...base, kind: "resistive" as const, resistance: Number.NaN }
      : withKind(section, base, kind, line);
  if (kind !== null) section.finish(`on a ${kind} load`);
  return load;
}

type Base = Omit<Load, "kind">;

function withKind(section: Section, base: Base, kind: (typeof kinds)[number], line: LineFacts): Load {
  const knee = (): number =>
    section.number("kneeVoltage", "voltage", computed.loadKneeVoltage(line.setVoltage ?? 12.8));
  switch (kind) {
    case "resistive":
      return { ...base, kind, resistance: section.number("resistance", "resistance") };
    case "constant current":
      return { ...base, kind, current: section.number("current", "current"), kneeVoltage: knee() };
    case "constant power":
      return { ...base, kind, power: section.number("power", "power"), kneeVoltage: knee() };
    case "lamp":
      return {
        ...base,
        kind,
        nominalPower: section.number("nominalPower", "power"),
        nominalVoltage: section.number("nominalVoltage", "voltage"),
        nominalTemperature: section.number("nominalTemperature", "absolute temperature"),
        coldTemperature: section.number("coldTemperature", "absolute temperature"),
        exponent: section.number("exponent", "number"),
        heatCapacity: section.number("heatCapacity", "heat capacity"),
      };
  }
}

function limitsOf(load: Section): Load["limits"] {
  const value = load.raw("limits");
  // A bare name sets the withstand curve; the window then comes from the part class.
  const written = typeof value === "string" ? { withstand: value } : isMap(value) ? value : {};
  const section = new Section(load.sheet, [...load.path, "limits"], written, {
    ...load.sources,
    prefix: `${load.sources.prefix}limits.`,
  });
  const minimum = section.number("minimum", "voltage");
  const maximum = section.number("maximum", "voltage");
  const curve = section.raw("withstand");
  if (Array.isArray(curve)) {
    const withstand = curve.map((entry, index) => {
      const about = {
        ...section.sources,
        noun: "an entry of the withstand curve",
        table: "none",
        part: null,
        kinds: [],
      };
      const item = new Section(load.sheet, [...section.path, "withstand", index], entry, about);
      return { voltage: item.number("voltage", "voltage"), time: item.number("time", "time") };
    });
    checkCurve(section, withstand);
    section.finish("among the limits of a load");
    return { minimum, maximum, withstand, withstandAssumed: false };
  }
  const name = section.text("withstand") ?? "strict";
  const cited = withstandCurves[name] ?? withstandCurves.strict;
  if (curve !== undefined && cited.value.length > 0) {
    const levels = cited.value.map(
      ({ voltage, time }) => `${formatQuantity(voltage, "voltage")} ${formatQuantity(time, "time")}`,
    );
    section.note("withstand", `${name}: ${levels.join(", ")}`, cited);
  }
  section.finish("among the limits of a load");
  return {
    minimum,
    maximum,
    withstand: cited.value,
    withstandAssumed: cited.mark === "assumed" && cited.value.length > 0,
  };
}

function checkCurve(section: Section, curve: readonly { voltage: number; time: number }[]): void {
  curve.forEach(({ voltage, time }, index) => {
    if (index === 0) return;
    const before = curve[index - 1];
    const path = [...section.path, "withstand", index];
    if (voltage <= before.voltage) {
      section.sheet.error(
        "not-rising",
        [...path, "voltage"],
        "The voltages of a withstand curve must rise from entry to entry.",
        { allowed: `more than ${formatQuantity(before.voltage, "voltage")}` },
      );
    }
    if (time > before.time) {
      section.sheet.error(
        "not-falling",
        [...path, "time"],
        "A higher voltage cannot be allowed for longer than a lower one.",
        { allowed: `at most ${formatQuantity(before.time, "time")}` },
      );
    }
  });
}

function scheduleOf(load: Section, kind: (typeof kinds)[number], endTime: number): Load["schedule"] {
  const entries = load.list("schedule");
  if (entries === null) return [];
  const field = scheduled[kind];
  const path = [...load.path, "schedule"];
  if (field === null) {
    load.sheet.error("key-without-effect", path, "A lamp has no schedule: it settles by itself.", {
      at: "key",
      hint: "use a second load with a contact in its lead",
    });
    return [];
  }
  const dimension = field;
  const schedule = entries.map((entry, index) => {
    const about = { ...load.sources, noun: "an entry of the schedule", table: "none", part: null, kinds: [] };
    const item = new Section(load.sheet, [...path, index], entry, about);
    const found = { time: item.number("time", "time"), value: item.number(field, dimension) };
    item.finish(`on a ${kind} load, whose schedule gives \`${keyOf(field)}\``);
    return found;
  });
  inOrder(
    load.sheet,
    path,
    schedule.map(({ time }) => time),
    endTime,
  );
  return schedule;
}

function dropOutOf(load: Section): Load["dropOut"] {
  const section = load.child("dropOut");
  if (section === null) return null;
  const found = {
    voltage: section.number("voltage", "voltage"),
    delay: section.number("delay", "time"),
    sleepCurrent: section.number("sleepCurrent", "current"),
    returnVoltage: section.number("returnVoltage", "voltage"),
    returnDelay: section.number("returnDelay", "time"),
    comesBack: section.word("comesBack", ["by itself", "by hand"] as const) ?? "by hand",
  };
  section.finish("in a drop out");
  return found;
}
