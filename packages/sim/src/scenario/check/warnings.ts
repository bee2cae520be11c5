import { formatQuantity, the } from "../../units/index.ts";
import type { Path } from "../keys.ts";
import { drawOnTransmit, drawsOnTransmit, holdsOnTransmit, type TransmitDraw } from "../on-transmit.ts";
import { faultVoltage, fuseDuties } from "../prospective.ts";
import type { Sheet } from "../sheet.ts";
import type { Fuse, Scenario } from "../types.ts";
import { restVoltage } from "./errors.ts";
import { warnPastFull } from "./past-full.ts";
import { checkWires } from "./wires.ts";

/** What is suspicious without being impossible. Missing values are NaN, of which every comparison is false. */
export function checkWarnings(sheet: Sheet, scenario: Scenario, written: unknown): void {
  warnBatteries(sheet, scenario);
  warnPastFull(sheet, scenario);
  warnFuses(sheet, scenario);
  warnRegulators(sheet, scenario);
  warnLoads(sheet, scenario);
  // A fault that was refused would otherwise look like none.
  if (!sheet.hasErrors) warnIdle(sheet, scenario);
  // What a load draws is known only of one that is complete.
  if (!sheet.hasErrors) warnInService(sheet, scenario, written);
  checkWires(sheet, scenario);
}

function warnBatteries(sheet: Sheet, { sources, loads, mainFuse, crowbar }: Scenario): void {
  const hasLoadFuse = loads.some(({ lead }) => lead.fuse !== null);
  sources.forEach((source, index) => {
    const path: Path = ["sources", index];
    const fused = source.lead.fuse !== null;
    if (crowbar !== null && mainFuse === null && !fused && hasLoadFuse) {
      sheet.warn(
        "fuse-on-wrong-side",
        path,
        `The only fuses stand on the load's side of the crowbar: the SCR's current out of ${source.name} passes none of them.`,
        { hint: "put a main fuse before the crowbar, or an in-line fuse into this lead", received: null },
      );
    }
    if (source.kind !== "battery") return;
    if (crowbar !== null && mainFuse === null && !fused) {
      sheet.warn(
        "no-fuse-before-crowbar",
        path,
        `No fuse stands between ${source.name} and the SCR: once fired, only the wire limits the current.`,
        { hint: "add a main fuse, or `fuse:` in the battery's lead", received: null },
      );
    } else if (!fused) {
      sheet.warn(
        "battery-on-unfused-side",
        path,
        `The battery (${source.name}) stands on the unfused side of the line: a short on its lead or at another source is fed without a fuse.`,
        { hint: "add `fuse:` in the battery's lead, close to its terminal", received: null },
      );
    }
    sources.forEach((other, otherIndex) => {
      if (other.kind === "supply" && other.ownCrowbar !== null && other.lead.fuse === null && !fused) {
        const message = `No fuse stands between ${source.name} and the own crowbar of ${other.name}.`;
        sheet.warn("no-fuse-before-crowbar", ["sources", otherIndex, "own crowbar"], message, {
          hint: "add an in-line fuse to one of the two leads",
          received: null,
        });
      }
    });
  });
}

function warnFuses(sheet: Sheet, scenario: Scenario): void {
  const { crowbar, mainFuse, sources } = scenario;
  for (const { fuse, path, available } of fuseDuties(scenario)) {
    if (fuse.breakingCapacity !== null && available.current > fuse.breakingCapacity) {
      const current = formatQuantity(available.current, "current");
      sheet.warn(
        "breaking-capacity",
        path,
        `The available short-circuit current, up to ${current} by voltage over resistance, exceeds what ${fuse.label} is able to break.`,
        {
          allowed: `up to ${formatQuantity(fuse.breakingCapacity, "current")}`,
          hint: "the run finds the true current; a fuse of higher breaking capacity settles it",
          received: null,
        },
      );
    }
    if (fuse.ratedVoltage < available.voltage) {
      sheet.warn(
        "fuse-voltage",
        path,
        `${fuse.label} is rated ${formatQuantity(fuse.ratedVoltage, "voltage")}, below the fault voltage of ${formatQuantity(available.voltage, "voltage")}: its arc may not go out.`,
        { hint: "take a fuse of higher rated voltage", received: null },
      );
    }
  }
  if (crowbar === null) return;
  const guards: { fuse: Fuse | null; path: Path }[] =
    mainFuse !== null
      ? [{ fuse: mainFuse, path: ["main fuse"] }]
      : sources.map(({ lead }, index) => ({ fuse: lead.fuse, path: ["sources", index, "lead", "fuse"] }));
  for (const { fuse, path } of guards) {
    if (fuse?.nominalMeltingI2t != null && fuse.nominalMeltingI2t > crowbar.ratings.i2t) {
      const melting = formatQuantity(fuse.nominalMeltingI2t, "I2t");
      sheet.warn(
        "fuse-above-scr",
        path,
        `The melting I²t of ${fuse.label}, ${melting}, exceeds that of ${crowbar.label}, ${formatQuantity(crowbar.ratings.i2t, "I2t")}: from a stiff source the SCR gives out before the fuse.`,
        { hint: "take a larger SCR or a smaller fuse", received: null },
      );
    }
  }
}

