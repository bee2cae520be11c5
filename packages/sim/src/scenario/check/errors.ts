import { formatQuantity } from "../../units/index.ts";
import type { Path } from "../keys.ts";
import type { Sheet } from "../sheet.ts";
import type { Crowbar, Scenario, Source, Supply } from "../types.ts";
import { checkLoads } from "./loads.ts";
import { checkMinima } from "./minima.ts";
import { checkNames } from "./names.ts";

/**
 * Refusals that need no simulation. Values that are missing or spoilt are NaN here, of which every comparison is false,
 * so that one problem is not reported twice.
 */
export function checkErrors(sheet: Sheet, scenario: Scenario): void {
  checkMinima(sheet, scenario);
  checkTimes(sheet, scenario);
  checkNames(sheet, scenario);
  scenario.sources.forEach((source, index) => {
    if (source.kind === "supply") checkSupply(sheet, source, ["sources", index]);
  });
  checkLoads(sheet, scenario);
  checkProtectors(sheet, scenario);
  checkFuses(sheet, scenario);
}

function checkTimes(sheet: Sheet, { faultTime, endTime }: Scenario): void {
  if (faultTime >= endTime) {
    sheet.error("after-the-end", ["fault at"], "The fault strikes only at or after the end of the run.", {
      allowed: `less than ${formatQuantity(endTime, "time")}`,
    });
  }
}

function checkSupply(sheet: Sheet, supply: Supply, path: Path): void {
  const { fault, setVoltage, reservoir, limit, shutdown } = supply;
  const set = formatQuantity(setVoltage, "voltage", { digits: 4 });
  if (fault.kind === "shorted pass transistor" && reservoir === null) {
    sheet.error(
      "no-reservoir",
      [...path, "fault"],
      "A shorted pass transistor needs a reservoir: nothing else stands behind it.",
      {
        hint: "write `reservoir: {raw voltage: …, raw resistance: …, capacitance: …}`, or take a linear supply's part class",
      },
    );
  }
  if (fault.kind === "voltage turned up" && fault.endVoltage <= setVoltage) {
    sheet.error(
      "not-above",
      [...path, "fault", "end voltage"],
      "A voltage that is turned up must end above the set voltage.",
      { allowed: `more than ${set}` },
    );
  }
  if (fault.kind === "lost feedback" && fault.ceilingVoltage <= setVoltage) {
    sheet.error(
      "not-above",
      [...path, "fault", "ceiling voltage"],
      "The ceiling voltage must lie above the set voltage.",
      { allowed: `more than ${set}` },
    );
  }
  if (reservoir !== null && reservoir.rawVoltage <= setVoltage) {
    sheet.error("not-above", [...path, "reservoir", "raw voltage"], "The raw voltage must lie above the set voltage.", {
      allowed: `more than ${set}`,
    });
  }
  if (limit.style === "foldback" && limit.shortCircuitCurrent > limit.current) {
    sheet.error(
      "not-below",
      [...path, "limit", "short circuit current"],
      "A foldback limit gives less into a short than at its knee.",
      { allowed: `at most ${formatQuantity(limit.current, "current")}` },
    );
  }
  if (shutdown !== null && shutdown.voltage <= setVoltage) {
    sheet.error(
      "trips-at-rest",
      [...path, "own OVP", "voltage"],
      `The supply's own OVP would shut it down in normal service, ${AT_THE_LATEST}.`,
      { allowed: `more than ${set}, to which the supply is set` },
    );
  }
  if (supply.ownCrowbar !== null) checkOwnCrowbar(sheet, supply.ownCrowbar, setVoltage, [...path, "own crowbar"]);
}

function checkOwnCrowbar(sheet: Sheet, crowbar: Crowbar, setVoltage: number, path: Path): void {
  if (crowbar.tripVoltage <= setVoltage) {
    const set = formatQuantity(setVoltage, "voltage", { digits: 4 });
    sheet.error(
      "trips-at-rest",
      [...path, "trip voltage"],
      `The supply's own crowbar would fire in normal service, ${AT_THE_LATEST}.`,
      { allowed: `more than ${set}, to which the supply is set` },
    );
  }
  if (crowbar.variant === "latched") {
    sheet.error(
      "no-series-switch",
      [...path, "variant"],
      "A supply's own crowbar has no series switch to disconnect with.",
      { allowed: "plain, gate kept on until reset" },
    );
  }
}

/** When a healthy line is at its highest: leads and regulators drop nothing then. The loads of a file are not those of every hour. */
const AT_THE_LATEST = "at the latest when little is drawn";

