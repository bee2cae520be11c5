import { keyOf } from "../keys.ts";
import { isMap, Section } from "../section.ts";
import type { CurrentLimit, Reservoir, Supply, SupplyFault } from "../types.ts";
import { resolveCrowbar } from "./crowbar.ts";
import type { LineFacts } from "./load.ts";

const styles = ["none", "constant current", "foldback", "hiccup", "latch off"] as const;
const faultKinds = ["none", "voltage turned up", "lost feedback", "shorted pass transistor"] as const;

/** The values of a supply; a charger is one that limits to a constant current and whose fault is lost feedback. */
export function supplyValues(
  section: Section,
  kind: "supply" | "charger",
  line: LineFacts,
): Omit<Supply, "name" | "lead" | "diode"> {
  const ownCrowbar = section.raw("ownCrowbar");
  const path = [...section.path, keyOf("ownCrowbar")];
  return {
    kind: "supply",
    setVoltage: section.number("setVoltage", "voltage"),
    sourceResistance: section.number("sourceResistance", "resistance"),
    responseTime: section.number("responseTime", "time"),
    outputCapacitance: section.number("outputCapacitance", "capacitance"),
    esr: section.number("esr", "resistance"),
    bleederResistance: section.number("bleederResistance", "resistance"),
    limit: limitOf(section, kind),
    reservoir: reservoirOf(section),
    shutdown: shutdownOf(section),
    ownCrowbar:
      ownCrowbar === undefined || ownCrowbar === "none"
        ? null
        : resolveCrowbar(section.sheet, path, ownCrowbar, `${section.label}: own crowbar`),
    switchOn: switchOnOf(section, line),
    fault: faultOf(section, kind),
  };
}

function limitOf(supply: Section, kind: "supply" | "charger"): CurrentLimit {
  if (supply.raw("limit") === "none") return { style: "none" };
  const section = supply.child("limit", true);
  if (section === null) return { style: "none" };
  const rule =
    kind === "charger"
      ? ({ value: "constant current", source: "what a charger is", mark: "common practice" } as const)
      : null;
  const style = section.word("style", styles, rule);
  const current = (): number => section.number("current", "current");
  const time = (field: string): number => section.number(field, "time");
  let limit: CurrentLimit = { style: "none" };
  if (style === "constant current") limit = { style, current: current() };
  if (style === "foldback")
    limit = { style, current: current(), shortCircuitCurrent: section.number("shortCircuitCurrent", "current") };
  if (style === "latch off") limit = { style, current: current(), detectionTime: time("detectionTime") };
  if (style === "hiccup") {
    limit = {
      style,
      current: current(),
      detectionTime: time("detectionTime"),
      offTime: time("offTime"),
      rampTime: time("rampTime"),
    };
  }
  if (kind === "charger" && style !== null && style !== "constant current") {
    supply.sheet.error(
      "wrong-word",
      [...section.path, "style"],
      `A charger limits to a constant current, not by \`${style}\`.`,
      { allowed: "constant current", hint: "call it `kind: supply`" },
    );
  }
  if (style !== null) section.finish(`with the limit style \`${style}\``);
  return limit;
}

function reservoirOf(supply: Section): Reservoir | null {
  const section = supply.child("reservoir");
  if (section === null) return null;
  const ripple = section.flag("ripple");
  const reservoir: Reservoir = {
    rawVoltage: section.number("rawVoltage", "voltage"),
    rawResistance: section.number("rawResistance", "resistance"),
    capacitance: section.number("capacitance", "capacitance"),
    dropOutResistance: section.number("dropOutResistance", "resistance"),
    ripple,
    mainsFrequency: ripple
      ? section.number("mainsFrequency", "frequency")
      : ((section.raw("mainsFrequency") as number | undefined) ?? 60),
  };
  section.finish("in a reservoir");
  return reservoir;
}

function shutdownOf(supply: Section): Supply["shutdown"] {
  const section = supply.child("shutdown");
  if (section === null) return null;
  const shutdown = {
    voltage: section.number("voltage", "voltage"),
    delay: section.number("delay", "time"),
    worksOnLostFeedback: section.flag("worksOnLostFeedback"),
  };
  section.finish("on a supply's own OVP");
  return shutdown;
}

function switchOnOf(supply: Section, line: LineFacts): Supply["switchOn"] {
  const written = supply.raw("switchOn");
  if (!line.startsDead) {
    if (written !== undefined) {
      supply.sheet.error(
        "key-without-effect",
        [...supply.path, keyOf("switchOn")],
        "`switch on` has an effect only with `start: dead`.",
        { at: "key", hint: "write `start: dead`, or delete it" },
      );
    }
    return { time: 0, rampTime: 0 };
  }
  const section = supply.child("switchOn", true);
  if (section === null) return { time: 0, rampTime: 0 };
  const switchOn = { time: section.number("time", "time"), rampTime: section.number("rampTime", "time") };
  section.finish("at switching on");
  if (switchOn.time >= line.endTime) {
    supply.sheet.error("after-the-end", [...section.path, "time"], "It is switched on only after the end of the run.", {
      hint: "lengthen `run for`",
    });
  }
  return switchOn;
}

function faultOf(supply: Section, kind: "supply" | "charger"): SupplyFault {
  const value = supply.raw("fault");
  const path = [...supply.path, "fault"];
  if (supply.sheet.isSpoilt(path) || supply.sheet.isSpoilt([...path, "kind"])) return { kind: "none" };
  const written = isMap(value) ? value : {};
  const section = new Section(supply.sheet, path, written, {
    ...supply.sources,
    prefix: `${supply.sources.prefix}fault.`,
  });
  const said = typeof value === "string" ? value : section.raw("kind");
  if (isMap(value) && said === undefined) {
    supply.sheet.error("missing", [...path, "kind"], "Nothing says which fault this is.", {
      received: null,
      allowed: faultKinds.join(", "),
    });
    return { kind: "none" };
  }
  const name = said ?? (kind === "charger" ? "lost feedback" : "none");
  if (said === undefined && kind === "charger") {
    supply.note("fault", "lost feedback", { source: "the fault of a charger", mark: "common practice" });
  }
  if (kind === "charger" && name !== "lost feedback" && name !== "none") {
    supply.sheet.error("wrong-fault", path, `The fault of a charger is \`lost feedback\`, not \`${name}\`.`, {
      allowed: "lost feedback | none",
      hint: "call it `kind: supply`",
    });
    return { kind: "none" };
  }
  // A class knows how fast its output runs away, not how fast somebody turns a knob.
  const turned = new Section(supply.sheet, path, written, { ...section.sources, part: null, kinds: [] });
  if (isMap(value)) turned.raw("kind");
  const used = name === "voltage turned up" ? turned : section;
  const fault = faultNamed(used, name);
  used.finish(`with the fault \`${name}\``);
  return fault;
}

function faultNamed(section: Section, name: unknown): SupplyFault {
  const slew = (): number => section.number("slew", "voltage slew");
  switch (name) {
    case "voltage turned up":
      return { kind: name, endVoltage: section.number("endVoltage", "voltage"), slew: slew() };
    case "lost feedback":
      return { kind: name, ceilingVoltage: section.number("ceilingVoltage", "voltage"), slew: slew() };
    case "shorted pass transistor":
      return { kind: name, passResistance: section.number("passResistance", "resistance") };
    default:
      return { kind: "none" };
  }
}
