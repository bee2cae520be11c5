import { adiabaticI2t, COPPER_MELTING } from "../../scenario/conductor.ts";
import { settledTemperature } from "../../scenario/copper-heat.ts";
import type { TextChange } from "../../scenario/index.ts";
import { meltingCurrentAt } from "../../scenario/melting-current.ts";
import { settledResistanceRatio } from "../../scenario/parts/fuse-melting.ts";
import { findPart } from "../../scenario/parts/index.ts";
import type { Fuse, Lead, Scenario } from "../../scenario/types.ts";
import { show, the } from "../../verdict/words.ts";
import { METRIC_SIZES, wireChanges } from "./candidates.ts";
import { checkOf } from "./check.ts";
import type { Draw } from "./service.ts";
import type { Check, Mend } from "./types.ts";

/** Adiabatic limits hold for overcurrents up to this long, s: IEC 60949 and IEC 60364-4-43. */
const ADIABATIC_TIME = 5;

/**
 * I²t in A²s that a lead stands in a short circuit that begins while it is as warm as it may be for good: IEC 60364-4-43, k²S², with k from
 * IEC 60949 (115 A·s^½/mm² for copper in PVC, 70 to 160 °C).
 *
 * @example shortCircuitI2t({ copperArea: 1e-6, insulation: { continuous: 70, shortCircuit: 160 } }) // 13 200
 */
export function shortCircuitI2t({ copperArea, insulation }: Pick<Lead, "copperArea" | "insulation">): number {
  return adiabaticI2t(copperArea, insulation.continuous, Math.max(insulation.shortCircuit, insulation.continuous));
}

/** Which fuse guards a source's lead: its own, else the main fuse where all of its current passes that. */
function guardOf(scenario: Scenario, index: number): Fuse | null {
  return scenario.sources[index].lead.fuse ?? (scenario.sources.length === 1 ? scenario.mainFuse : null);
}

/** A better insulation, where the class of this name would do. */
function insulated(paths: readonly (string | number)[][], needed: number): Mend | null {
  const limit = Number(findPart("insulation", "XLPE")?.values.continuous?.value);
  if (!(needed <= limit)) return null;
  return {
    words: `wire with XLPE insulation (${show(limit, "temperature")})`,
    changes: paths.map((path): TextChange => [[...path, "insulation"], "XLPE"]),
  };
}

/** The loads' leads behind the fuse that is tried: what never melts it must not cook them. */
export function loadWireChecks(fuseName: string, fuse: Fuse, scenario: Scenario, written: readonly unknown[]): Check[] {
  const carried = meltingCurrentAt(fuse, scenario.ambient);
  return scenario.loads.flatMap(({ name, lead }, index) => {
    if (lead.fuse !== null) return [];
    const found = settledTemperature(lead, carried, scenario.ambient);
    const allowed = lead.insulation.continuous;
    const path = ["loads", index, "lead"];
    const size = METRIC_SIZES.find(
      (each) => settledTemperature(lead, carried, scenario.ambient, each * 1e-6) <= allowed,
    );
    const mend: Mend | null =
      size === undefined
        ? insulated([path], found)
        : {
            words: `${size} mm² for the lead of ${the(name)}`,
            changes: wireChanges(path, written[index], "area", `${size} mm2`),
          };
    return [
      checkOf({
        rule: "load's wire",
        subject: "fuse",
        dimension: "temperature",
        found,
        allowed,
        bound: "at most",
        base: scenario.ambient,
        sentence: `${show(carried, "current")} never melt ${fuseName} and would bring the lead of ${the(name)} (${area(lead)}) to ${hot(found)}; its insulation allows ${show(allowed, "temperature")}.`,
        mend,
      }),
    ];
  });
}

