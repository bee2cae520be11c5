import type { Run, Subject } from "../model/result.ts";
import { meltingCurrentAt } from "../scenario/melting-current.ts";
import type { Fuse, Load } from "../scenario/types.ts";
import { detailsOf } from "../verdict/event-details.ts";
import { explainEvent, happening } from "../verdict/reasons.ts";
import type { Verdict } from "../verdict/types.ts";
import { hasFault, zeroOf } from "../verdict/when.ts";
import { show, the } from "../verdict/words.ts";
import { traceColumn } from "./conduction.ts";
import type { CurrentCurve, FigureEvent, StateRow, VoltageCurve, WaveformData } from "./figure/types.ts";
import { runFacts } from "./run-facts.ts";
import { stateRows } from "./state-rows.ts";

/**
 * What the fault figure draws of a run: voltages of loads, protected side and sources, currents with their limits, states and events.
 *
 * @param run with its waveforms (`record` not switched off)
 * @param verdict its headline becomes the subtitle
 * @returns SI units; the arrays are the trace's own
 *
 * @example faultFigure(figureData(run, verdict), { document })
 */
export function figureData(run: Run, verdict: Verdict): WaveformData {
  const { scenario, trace } = run;
  return {
    title: scenario.title === "" ? "A fault on a 12 V line" : scenario.title,
    facts: runFacts(run, verdict),
    subtitle: verdict.headline,
    time: trace.time,
    faultTime: zeroOf(scenario),
    zero: hasFault(scenario) ? "fault" : "start",
    voltages: voltages(run),
    window: narrowestWindow(scenario.loads),
    currents: currents(run),
    states: decisiveTold(run),
    events: figureEvents(run, verdict),
    restsUntil: run.outcome.status === "at rest" ? scenario.endTime : null,
  };
}

function voltages(run: Run): VoltageCurve[] {
  const curve = (label: string, name: string, role: VoltageCurve["role"]): VoltageCurve[] => {
    const values = traceColumn(run, name, "V");
    return values === null ? [] : [{ label, role, values }];
  };
  return [
    ...run.scenario.loads.flatMap(({ name }) => curve(name, name, "load")),
    ...curve("protected side", "protected side", "protector"),
    ...run.scenario.sources.flatMap(({ name }) => curve(name, name, "supply")),
  ];
}

/** All loads hang on one line: what none of them minds. Where no such window exists, the first load's. */
function narrowestWindow(loads: readonly Load[]): WaveformData["window"] {
  const minimum = Math.max(...loads.map(({ limits }) => limits.minimum));
  const maximum = Math.min(...loads.map(({ limits }) => limits.maximum));
  if (maximum > minimum) return { minimum, maximum };
  const { limits } = loads[0];
  return { minimum: limits.minimum, maximum: limits.maximum };
}

function currents(run: Run): CurrentCurve[] {
  const { scenario } = run;
  const { sources, mainFuse, crowbar, clamp } = scenario;
  const curve = (label: string, name: string, limit: CurrentCurve["limit"] | null): CurrentCurve[] => {
    const values = traceColumn(run, name, "A");
    if (values === null) return [];
    return [limit ? { label, values, limit } : { label, values }];
  };
  const melts = (fuse: Fuse | null, label: string): CurrentCurve["limit"] | null =>
    fuse === null ? null : { value: meltingCurrentAt(fuse, scenario.ambient), label: `${label} melts above` };
  const several = sources.filter(({ lead }) => lead.fuse !== null).length > 1;
  // The lead of a lone source carries what the main fuse carries: one curve tells both.
  const alone = sources.length === 1;
  return [
    ...sources.flatMap(({ name, lead }) =>
      curve(
        `${name} lead`,
        name,
        melts(lead.fuse, several ? `${name} fuse` : "in-line fuse") ?? (alone ? melts(mainFuse, "main fuse") : null),
      ),
    ),
    ...(alone && sources[0].lead.fuse === null ? [] : curve("main fuse", "main fuse", melts(mainFuse, "main fuse"))),
    ...(crowbar
      ? curve("SCR", "crowbar", { value: crowbar.ratings.surgeCurrent, label: "SCR 10 ms surge rating" })
      : []),
    ...sources.flatMap((source) =>
      source.kind === "supply" && source.ownCrowbar
        ? curve(`${source.name} own SCR`, `${source.name} own crowbar`, null)
        : [],
    ),
    ...(clamp
      ? curve(
          "clamp",
          "clamp",
          clamp.ratings.peakCurrent === null ? null : { value: clamp.ratings.peakCurrent, label: "clamp peak rating" },
        )
      : []),
  ];
}

