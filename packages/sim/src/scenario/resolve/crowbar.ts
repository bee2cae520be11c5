import { formatQuantity } from "../../units/index.ts";
import { defaults } from "../defaults.ts";
import { keyOf, type Path } from "../keys.ts";
import { surgeWindows } from "../parts/junction.ts";
import { SENSE_FILTERS } from "../parts/sense.ts";
import { openSection, Section } from "../section.ts";
import type { Sheet } from "../sheet.ts";
import type { Crowbar } from "../types.ts";

/** Half-sine surge ratings of SCRs are given for 10 ms unless their class says otherwise. */
const SURGE_DURATION = 10e-3;

const variants = { plain: "plain", "gate kept on until reset": "held", "crowbar with disconnect": "latched" } as const;

/** An SCR across the line, or across a supply's own terminals. */
export function resolveCrowbar(sheet: Sheet, path: Path, value: unknown, noun: string): Crowbar {
  const section = openSection(sheet, path, value, { noun, table: "crowbar", kinds: ["crowbar"] });
  const variant =
    section.word("variant", ["plain", "gate kept on until reset", "crowbar with disconnect"] as const) ?? "plain";
  const thresholdVoltage = section.number("thresholdVoltage", "voltage");
  const slopeResistance = section.number("slopeResistance", "resistance");
  const failTemperature = section.number("failTemperature", "temperature");
  const inductance = section.number("inductance", "inductance");
  const givenInductance = section.written[keyOf("inductance")] !== undefined;
  const ratings = ratingsOf(section);
  const crowbar: Crowbar = {
    label: section.text("label") ?? section.sources.part?.name ?? noun,
    variant: variants[variant],
    tripVoltage: section.number("tripVoltage", "voltage"),
    senseTimeConstant: senseFilter(section),
    gateDelay: section.number("gateDelay", "time"),
    thresholdVoltage,
    slopeResistance,
    stubResistance: section.number("stubResistance", "resistance"),
    inductance,
    inductanceAssumed: !givenInductance,
    leakResistance: section.number("leakResistance", "resistance"),
    holdingCurrent: section.number("holdingCurrent", "current"),
    latchingCurrent: section.number("latchingCurrent", "current"),
    turnOffTime: section.number("turnOffTime", "time"),
    failTemperature,
    junctionStages: junction(section, {
      thresholdVoltage,
      slopeResistance,
      failTemperature,
      surgeCurrent: ratings.surgeCurrent,
    }),
    caseToAmbient: section.number("caseToAmbient", "thermal resistance"),
    caseHeatCapacity: section.number("caseHeatCapacity", "heat capacity"),
    ratings,
  };
  section.finish("on this crowbar");
  return crowbar;
}

/** A named or written time constant of a sense filter, s. */
export function senseFilter(section: Section): number {
  const key = keyOf("senseTimeConstant");
  const value = section.raw("senseTimeConstant");
  if (value !== "fast" && value !== "RF-filtered") return section.number("senseTimeConstant", "time");
  const cited = SENSE_FILTERS[value];
  section.note("senseTimeConstant", `${value}: ${formatQuantity(Number(cited.value), "time")}`, cited);
  return section.sheet.isSpoilt([...section.path, key]) ? Number.NaN : Number(cited.value);
}

function ratingsOf(section: Section): Crowbar["ratings"] {
  const ratings = section.child("ratings", true);
  if (ratings === null) {
    const nothing = { surgeCurrent: Number.NaN, i2t: Number.NaN, junctionTemperature: Number.NaN };
    return { ...nothing, currentRise: null, surgeWindows: [] };
  }
  const surgeCurrent = ratings.number("surgeCurrent", "current");
  const own = ratings.list("surgeWindows");
  const usesUserCurve = ratings.written[keyOf("surgeWindows")] !== undefined;
  const windows = (own ?? []).map((entry, index) => {
    if (!usesUserCurve) return entry as unknown as { duration: number; rms: number };
    const about = { ...ratings.sources, noun: "an entry of the surge windows", table: "none", part: null, kinds: [] };
    const item = new Section(ratings.sheet, [...ratings.path, keyOf("surgeWindows"), index], entry, about);
    return { duration: item.number("duration", "time"), rms: item.number("rms", "current") };
  });
  const found = {
    surgeCurrent,
    i2t: ratings.number("i2t", "I2t"),
    junctionTemperature: ratings.number("junctionTemperature", "temperature"),
    currentRise: ratings.numberOrNull("currentRise", "current slew"),
    surgeWindows: windows.length > 0 || !(surgeCurrent > 0) ? windows : surgeWindows(surgeCurrent),
  };
  ratings.finish("among the ratings of a crowbar");
  return found;
}

function junction(
  section: Section,
  known: { thresholdVoltage: number; slopeResistance: number; failTemperature: number; surgeCurrent: number },
): Crowbar["junctionStages"] {
  const own = section.raw("junctionStages");
  if (Array.isArray(own)) {
    return own.map((entry, index) => {
      const about = { ...section.sources, noun: "a junction stage", table: "none", part: null, kinds: [] };
      const item = new Section(section.sheet, [...section.path, keyOf("junctionStages"), index], entry, about);
      return {
        resistance: item.number("resistance", "thermal resistance"),
        timeConstant: item.number("timeConstant", "time"),
      };
    });
  }
  const junctionToCase = section.number("junctionToCase", "thermal resistance");
  const surgeDuration = section.numberOrNull("surgeDuration", "time") ?? SURGE_DURATION;
  const figures = { ...known, junctionToCase, surgeDuration };
  if (!Object.values(figures).every((figure) => Number.isFinite(figure))) return [];
  if (known.failTemperature <= 25) {
    section.sheet.error(
      "out-of-range",
      [...section.path, keyOf("failTemperature")],
      "The fail temperature must lie above 25 °C, where surge ratings start.",
    );
    return [];
  }
  section.note("junctionStages", "calibrated", {
    source:
      "usual shares and time constants, stretched until the rated half-sine surge from 25 °C stays below the fail temperature",
    mark: defaults["crowbar.failTemperature"].mark,
  });
  return section.sheet.memory.junction(figures);
}
