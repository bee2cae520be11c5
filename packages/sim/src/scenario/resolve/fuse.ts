import { InvalidInput } from "../../issue/issue.ts";
import { computed } from "../defaults.ts";
import { keyOf, type Path, pathText } from "../keys.ts";
import type { FuseGate } from "../parts/fuse-fit.ts";
import { openSection, Section, type Written } from "../section.ts";
import type { Sheet } from "../sheet.ts";
import type { Fuse } from "../types.ts";

/** A fuse from its part class and what the file overrides; its thermal stages are fitted where they are not given. */
export function resolveFuse(sheet: Sheet, path: Path, value: unknown, noun: string, isMain: boolean): Fuse {
  const section = openSection(sheet, path, value, { noun, table: "fuse", kinds: ["fuse"] });
  const ratedVoltage = section.number("ratedVoltage", "voltage");
  const ratedCurrent = section.numberOrNull("ratedCurrent", "current");
  const nominalMeltingI2t = section.numberOrNull("nominalMeltingI2t", "I2t");
  const resistanceRatio = section.number("resistanceRatio", "number");
  const label = section.text("label") ?? section.sources.part?.name ?? noun;
  const thermal = thermalModel(section, label, ratedCurrent, nominalMeltingI2t, resistanceRatio);
  const fuse: Fuse = {
    label,
    ratedCurrent,
    ratedVoltage,
    breakingCapacity: section.numberOrNull("breakingCapacity", "current"),
    nominalMeltingI2t,
    coldResistance: section.number("coldResistance", "resistance"),
    resistanceRatio,
    ...thermal,
    arcVoltage: section.number("arcVoltage", "voltage", computed.arcVoltage(ratedVoltage)),
    extinctionCurrent: section.number("extinctionCurrent", "current"),
    // An in-line fuse opens at its extinction current at once; the field is there for the main fuse.
    extinctionTime:
      isMain || section.written[keyOf("extinctionTime")] !== undefined ? section.number("extinctionTime", "time") : 0,
    meltingTemperature: meltingTemperature(section),
    start: section.word("start", ["warm", "cold"] as const) ?? "warm",
  };
  section.finish("on a fuse whose thermal stages are given");
  return fuse;
}

function meltingTemperature(section: Section): number | null {
  if (section.raw("meltingTemperature") === "none") return null;
  return section.numberOrNull("meltingTemperature", "temperature");
}

type Thermal = Pick<Fuse, "minimumMeltingCurrent" | "stages">;

function thermalModel(
  section: Section,
  label: string,
  ratedCurrent: number | null,
  nominalMeltingI2t: number | null,
  resistanceRatio: number,
): Thermal {
  const given = section.list("stages");
  if (given !== null) {
    const stages = given.map((entry, index) => {
      const item = entryOf(section, "stages", index, entry);
      return { weight: item.number("weight", "number"), timeConstant: item.number("timeConstant", "time") };
    });
    const sum = stages.reduce((total, stage) => total + stage.weight, 0);
    if (Math.abs(sum - 1) > 1e-6) {
      section.sheet.error(
        "weights",
        [...section.path, "stages"],
        `The weights of the stages sum to ${sum.toPrecision(4)}.`,
        { allowed: "weights that sum to 1" },
      );
    }
    return { stages, minimumMeltingCurrent: section.number("minimumMeltingCurrent", "current") };
  }
  const nothing: Thermal = { stages: [], minimumMeltingCurrent: Number.NaN };
  const own = section.written[keyOf("gates")] !== undefined || section.written[keyOf("points")] !== undefined;
  const gates = gatesOf(section, own);
  const points = section.list("points")?.map((entry, index) => {
    const item = entryOf(section, "points", index, entry);
    return { current: item.number("current", "current"), time: item.number("time", "time") };
  });
  const minimumMeltingCurrent = section.numberOrNull("minimumMeltingCurrent", "current");
  if (ratedCurrent === null) {
    section.number("ratedCurrent", "current");
    return nothing;
  }
  if (section.sources.unknownPart || section.sheet.hasErrorAt(section.path) || section.sheet.isSpoilt(section.path))
    return nothing;
  try {
    const fit = section.sheet.memory.fuse({
      ratedCurrent,
      nominalMeltingI2t,
      resistanceRatio,
      gates,
      points: points ?? [],
      minimumMeltingCurrent,
    });
    section.sheet.fits.push({ path: pathText(section.path), label, fit });
    if (!fit.insideGates) {
      section.sheet.warn(
        "fit-outside-gates",
        section.path,
        `The thermal model of ${label} leaves a published time gate.`,
        {
          hint: "see the worst deviation of the fit; give `stages` of your own if it matters",
        },
      );
    }
    return { stages: fit.stages, minimumMeltingCurrent: fit.minimumMeltingCurrent };
  } catch (problem) {
    if (!(problem instanceof InvalidInput)) throw problem;
    for (const issue of problem.issues) {
      const message = `${issue.message} (${label})`;
      section.sheet.error(issue.code, section.path, message, {
        allowed: issue.allowed,
        hint: issue.hint,
        received: issue.received,
      });
    }
    return nothing;
  }
}

/** The user's gates or points take the place of the class's gates. */
function gatesOf(section: Section, own: boolean): FuseGate[] {
  const raw = section.raw("gates");
  if (own && raw === undefined) return [];
  return (section.list("gates") ?? []).map((entry, index) => {
    if (!own) return entry as unknown as FuseGate;
    const item = entryOf(section, "gates", index, entry);
    return {
      multiple: item.number("multiple", "number"),
      minimum: item.numberOrNull("minimum", "time"),
      maximum: item.numberOrNull("maximum", "time"),
    };
  });
}

function entryOf(section: Section, field: string, index: number, entry: Written): Section {
  const about = {
    ...section.sources,
    noun: `entry ${index + 1} of ${keyOf(field)}`,
    table: "none",
    part: null,
    kinds: [],
  };
  return new Section(section.sheet, [...section.path, keyOf(field), index], entry, about);
}