const UNIMPORTANT: readonly string[] = [
  "stops conducting",
  "restarts",
  "comes back",
  "contact arc ends",
  "load changes",
  "clears",
];

/** What decides how a fault ends: a reader of a short list looks for these. */
const DECISIVE: readonly string[] = ["fires", "fails short", "melts", "over-voltage shutdown", "starts to open"];

/** The states of the devices; those to which something decisive happened say so. */
function decisiveTold(run: Run): StateRow[] {
  const decided = run.events.filter(({ kind }) => DECISIVE.includes(kind)).map(({ subject }) => rowOf(subject));
  const labels = new Set(decided);
  return stateRows(run).map((row) => (labels.has(row.label) ? { ...row, decisive: true } : row));
}

/** What `stateRows` calls a part. */
function rowOf({ part, owner }: Subject): string {
  if (part === "crowbar") return "SCR";
  if (part === "own crowbar") return `${owner} own SCR`;
  if (part === "in-line fuse") return `${owner} fuse`;
  if (part === "load clamp") return `${owner} clamp`;
  return owner === "" ? part : owner;
}

/** What is marked over the time of a run: what was logged, and when a load first passed its maximum. */
export function figureEvents(run: Run, verdict: Verdict): FigureEvent[] {
  const { scenario } = run;
  const faulty = hasFault(scenario);
  // Hundreds of trips are told alike.
  const told = new Map<string, string>();
  const explained = (event: Run["events"][number]): string => {
    const key = [event.kind, event.subject.part, event.subject.owner, event.cause].join("|");
    const known = told.get(key) ?? explainEvent(event, run);
    told.set(key, known);
    return known;
  };
  const logged = run.events
    // Where no source has a fault, its instant means nothing to a reader.
    .filter(({ kind }) => faulty || kind !== "fault")
    .map((event) => {
      const what = event.kind === "fault" ? detailsOf(event, scenario) : null;
      return {
        time: event.time,
        label: what === null ? happening(event) : `${happening(event)}: ${what}`,
        important: !UNIMPORTANT.includes(event.kind),
        decisive: DECISIVE.includes(event.kind),
        explanation: explained(event),
      };
    });
  return [...logged, ...scenario.loads.flatMap((load) => exceedance(run, verdict, load))].sort(
    (a, b) => a.time - b.time,
  );
}

/** When a load first passes its maximum: nothing is switched then, but a reader looks for it. */
function exceedance(run: Run, verdict: Verdict, { name, limits }: Load): FigureEvent[] {
  const values = traceColumn(run, name, "V");
  const { time } = run.trace;
  const above = values?.findIndex((value) => value > limits.maximum) ?? -1;
  if (values === null || above < 0) return [];
  const before = Math.max(0, above - 1);
  const rise = values[above] - values[before];
  const share = rise > 0 ? (limits.maximum - values[before]) / rise : 1;
  return [
    {
      time: time[before] + Math.max(0, share) * (time[above] - time[before]),
      label: `${the(name)} rises above ${show(limits.maximum, "voltage")}`,
      important: true,
      decisive: true,
      explanation: verdict.kind === "verdict" ? (verdict.loads.find((load) => load.name === name)?.sentence ?? "") : "",
    },
  ];
}
