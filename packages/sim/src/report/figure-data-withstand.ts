import type { LoadFindings, Run } from "../model/result.ts";
import type { Load } from "../scenario/types.ts";
import type { Judged } from "../verdict/types.ts";
import { capital, duration, show, the } from "../verdict/words.ts";
import { traceColumn } from "./conduction.ts";
import type { LoadWithstand, WithstandData, WithstandPoint } from "./figure/withstand-types.ts";
import { longestAbove } from "./longest-above.ts";
import { runFacts } from "./run-facts.ts";

/** How many voltages the found curve is sampled at. */
const LEVELS = 90;

/**
 * What the withstand figure draws of a run: for each load the longest unbroken time above each voltage, from the trace, and the
 * times that it stands.
 *
 * @param run with its waveforms (`record` not switched off)
 * @returns null where no load has a withstand curve and none was above its maximum: there is nothing to compare
 * @example
 * const shown = withstandData(run, verdict);
 * if (shown !== null) withstandFigure(shown, { document })
 */
export function withstandData(run: Run, verdict: Judged): WithstandData | null {
  const loads = run.scenario.loads.flatMap((load) => loadOf(run, load));
  const worth = loads.some(({ allowed, peak, maximum }) => allowed.length > 0 || peak > maximum);
  if (!worth) return null;
  const worst = [...loads].sort((a, b) => marginOf(a) - marginOf(b))[0];
  return {
    title: `${verdict.title === "" ? "A fault on a 12 V line" : verdict.title}: how long above which voltage?`,
    facts: runFacts(run, verdict),
    subtitle: answer(worst),
    loads,
  };
}

function loadOf(run: Run, load: Load): LoadWithstand[] {
  const values = traceColumn(run, load.name, "V");
  const found = run.loads.find(({ name }) => name === load.name);
  if (values === null || found === undefined) return [];
  const { maximum, withstand, withstandAssumed } = load.limits;
  const peak = found.peak.value;
  const low = lowest(values[0], maximum);
  const levels = Array.from({ length: LEVELS }, (_, i) => low + ((peak - low) * i) / LEVELS);
  const sampled = peak > low ? longestAbove(run.trace.time, values, levels) : [];
  return [
    {
      label: load.name,
      maximum,
      peak,
      found: run.trace.thinned === undefined ? sampled : watched(found),
      allowed: withstand.map(({ voltage, time }) => ({ voltage, time })),
      assumed: withstandAssumed,
      nearest: nearest(found),
    },
  ];
}

/** Where rows of the trace were left out it no longer tells how long anything lasted: only what the run itself watched. */
function watched({ aboveMaximum, withstand }: LoadFindings): WithstandPoint[] {
  const points = [aboveMaximum, ...withstand].map(({ level, longest }) => ({ voltage: level, time: longest }));
  return points.filter(({ time }) => time > 0).sort((a, b) => a.voltage - b.voltage);
}

/** From a little below what the load has in peace. */
function lowest(start: number, maximum: number): number {
  return Math.floor(2 * (start > 0.5 * maximum ? Math.min(start, maximum) : maximum - 2)) / 2;
}

function nearest({ withstand }: LoadFindings): LoadWithstand["nearest"] {
  const passed = withstand.filter(({ longest }) => longest > 0);
  const sorted = passed.sort((a, b) => a.allowed / a.longest - b.allowed / b.longest);
  const first = sorted[0];
  return first === undefined ? null : { voltage: first.level, found: first.longest, allowed: first.allowed };
}

/** Allowed over found; above every level's reach infinite, beyond a strict maximum 0. */
function marginOf({ nearest: near, allowed, peak, maximum }: LoadWithstand): number {
  if (near !== null) return near.allowed / near.found;
  return allowed.length === 0 && peak > maximum ? 0 : 1e6 + maximum - peak;
}

function answer(load: LoadWithstand): string {
  const { label, maximum, peak, allowed, assumed, nearest: near } = load;
  const who = capital(the(label));
  const curve = assumed ? "its curve, which is assumed, allows" : "its curve allows";
  if (near !== null) {
    const [found, most] = [duration(near.found), duration(near.allowed)];
    const ratio = near.allowed / near.found;
    const judged = ratio >= 1 ? `${times(ratio)} as long` : `it lasted ${times(1 / ratio)} as long`;
    return `${who} was above ${show(near.voltage, "voltage")} for ${found}; ${curve} ${most}: ${judged}.`;
  }
  const first: WithstandPoint | undefined = allowed[0];
  if (first === undefined) {
    const time = longest(load, maximum);
    return `${who} stands no time above ${show(maximum, "voltage")}; it saw ${show(peak, "voltage", 4)}${time === null ? "" : ` and was above for ${duration(time)}`}.`;
  }
  return `${who} never rose above ${show(peak, "voltage", 4)}; what it stands begins to count at ${show(first.voltage, "voltage")}.`;
}

/** Found time at the first sampled voltage from the given one on. */
function longest({ found }: LoadWithstand, voltage: number): number | null {
  return found.find((point) => point.voltage >= voltage)?.time ?? null;
}

function times(ratio: number): string {
  return `${Number(ratio.toPrecision(ratio < 10 ? 3 : 2))} times`;
}
