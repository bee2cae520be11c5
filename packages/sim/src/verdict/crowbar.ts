import type { CrowbarFindings, Run } from "../model/result.ts";
import type { Crowbar, Scenario } from "../scenario/types.ts";
import { riseRemedy, type Surroundings, surroundingsOf } from "./current-rise.ts";
import { judgeLimit } from "./finding.ts";
import { endOf, heatingCurrent, lastCurrent } from "./look.ts";
import type { Finding, Severity } from "./types.ts";
import { when } from "./when.ts";
import { capital, counted, duration, show, showApart, the } from "./words.ts";

export interface Bar {
  /** `crowbar`, `own crowbar of the supply`. */
  readonly subject: string;
  /** The supply that it belongs to; null: the line's. */
  readonly owner: string | null;
  readonly spec: Crowbar;
  readonly found: CrowbarFindings;
  /** End of the run, s. */
  readonly end: number;
  /** Current through it at the end of the run, A, and what of it heats a resistance; null where the trace does not hold it. */
  readonly endCurrent: number | null;
  readonly endHeating: number | null;
  /** What feeds it in its first microsecond. */
  readonly around: Surroundings;
}

/** Every SCR of a run: the line's crowbar first, then the supplies' own. */
export function barsOf(run: Run): readonly Bar[] {
  const { scenario } = run;
  const bars: Bar[] = [];
  const end = endOf(run);
  if (run.crowbar !== null && scenario.crowbar !== null)
    bars.push({
      subject: "crowbar",
      owner: null,
      spec: scenario.crowbar,
      found: run.crowbar,
      around: surroundingsOf(scenario),
      end,
      endCurrent: lastCurrent(run, "crowbar"),
      endHeating: heatingCurrent(run, "crowbar"),
    });
  for (const { source, findings } of run.ownCrowbars) {
    const supply = scenario.sources.find((each) => each.name === source);
    if (supply?.kind !== "supply" || supply.ownCrowbar === null) continue;
    const capacitor = { capacitance: supply.outputCapacitance, resistance: supply.esr };
    const around = { capacitors: [capacitor], leads: [supply.lead.inductance] };
    const own = `${source} own crowbar`;
    const spec = supply.ownCrowbar;
    bars.push({
      subject: `own crowbar of ${the(source)}`,
      owner: source,
      spec,
      found: findings,
      around,
      end,
      endCurrent: lastCurrent(run, own),
      endHeating: heatingCurrent(run, own),
    });
  }
  return bars;
}

/** The limits of one SCR: surge over each window, current rise, junction temperature, whether it failed. Empty where it never fired. */
export function judgeBar(bar: Bar, ambient: number): readonly Finding[] {
  if (bar.found.firings.length === 0) return [];
  const windows = judgeWindows(bar);
  const hot = junction(bar, ambient, windows);
  // What killed it stands first.
  return bar.found.failedShort ? [hot, ...windows, rise(bar)] : [...windows, rise(bar), hot];
}

const UNKNOWN_END = "beyond what is published, so the outcome is unknown: it may end short or open";

function judgeWindows({ subject, spec, found }: Bar): readonly Finding[] {
  return spec.ratings.surgeWindows.map((window) => {
    const worst = found.worstWindows.find((each) => Math.abs(each.duration / window.duration - 1) < 1e-6);
    const rms = worst?.rms ?? Number.NaN;
    const span = duration(window.duration);
    return judgeLimit({
      subject,
      quantity: `RMS current over ${span}`,
      dimension: "current",
      rating: window.rms,
      found: rms,
      // How a junction that failed short ended is known.
      above: found.failedShort ? "beyond" : "unknown",
      say: (severity) => {
        const [seen, rating] = showApart(rms, window.rms, "current");
        const carried = `${capital(the(subject))} carried ${seen} RMS over the worst ${span} after a firing`;
        if (severity === "ok") return `${carried}; its surge rating is ${rating}.`;
        if (severity === "beyond") return `${carried}, above its surge rating of ${rating}.`;
        return `${carried}; its surge rating is ${rating}: ${UNKNOWN_END}.`;
      },
    });
  });
}

function rise({ subject, spec, found, around }: Bar): Finding {
  const rating = spec.ratings.currentRise;
  const value = found.firstMicrosecondRise;
  return judgeLimit({
    subject,
    quantity: "current rise (first 1 µs)",
    dimension: "current slew",
    rating,
    found: value,
    above: "unknown",
    say: (severity) => {
      const says = `The current of ${the(subject)} rose by ${show(value, "current slew")} over its first microsecond`;
      if (rating === null) return `${says}; no rating is known.`;
      const assumed = spec.inductanceAssumed
        ? ` The branch inductance of ${show(spec.inductance, "inductance")} is only assumed: measure it.`
        : "";
      if (severity === "ok") return `${says}; ${show(rating, "current slew")} is allowed.${assumed}`;
      const remedy = riseRemedy(spec, around, value, rating);
      const ways = [
        remedy.inductance === null
          ? null
          : `about ${show(safely(remedy.inductance, Math.ceil), "inductance")} in its branch`,
        remedy.capacitance === null
          ? null
          : `no more than about ${show(safely(remedy.capacitance, Math.floor), "capacitance")} across it`,
      ].filter((way) => way !== null);
      const told = ways.length > 1 ? `${ways.join(", or ")},` : ways[0];
      const help = told === undefined ? "" : ` ${capital(told)} would meet it.`;
      return `${says}; only ${show(rating, "current slew")} is allowed, so a spot of it may have burnt: ${UNKNOWN_END}.${help}${assumed}`;
    },
  });
}

