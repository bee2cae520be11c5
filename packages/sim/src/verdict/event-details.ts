import type { RunEvent } from "../model/result.ts";
import type { Crowbar, Scenario, SeriesSwitch, Source } from "../scenario/types.ts";
import { duration, show, the } from "./words.ts";

/** The numbers of the scenario behind an event: trip voltage and delay, limits, levels; null where there are none to name. */
export function detailsOf({ kind, subject, cause }: RunEvent, scenario: Scenario): string | null {
  const source = scenario.sources.find(({ name }) => name === subject.owner);
  switch (subject.part) {
    case "line":
      return kind === "fault" ? faults(scenario) : null;
    case "crowbar":
      return scr(kind, scenario.crowbar);
    case "own crowbar":
      return source?.kind === "supply" ? scr(kind, source.ownCrowbar) : null;
    case "series switch":
      return scenario.seriesSwitch === null ? null : seriesSwitch(kind, cause, scenario.seriesSwitch);
    case "source":
      return source === undefined ? null : supply(kind, source);
    case "load":
      return dropOut(kind, scenario, subject.owner);
    default:
      return null;
  }
}

function faults({ sources }: Scenario): string | null {
  const faulty = sources.flatMap(({ name, ...source }) =>
    !("fault" in source) || source.fault.kind === "none" ? [] : [`${source.fault.kind} in ${the(name)}`],
  );
  return faulty.length === 0 ? null : faulty.join(", ");
}

function scr(kind: RunEvent["kind"], spec: Crowbar | null): string | null {
  if (spec === null) return null;
  if (kind === "fires") return `${show(spec.tripVoltage, "voltage", 4)} for ${duration(spec.gateDelay)}`;
  if (kind === "stops conducting") return `${show(spec.holdingCurrent, "current")} for ${duration(spec.turnOffTime)}`;
  return kind === "fails short" ? show(spec.failTemperature, "temperature") : null;
}

function seriesSwitch(kind: RunEvent["kind"], cause: string, spec: SeriesSwitch): string | null {
  // A crowbar with disconnect opens it as well, whatever it senses itself.
  const level = cause.includes("crowbar") ? "" : `at ${show(spec.offVoltage, "voltage", 4)}, `;
  if (kind === "starts to open") return `${level}takes ${duration(spec.openingTime)}`;
  if (kind === "recloses" && spec.reclose !== null)
    return `below ${show(spec.reclose.onVoltage, "voltage", 4)} for ${duration(spec.reclose.retryTime)}`;
  return null;
}

function supply(kind: RunEvent["kind"], source: Source): string | null {
  if (source.kind !== "supply") return null;
  if (kind === "limiter trips" && "detectionTime" in source.limit)
    return `${show(source.limit.current, "current")} for ${duration(source.limit.detectionTime)}`;
  if (kind === "restarts" && source.limit.style === "hiccup") return `after ${duration(source.limit.offTime)}`;
  if (kind === "over-voltage shutdown" && source.shutdown !== null)
    return `above ${show(source.shutdown.voltage, "voltage", 4)} for ${duration(source.shutdown.delay)}`;
  return null;
}

function dropOut(kind: RunEvent["kind"], { loads }: Scenario, name: string): string | null {
  const spec = loads.find((load) => load.name === name)?.dropOut ?? null;
  if (spec === null) return null;
  if (kind === "drops out") return `below ${show(spec.voltage, "voltage")} for ${duration(spec.delay)}`;
  return kind === "comes back"
    ? `above ${show(spec.returnVoltage, "voltage")} for ${duration(spec.returnDelay)}`
    : null;
}
