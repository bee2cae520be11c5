import { computed } from "../defaults.ts";
import type { Path } from "../keys.ts";
import { openSection } from "../section.ts";
import type { Sheet } from "../sheet.ts";
import type { Clamp, SeriesSwitch } from "../types.ts";
import { senseFilter } from "./crowbar.ts";

/** A clamp across the line or at a load's terminals. */
export function resolveClamp(sheet: Sheet, path: Path, value: unknown, noun: string): Clamp {
  const section = openSection(sheet, path, value, { noun, table: "clamp", kinds: ["clamp"] });
  const ratings = section.child("ratings", true);
  const clamp: Clamp = {
    label: section.text("label") ?? section.sources.part?.name ?? noun,
    breakdownVoltage: section.number("breakdownVoltage", "voltage"),
    slopeResistance: section.number("slopeResistance", "resistance"),
    thermalResistance: section.number("thermalResistance", "thermal resistance"),
    thermalTimeConstant: section.number("thermalTimeConstant", "time"),
    failsShort: section.flag("failsShort"),
    shortResistance: section.number("shortResistance", "resistance"),
    ratings: {
      energy: ratings?.number("energy", "energy") ?? Number.NaN,
      peakCurrent: ratings?.numberOrNull("peakCurrent", "current") ?? null,
      temperature: ratings?.numberOrNull("temperature", "temperature") ?? null,
    },
  };
  ratings?.finish("among the ratings of a clamp");
  section.finish("on a clamp");
  return clamp;
}

/** The series switch between the protected side and the radio side. */
export function resolveSeriesSwitch(sheet: Sheet, path: Path, value: unknown): SeriesSwitch {
  const noun = "series switch";
  const section = openSection(sheet, path, value, { noun, table: noun, kinds: ["series switch"] });
  const kind = section.word("kind", ["transistor", "relay"] as const) ?? "transistor";
  const reclose = section.child("reclose");
  const ratings = section.child("ratings");
  const found: SeriesSwitch = {
    label: section.text("label") ?? section.sources.part?.name ?? noun,
    kind,
    resistance: section.number("resistance", "resistance"),
    sense: section.word("sense", ["supply side", "protected side"] as const) ?? "supply side",
    senseTimeConstant: senseFilter(section),
    offVoltage: section.number("offVoltage", "voltage"),
    openingTime: section.number("openingTime", "time"),
    arcVoltage: section.number("arcVoltage", "voltage", computed.switchArcVoltage(kind)),
    extinctionCurrent: section.number("extinctionCurrent", "current"),
    extinctionTime: section.number("extinctionTime", "time", computed.switchExtinctionTime(kind)),
    reclose:
      reclose === null
        ? null
        : { onVoltage: reclose.number("onVoltage", "voltage"), retryTime: reclose.number("retryTime", "time") },
    ratings: {
      current: ratings?.numberOrNull("current", "current") ?? null,
      voltage: ratings?.numberOrNull("voltage", "voltage") ?? null,
    },
  };
  reclose?.finish("on a reclosing switch");
  ratings?.finish("among the ratings of a switch");
  section.finish("on a series switch");
  return found;
}
