import type { FuseFindings, Run, RunEvent } from "../model/result.ts";
import type { Crowbar } from "../scenario/types.ts";
import { duration, partName, show, the } from "./words.ts";

/**
 * What an event means for the line from then on, as a sentence; null where its own sentence says it all. Told is only what the model
 * does and what the run found.
 */
export function meaningOf(event: RunEvent, run: Run): string | null {
  const { part, owner } = event.subject;
  switch (part) {
    case "line":
      return event.kind === "fault" ? "All times are counted from here." : null;
    case "crowbar":
      return ofScr(event, run.scenario.crowbar, "the protected side");
    case "own crowbar": {
      const source = run.scenario.sources.find(({ name }) => name === owner);
      return ofScr(event, source?.kind === "supply" ? source.ownCrowbar : null, `the terminals of ${the(owner)}`);
    }
    case "main fuse":
    case "in-line fuse":
      return ofFuse(
        event,
        run.fuses.find(({ subject }) => subject.part === part && subject.owner === owner),
      );
    case "series switch":
      return ofSwitch(event, run);
    case "source":
      return ofSource(event, run);
    case "load":
      return ofLoad(event, run);
    case "clamp":
    case "load clamp":
      return event.kind === "fails short"
        ? `${start(partName(event.subject))} counts as destroyed from here on.`
        : null;
  }
}

const start = (name: string): string => the(name).replace(/^./, (letter) => letter.toUpperCase());

function ofScr({ kind }: RunEvent, spec: Crowbar | null, across: string): string | null {
  if (spec === null) return null;
  if (kind === "fails short") return `It shorts ${across} for good: no current is small enough to let go of it.`;
  if (kind === "stops conducting") return `It no longer holds ${across} down, and may fire again.`;
  if (kind !== "fires") return null;
  if (spec.variant === "plain")
    return `It shorts ${across} until its current stays below ${show(spec.holdingCurrent, "current")} for ${duration(spec.turnOffTime)}.`;
  const alone = `It shorts ${across}; its gate is kept on until somebody resets it.`;
  return spec.variant === "latched" ? `${alone} The series switch opens too and stays open.` : alone;
}

function ofFuse({ kind }: RunEvent, found: FuseFindings | undefined): string | null {
  if (found === undefined) return null;
  if (kind === "melts") {
    const took = found.meltingI2t === null ? "" : ` It took ${show(found.meltingI2t, "I2t")} to melt.`;
    return `An arc carries the current on until it can no longer be held.${took}`;
  }
  if (kind !== "open") return null;
  const through = found.letThroughI2t === null ? "" : ` It let ${show(found.letThroughI2t, "I2t")} through in all.`;
  return `Nothing flows through it until somebody replaces it.${through}`;
}

function ofSwitch({ kind }: RunEvent, { scenario, events }: Run): string | null {
  const spec = scenario.seriesSwitch;
  if (spec === null) return null;
  if (kind === "starts to open") return "Until it is open the loads still see the line.";
  if (kind === "recloses") return "The loads are fed again.";
  if (kind !== "open") return null;
  const latched = events.some(({ kind: each, subject }) => each === "fires" && subject.part === "crowbar");
  if (spec.reclose === null || (scenario.crowbar?.variant === "latched" && latched))
    return "The loads are cut off until somebody resets it.";
  return `The loads are cut off until the sensed voltage stays below ${show(spec.reclose.onVoltage, "voltage", 4)}.`;
}

function ofSource({ kind, subject }: RunEvent, { scenario }: Run): string | null {
  const source = scenario.sources.find(({ name }) => name === subject.owner);
  if (source?.kind !== "supply") return null;
  const hiccup = source.limit.style === "hiccup" ? source.limit : null;
  if (kind === "restarts") return "It feeds the line again.";
  if (kind === "limiter trips" || kind === "over-voltage shutdown") {
    return hiccup === null
      ? "It gives nothing more and stays off until somebody resets it."
      : `It gives nothing for ${duration(hiccup.offTime)}, then tries again.`;
  }
  return null;
}

function ofLoad({ kind, subject }: RunEvent, { scenario }: Run): string | null {
  const dropOut = scenario.loads.find(({ name }) => name === subject.owner)?.dropOut ?? null;
  if (dropOut === null) return null;
  if (kind === "comes back") return "It works again.";
  if (kind !== "drops out") return null;
  return dropOut.comesBack === "by hand"
    ? "It stays off until somebody switches it on again."
    : "It comes back by itself once the voltage is there again.";
}