/** Two digits, rounded to the side that keeps the rating. */
function safely(value: number, round: (value: number) => number): number {
  const unit = 10 ** (Math.floor(Math.log10(value)) - 1);
  return round(value / unit) * unit;
}

function junction(bar: Bar, ambient: number, windows: readonly Finding[]): Finding {
  const { subject, spec, found } = bar;
  const limit = spec.ratings.junctionTemperature;
  const outside = windows.some(({ severity }) => severity !== "ok") || outlastsWindows(bar);
  const above: Severity = found.failedShort ? "beyond" : outside ? "unknown" : "used up";
  return judgeLimit({
    subject,
    quantity: "junction temperature",
    dimension: "temperature",
    rating: limit,
    // What a part that has failed goes on reaching in the model says nothing.
    found: found.failedShort ? spec.failTemperature : found.peakTemperature.value,
    above,
    ambient,
    decides: above !== "used up",
    burns: feedsOn(bar),
    say: (severity) => junctionSentence(bar, severity),
  });
}

/** Whether one that failed short is still fed when the run ends: what is left of it burns. */
function feedsOn({ spec, found, endCurrent }: Bar): boolean {
  return found.failedShort && found.conductingAtEnd && (endCurrent === null || endCurrent > spec.holdingCurrent);
}

function junctionSentence(bar: Bar, severity: Severity): string {
  const { subject, spec, found, endCurrent } = bar;
  const of = `The junction of ${the(subject)}`;
  const says = `${of} reached ${show(found.peakTemperature.value, "temperature")}`;
  const limit = show(spec.ratings.junctionTemperature, "temperature");
  if (severity === "ok") return `${says}; ${limit} is allowed.`;
  if (severity === "beyond") {
    const ended = `${of} passed the ${show(spec.failTemperature, "temperature")} at which it counts as failed: it ended as a short circuit`;
    if (!feedsOn(bar)) return `${ended}.`;
    const current = endCurrent === null ? "current flows" : `${show(endCurrent, "current")} flow`;
    return `${ended}, and ${current} through it when the run ends. Fire hazard.`;
  }
  if (severity === "unknown")
    return `${says}, above its limit of ${limit} and outside its surge ratings: ${UNKNOWN_END}.`;
  const trips = found.firings.length;
  const each =
    trips === 1
      ? "it used up one of its surges"
      : `${counted(trips, "trip")}, each of which may have used up one of its surges`;
  return `${says}, above its limit of ${limit} but inside its surge ratings: ${each} (surge ratings are for few surges in a lifetime, each from a junction inside its limit).`;
}

/** Surge ratings speak of the longest window after a firing; a junction that is hot later than that has left them. */
function outlastsWindows({ spec, found, end }: Bar): boolean {
  const longest = Math.max(0, ...spec.ratings.surgeWindows.map(({ duration: span }) => span));
  const before = found.firings.filter((time) => time <= found.peakTemperature.time);
  const since = found.peakTemperature.time - (before.at(-1) ?? found.peakTemperature.time);
  const stillHot = found.conductingAtEnd && found.endTemperature > spec.ratings.junctionTemperature;
  return since > longest || (stillHot && end - (found.firings.at(-1) ?? end) > longest);
}

/** What the SCR did, in one sentence. */
export function barSentence({ subject, spec, found }: Bar, scenario: Scenario): string {
  const who = capital(the(subject));
  const count = found.firings.length;
  const first = found.firings[0];
  if (first === undefined)
    return `${who} never fired: behind its filter it saw ${show(found.peakSense.value, "voltage", 4)}, it trips at ${show(spec.tripVoltage, "voltage", 4)}.`;
  const since = when(scenario, first);
  const start = count === 1 ? `${who} fired once, ${since}` : `${who} fired ${counted(count, "time")}, first ${since}`;
  const end = found.failedShort
    ? "it failed short"
    : found.conductingAtEnd
      ? "it still conducts at the end"
      : `it let go ${count === 1 ? `after ${duration((found.stops.at(-1) ?? first) - first)}` : "each time"}`;
  return `${start}, with a peak of ${show(found.peakCurrent.value, "current")}; ${end}.`;
}