/** No verdict on a fault sees it: a fuse that protects well and melts as soon as the radio transmits. */
function warnInService(sheet: Sheet, scenario: Scenario, written: unknown): void {
  const { mainFuse, ambient, loads } = scenario;
  const whole = drawOnTransmit({ scenario, written });
  const guards: { fuse: Fuse | null; path: Path; draw: TransmitDraw | null }[] = [
    { fuse: mainFuse, path: ["main fuse"], draw: whole },
    ...drawsOnTransmit(scenario, written).map((draw, k) => {
      return { fuse: loads[k].lead.fuse, path: ["loads", k, "lead", "fuse"], draw };
    }),
  ];
  for (const { fuse, path, draw } of guards) {
    if (fuse === null || draw === null) continue;
    const { holds, sentence } = holdsOnTransmit(fuse, draw, ambient);
    if (holds !== "no") continue;
    const named = path.length > 1 ? `${fuse.label} of ${the(draw.loads[0])}` : fuse.label;
    sheet.warn("fuse-melts-in-service", path, sentence.replace("This fuse", named), {
      hint: "take a larger fuse",
      received: null,
    });
  }
}

function warnRegulators(sheet: Sheet, { sources }: Scenario): void {
  sources.forEach((source, index) => {
    if (source.kind !== "supply") return;
    const damping = regulatorDamping(source);
    if (damping < 0.4) {
      sheet.warn(
        "ringing-regulator",
        ["sources", index],
        `The regulator of ${source.name} rings: its damping ½·sqrt(source resistance × output capacitance / response time) is ${damping.toFixed(2)}, below 0.4.`,
        { hint: "a larger output capacitance or a shorter response time damps it", received: null },
      );
    }
  });
}

/**
 * Damping of a supply's regulator, ½·sqrt(R_s·C_o/tau_s), without unit; below 0.4 it rings.
 *
 * @example regulatorDamping({ sourceResistance: 0.01, outputCapacitance: 4.7e-3, responseTime: 20e-6 }) // 0.77
 */
export function regulatorDamping(supply: {
  readonly sourceResistance: number;
  readonly outputCapacitance: number;
  readonly responseTime: number;
}): number {
  return 0.5 * Math.sqrt((supply.sourceResistance * supply.outputCapacitance) / supply.responseTime);
}

function warnLoads(sheet: Sheet, { loads, sources, clamp }: Scenario): void {
  const radios = loads.filter(({ kind }) => kind === "constant current" || kind === "constant power");
  if (radios.length >= 2) {
    sheet.warn(
      "shield-return",
      ["loads"],
      `${radios.length} radios share this line. If their cases are grounded or their cables' shields touch, part of the current returns through the shields, which is not computed: negative leads then carry less, shields more, and an open negative lead goes unnoticed.`,
      {
        hint: "fuse the negative leads too where the shields could carry the fault current, and look at the ground wiring",
        received: null,
      },
    );
  }
  const rest = restVoltage(sources);
  loads.forEach((load, index) => {
    const { maximum, withstand } = load.limits;
    if (maximum < rest) {
      sheet.warn(
        "maximum-below-rest",
        ["loads", index, "limits"],
        `${load.name} allows ${formatQuantity(maximum, "voltage", { digits: 4 })}, less than the line has in normal service when little is drawn (${formatQuantity(rest, "voltage", { digits: 4 })}).`,
        { received: null },
      );
    }
    if (withstand.length > 0 && withstand[0].voltage < maximum) {
      sheet.warn(
        "withstand-below-maximum",
        ["loads", index, "limits"],
        `The withstand curve of ${load.name} begins at ${formatQuantity(withstand[0].voltage, "voltage")}, inside the window up to ${formatQuantity(maximum, "voltage", { digits: 4 })}.`,
        { hint: "begin it at the maximum or above", received: null },
      );
    }
    if (load.clamp !== null && load.clamp.breakdownVoltage <= rest) warnClamp(["loads", index, "clamp"]);
  });
  if (clamp !== null && clamp.breakdownVoltage <= rest) warnClamp(["clamp"]);
  function warnClamp(path: Path): void {
    sheet.warn(
      "clamp-at-rest",
      path,
      "The clamp already conducts in normal service, at the latest when little is drawn.",
      {
        hint: `take one that begins above ${formatQuantity(rest, "voltage", { digits: 4 })}`,
        received: null,
      },
    );
  }
}

function warnIdle(sheet: Sheet, { sources, loads, start }: Scenario): void {
  const faulty = sources.some((source) => source.kind !== "battery" && source.fault.kind !== "none");
  const moves = [...sources, ...loads].some(({ lead }) => (lead.contact?.operations.length ?? 0) > 0);
  const changes = loads.some(({ schedule }) => schedule.length > 0);
  const high = sources.some((source) => faultVoltage(source) > 0);
  if (high && !faulty && !moves && !changes && start === "operating") {
    sheet.warn(
      "nothing-happens",
      ["sources"],
      "No source has a fault, no contact moves and no load changes: nothing will happen.",
      { hint: "give a source a `fault`", received: null },
    );
  }
}