/** The rules of the sources' leads in one combination. */
export function wireChecks(
  names: { readonly fuse: string; readonly wire: string },
  scenario: Scenario,
  service: number,
  /** I²t that the fuse lets through, A²s, and how long that takes, s; null: it is not blown. */
  letThrough: { readonly i2t: number; readonly time: number } | null,
): Check[] {
  const { ambient } = scenario;
  return scenario.sources.flatMap(({ name, lead }, index) => {
    const checks = [warmth(`${show(service, "current")} in service bring`, "wire in service", "wire", service)];
    const fuse = guardOf(scenario, index);
    if (fuse === null) return checks;
    const carried = meltingCurrentAt(fuse, ambient);
    const which = fuse === scenario.mainFuse || lead.fuse === null ? names.fuse : fuse.label;
    checks.push(
      warmth(
        `${show(carried, "current")} never melt ${which} and would bring`,
        "wire behind fuse",
        "fuse and wire",
        carried,
      ),
    );
    if (letThrough === null || letThrough.time > ADIABATIC_TIME) return checks;
    const allowed = shortCircuitI2t(lead);
    const sentence = `${which} lets ${show(letThrough.i2t, "I2t")} through in a short; the lead of ${the(name)} (${names.wire}) stands ${show(allowed, "I2t")} from ${show(lead.insulation.continuous, "temperature")} on.`;
    const common = { rule: "short circuit", subject: "fuse and wire", dimension: "I2t", bound: "at most" } as const;
    checks.push(checkOf({ ...common, found: letThrough.i2t, allowed, sentence }));
    return checks;

    function warmth(start: string, rule: Check["rule"], subject: Check["subject"], current: number): Check {
      const found = settledTemperature(lead, current, ambient);
      const allowed = lead.insulation.continuous;
      return checkOf({
        rule,
        subject,
        dimension: "temperature",
        found,
        allowed,
        bound: "at most",
        base: ambient,
        sentence: `${start} the lead of ${the(name)} (${area(lead)}) to ${hot(found)}; its insulation allows ${show(allowed, "temperature")}.`,
        mend: insulated([["sources", index, "lead"]], found),
      });
    }
  });
}

/** What the line loses between its strongest source and its worst load while all loads draw their most, V. */
function voltageDrop(scenario: Scenario, draws: readonly Draw[]): { readonly drop: number; readonly load: number } {
  const { sources, mainFuse, seriesSwitch, loads } = scenario;
  const total = draws.reduce((sum, { current }) => sum + current, 0);
  const hot = (fuse: Fuse | null, current: number): number => {
    if (fuse === null) return 0;
    const ratio = settledResistanceRatio(
      { ...fuse, minimumMeltingCurrent: meltingCurrentAt(fuse, scenario.ambient) },
      current,
    );
    return fuse.coldResistance * Math.min(ratio, fuse.resistanceRatio);
  };
  const feeds = sources.map(
    ({ lead, diode }) =>
      lead.resistance +
      hot(lead.fuse, total) +
      (diode === null ? 0 : diode.resistance + diode.forwardVoltage / Math.max(total, 1e-3)),
  );
  const common = Math.min(...feeds) + hot(mainFuse, total) + (seriesSwitch?.resistance ?? 0);
  const each = loads.map(({ lead }, index) => {
    const { current } = draws[index];
    return total * common + current * (lead.resistance + hot(lead.fuse, current));
  });
  const drop = Math.max(...each);
  return { drop, load: each.indexOf(drop) };
}

/** The drop in service against what the worst load needs, and against what the user allows. */
export function dropCheck(
  wire: string,
  scenario: Scenario,
  draws: readonly Draw[],
  restVoltage: number,
  allowedDrop: number | null,
): { readonly check: Check; readonly drop: number } {
  const { drop, load } = voltageDrop(scenario, draws);
  const { name, limits } = scenario.loads[load];
  const room = restVoltage - limits.minimum;
  const allowed = Math.min(room, allowedDrop ?? Number.POSITIVE_INFINITY);
  const why =
    allowedDrop !== null && allowedDrop <= room
      ? `${show(allowedDrop, "voltage")} was allowed`
      : `${show(room, "voltage")} may be lost before ${the(name)} falls below its ${show(limits.minimum, "voltage")}`;
  const sentence = `With ${wire} the line loses ${show(drop, "voltage")} in service up to ${the(name)}; ${why}.`;
  const common = { rule: "voltage drop", subject: "wire", dimension: "voltage", bound: "at most" } as const;
  const mend = {
    words: `leads, fuses and contacts that lose no more than ${show(allowed, "voltage")} together: shorter or thicker ones, at the load too`,
    changes: [],
  };
  return { drop, check: checkOf({ ...common, found: drop, allowed, sentence, mend }) };
}

const area = ({ copperArea }: Lead): string => `${Number((copperArea * 1e6).toPrecision(3))} mm²`;

const hot = (temperature: number): string =>
  temperature < COPPER_MELTING ? show(temperature, "temperature") : "its melting point";
