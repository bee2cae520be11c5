import type { Run } from "../model/result.ts";
import { junctionPasses, lastCurrent } from "./look.ts";
import { when } from "./when.ts";
import { longTime, show } from "./words.ts";

export interface Holding {
  /** Current at the end of the run, A; held from there on. */
  readonly current: number;
  /** Temperature it leads to, °C. */
  readonly restTemperature: number;
  /** From the end of the run, s; 0: passed already; null: never. */
  readonly timeToLimit: number | null;
  readonly timeToFailure: number | null;
}

/**
 * A source that holds the SCR on for ever: where the junction is heading with the last current. The junction's own stages are taken as
 * settled (they take less than a second or two), so only case and heat sink still warm up: an estimate.
 * Null where the crowbar does not conduct at the end, has failed, or the trace does not hold its current.
 */
export function holdingOf(run: Run): Holding | null {
  const spec = run.scenario.crowbar;
  const found = run.crowbar;
  if (spec === null || found === null || !found.conductingAtEnd || found.failedShort || found.cycling !== null)
    return null;
  const current = lastCurrent(run, "crowbar");
  if (current === null || current <= spec.holdingCurrent) return null;
  const power = (spec.thresholdVoltage + spec.slopeResistance * current) * current;
  const junctionRise = power * spec.junctionStages.reduce((sum, { resistance }) => sum + resistance, 0);
  const caseRest = power * spec.caseToAmbient;
  const base = run.scenario.ambient + junctionRise;
  const caseNow = found.endTemperature - base;
  const tau = spec.caseToAmbient * spec.caseHeatCapacity;
  const reach = (limit: number): number | null => {
    if (base + caseNow >= limit) return 0;
    if (base + caseRest <= limit) return null;
    return tau * Math.log((caseRest - caseNow) / (caseRest - (limit - base)));
  };
  return {
    current,
    restTemperature: base + caseRest,
    timeToLimit: reach(spec.ratings.junctionTemperature),
    timeToFailure: reach(spec.failTemperature),
  };
}

/** Of an SCR that failed, when it passed its limit before; else null. */
export function failedSentence(run: Run): string | null {
  const spec = run.scenario.crowbar;
  if (spec === null || run.crowbar?.failedShort !== true) return null;
  const passed = junctionPasses(run, spec.ratings.junctionTemperature);
  const limit = show(spec.ratings.junctionTemperature, "temperature");
  return passed === null
    ? null
    : `The junction of the crowbar passed its limit of ${limit} ${when(run.scenario, passed, longTime)}, and then failed.`;
}

/** The estimate in words, times counted from the fault (or the start, where there is none); null where nothing holds the crowbar on. */
export function holdingSentence(run: Run, end: number): string | null {
  const spec = run.scenario.crowbar;
  if (spec === null) return null;
  const limit = show(spec.ratings.junctionTemperature, "temperature");
  const passed = junctionPasses(run, spec.ratings.junctionTemperature);
  const since = (time: number): string => when(run.scenario, time, longTime);
  const holding = holdingOf(run);
  if (holding === null) return null;
  const start = `The line holds the crowbar on with ${show(holding.current, "current")} and nothing in it ends that`;
  if (holding.timeToLimit === null)
    return `${start}. Estimate: its junction settles at ${show(holding.restTemperature, "temperature")}, below its limit of ${limit}.`;
  const passing =
    holding.timeToLimit === 0
      ? passed === null
        ? `its junction is above its limit of ${limit}`
        : `its junction passed its limit of ${limit} ${since(passed)}`
      : `its junction passes its limit of ${limit} ${since(end + holding.timeToLimit)}`;
  const further =
    holding.timeToFailure === null
      ? `and heads for ${show(holding.restTemperature, "temperature")}`
      : `and counts as failed ${since(end + holding.timeToFailure)}`;
  const late = holding.timeToLimit === 0 ? "" : " before that";
  return `${start}. Estimate: ${passing} ${further}. Somebody must switch the source off${late}.`;
}