/** What a source gives while nothing is drawn, V: behind its diode, if it has one. A panel's voltage is its regulator's business. */
function restOf(source: Source): number {
  if (source.kind === "panel") return 0;
  return (source.kind === "battery" ? source.emf : source.setVoltage) - (source.diode?.forwardVoltage ?? 0);
}

/** The highest voltage of the healthy line that needs no simulation, V: it stands there when little is drawn, and lower under load. */
export function restVoltage(sources: readonly Source[]): number {
  return Math.max(0, ...sources.map(restOf).filter((rest) => !Number.isNaN(rest)));
}

/** That voltage, and which source holds the line there. */
function restText(sources: readonly Source[]): string {
  const rest = restVoltage(sources);
  const source = sources.find((each) => restOf(each) === rest);
  const highest = formatQuantity(rest, "voltage", { digits: 4 });
  if (source === undefined || source.kind === "panel") return highest;
  const holds = source.kind === "battery" ? `the EMF of ${source.name}` : `to which ${source.name} is set`;
  return `${highest}, ${holds}${source.diode === null ? "" : ", less what its diode takes"}`;
}

function checkProtectors(sheet: Sheet, { crowbar, seriesSwitch, sources }: Scenario): void {
  const rest = restVoltage(sources);
  if (crowbar !== null && crowbar.tripVoltage <= rest) {
    sheet.error(
      "trips-at-rest",
      ["crowbar", "trip voltage"],
      `The crowbar would fire in normal service, ${AT_THE_LATEST}.`,
      { allowed: `more than ${restText(sources)}` },
    );
  }
  if (crowbar?.variant === "latched" && seriesSwitch === null) {
    sheet.error(
      "no-series-switch",
      ["crowbar", "variant"],
      "A crowbar with disconnect needs a series switch to open.",
      { hint: "add `series switch: …`, or choose another variant" },
    );
  }
  if (seriesSwitch !== null && seriesSwitch.offVoltage <= rest) {
    sheet.error(
      "trips-at-rest",
      ["series switch", "off voltage"],
      `The series switch would open in normal service, ${AT_THE_LATEST}.`,
      { allowed: `more than ${restText(sources)}` },
    );
  }
  if (seriesSwitch?.reclose && seriesSwitch.reclose.onVoltage >= seriesSwitch.offVoltage) {
    sheet.error(
      "not-below",
      ["series switch", "reclose", "on voltage"],
      "The switch must close again at a lower voltage than it opens at.",
      { allowed: `less than ${formatQuantity(seriesSwitch.offVoltage, "voltage")}` },
    );
  }
}

function checkFuses(sheet: Sheet, scenario: Scenario): void {
  const fuses = [
    { fuse: scenario.mainFuse, path: ["main fuse"] as Path },
    ...scenario.sources.map(({ lead }, index) => ({
      fuse: lead.fuse,
      path: ["sources", index, "lead", "fuse"] as Path,
    })),
    ...scenario.loads.map(({ lead }, index) => ({ fuse: lead.fuse, path: ["loads", index, "lead", "fuse"] as Path })),
  ];
  for (const { fuse, path } of fuses) {
    if (fuse?.meltingTemperature != null && fuse.meltingTemperature <= scenario.ambient) {
      sheet.error(
        "not-above",
        [...path, "melting temperature"],
        "The melting temperature must lie above the ambient temperature.",
        { allowed: `more than ${formatQuantity(scenario.ambient, "temperature")}` },
      );
    }
  }
  checkJunction(sheet, scenario.crowbar, ["crowbar"], scenario.ambient);
  scenario.sources.forEach((source, index) => {
    if (source.kind === "supply")
      checkJunction(sheet, source.ownCrowbar, ["sources", index, "own crowbar"], scenario.ambient);
  });
}

function checkJunction(sheet: Sheet, crowbar: Crowbar | null, path: Path, ambient: number): void {
  if (crowbar === null) return;
  const { failTemperature, ratings } = crowbar;
  if (ratings.junctionTemperature <= ambient) {
    sheet.error(
      "not-above",
      [...path, "ratings", "junction temperature"],
      "The junction's limit must lie above the ambient temperature.",
      { allowed: `more than ${formatQuantity(ambient, "temperature")}` },
    );
  }
  if (failTemperature <= ratings.junctionTemperature) {
    sheet.error(
      "not-above",
      [...path, "fail temperature"],
      "The fail temperature must lie above the junction's limit.",
      { allowed: `more than ${formatQuantity(ratings.junctionTemperature, "temperature")}` },
    );
  }
}
