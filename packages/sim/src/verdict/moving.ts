import type { Run, SourceFindings } from "../model/result.ts";
import type { Source, Supply } from "../scenario/types.ts";
import { barsOf } from "./crowbar.ts";
import { atEnd, endOf } from "./look.ts";
import type { Pending } from "./types.ts";
import { when } from "./when.ts";
import { capital, longTime, show, the } from "./words.ts";

interface Level {
  readonly voltage: number;
  /** What is compared with it, at the end of the run. */
  readonly now: number | null;
  readonly says: string;
  /** Whether the line is another one from there on. */
  readonly protects: boolean;
}

/** A supply whose set voltage still moves when the run ends, or that is not switched on yet: what is to come, by estimate. */
export function movingOn(run: Run, source: Source): readonly Pending[] {
  const found = run.sources.find(({ name }) => name === source.name);
  if (source.kind !== "supply" || found === undefined) return [];
  const { name } = source;
  const who = capital(the(name));
  if (found.stateAtEnd === "not switched on") {
    const at = when(run.scenario, source.switchOn.time, longTime);
    const sentence = `${who} is not switched on yet when the run ends: that comes ${at}.`;
    return [{ subject: name, kind: "still to come", sentence, passesRating: false, endedBy: null }];
  }
  // What is off, or shorted by an SCR, shows nothing of its set voltage; the one that latched off never will.
  const dead = found.stateAtEnd === "off" || found.stateAtEnd === "latched off";
  if (found.movement === null || dead || barsOf(run).some((bar) => bar.found.conductingAtEnd)) return [];
  const { aim, slope } = found.movement;
  const end = reachable(source, found.movement.end);
  if (slope > 0 ? end <= aim : end >= aim) return [];
  const way = slope > 0 ? "rising" : "falling";
  const rate = show(Math.abs(slope), "voltage slew");
  const ahead = outlook(run, source, found, { aim, end, slope });
  const sentence = `The set voltage of ${the(name)} is still ${way} when the run ends: it stands at ${show(aim, "voltage")} and goes on to ${show(end, "voltage")} at ${rate}. ${ahead.says}`;
  return [{ subject: name, kind: "set voltage moving", sentence, passesRating: ahead.passes, endedBy: null }];
}

/** A regulator gives no more than what its reservoir holds. */
function reachable({ reservoir }: Supply, end: number): number {
  return reservoir === null ? end : Math.min(end, reservoir.rawVoltage);
}

/** What it comes to, and whether a load passes its maximum before anything protects it. Every voltage of the line is taken as moving with the set voltage, its drops held. */
function outlook(
  run: Run,
  source: Supply,
  found: SourceFindings,
  { aim, end, slope }: NonNullable<SourceFindings["movement"]>,
): { readonly says: string; readonly passes: boolean } {
  const nothing = { says: "Estimate: no protector trips and no load passes its maximum by that.", passes: false };
  if (slope < 0) return nothing;
  if (found.stateAtEnd === "limiting")
    return { says: "Its current limit holds the line below that for now: how long is not estimated.", passes: false };
  const ahead = levels(run, source)
    .flatMap(({ now, voltage, ...level }) => (now === null ? [] : [{ ...level, rise: voltage - now }]))
    .filter(({ rise }) => rise > 0 && rise < end - aim)
    .toSorted((a, b) => a.rise - b.rise);
  if (ahead.length === 0) return nothing;
  const first = ahead.findIndex(({ protects }) => protects);
  const coming = first < 0 ? ahead : ahead.slice(0, first + 1);
  const told = coming.map(({ rise, says }) => {
    return `${says} about ${when(run.scenario, endOf(run) + rise / slope, longTime)}`;
  });
  return { says: `Estimate: ${told.join("; ")}.`, passes: coming.some(({ protects }) => !protects) };
}

const trips = (part: string, voltage: number, now: number | null): Level => {
  return { voltage, now, says: `${part} reaches its trip point of ${show(voltage, "voltage")}`, protects: true };
};

/** What protects the whole line from a voltage that rises, where it has not yet. */
export function lineProtectors(run: Run): readonly Level[] {
  const { crowbar, seriesSwitch } = run.scenario;
  return [
    ...(crowbar === null ? [] : [trips("the crowbar", crowbar.tripVoltage, atEnd(run, "crowbar sense", "V"))]),
    ...(seriesSwitch === null || run.seriesSwitch?.state !== "closed"
      ? []
      : [trips("the series switch", seriesSwitch.offVoltage, atEnd(run, "series switch sense", "V"))]),
  ];
}

/** What the rise may come to that it has not come to yet. */
function levels(run: Run, source: Supply): readonly Level[] {
  const { loads } = run.scenario;
  const { name, ownCrowbar, shutdown, fault } = source;
  const blind = fault.kind === "lost feedback" && shutdown?.worksOnLostFeedback !== true;
  return [
    ...loads.map(({ name: load, limits }) => ({
      voltage: limits.maximum,
      now: atEnd(run, load, "V"),
      says: `${the(load)} passes its maximum of ${show(limits.maximum, "voltage")}`,
      protects: false,
    })),
    ...lineProtectors(run),
    ...(ownCrowbar === null
      ? []
      : [
          trips(
            `the own crowbar of ${the(name)}`,
            ownCrowbar.tripVoltage,
            atEnd(run, `${name} own crowbar sense`, "V"),
          ),
        ]),
    ...(shutdown === null || blind
      ? []
      : [trips(`the own OVP of ${the(name)}`, shutdown.voltage, atEnd(run, name, "V"))]),
  ];
}
