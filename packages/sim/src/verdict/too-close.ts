import type { Run } from "../model/result.ts";
import type { Dimension } from "../units/index.ts";
import { barsOf } from "./crowbar.ts";
import { isClose } from "./finding.ts";
import { endOf } from "./look.ts";
import type { Finding, LoadVerdict, TooClose } from "./types.ts";
import { capital, show, showApart, the } from "./words.ts";

/**
 * Every decisive level that the run missed or passed by less than 0.1 %: it may go either way.
 * @param loads verdicts on the loads; findings: every other watched limit
 */
export function tooClose(run: Run, loads: readonly LoadVerdict[], findings: readonly Finding[]): readonly TooClose[] {
  return run.outcome.status === "stopped" ? passedBefore(run, loads, findings) : atTheEnd(run, loads, findings);
}

/** A run that somebody stopped may have been on its way to a level or through it: only what it passed, and stayed near to, was close. */
function passedBefore(
  run: Run,
  loads: readonly LoadVerdict[],
  findings: readonly Finding[],
): ReturnType<typeof tooClose> {
  const turned = loads.filter(({ peak }) => peak.time < endOf(run));
  return [
    ...turned.flatMap(({ limits }) => fromFindings(limits)),
    ...failTemperatures(run),
    ...fromFindings(findings),
  ].filter(({ found, level: limit }) => found > limit);
}

function atTheEnd(run: Run, loads: readonly LoadVerdict[], findings: readonly Finding[]): ReturnType<typeof tooClose> {
  return [
    ...loads.flatMap(({ limits }) => fromFindings(limits)),
    ...run.loads.flatMap((found) => plateau(run, found.name)),
    ...senses(run),
    ...failTemperatures(run),
    ...fromFindings(findings),
  ];
}

function fromFindings(findings: readonly Finding[]): readonly TooClose[] {
  return findings.flatMap(({ close, rating, subject, quantity, dimension, found }) =>
    close && rating !== null ? [level(subject, quantity, dimension, rating, found)] : [],
  );
}

function level(subject: string, quantity: string, dimension: Dimension, limit: number, found: number): TooClose {
  const [is, at] = showApart(found, limit, dimension);
  const off = limit === 0 ? 0 : Math.abs(found / limit - 1);
  const side =
    found > limit
      ? `passes its level of ${at} by`
      : found < limit
        ? `misses its level of ${at} by`
        : `stands on its level of ${at} to within`;
  const by = off === 0 ? "less than any run can tell" : show(off, "ratio", 2);
  return {
    subject,
    quantity,
    dimension,
    level: limit,
    found,
    sentence: `${capital(the(subject))}: ${quantity} of ${is} ${side} ${by}.`,
  };
}

/** A flat top just below a voltage of the withstand curve that lasted longer than that voltage allows. */
function plateau(run: Run, name: string): readonly TooClose[] {
  const found = run.loads.find((each) => each.name === name);
  if (found === undefined) return [];
  return found.withstand.flatMap(({ level: voltage, allowed }, index) => {
    if (found.peak.value > voltage || !isClose(found.peak.value, voltage)) return [];
    const below = index === 0 ? found.aboveMaximum.longest : found.withstand[index - 1].longest;
    return below <= allowed
      ? []
      : [level(name, "voltage of its withstand curve", "voltage", voltage, found.peak.value)];
  });
}

/** Sensed voltages that came up to their trip level without tripping. */
function senses(run: Run): readonly TooClose[] {
  const bars = barsOf(run)
    .filter(({ found, spec }) => found.firings.length === 0 && isClose(found.peakSense.value, spec.tripVoltage))
    .map(({ subject, spec, found }) =>
      level(subject, "filtered sense voltage", "voltage", spec.tripVoltage, found.peakSense.value),
    );
  const spec = run.scenario.seriesSwitch;
  const found = run.seriesSwitch;
  if (spec === null || found === null || found.starts.length > 0 || !isClose(found.peakSense.value, spec.offVoltage))
    return bars;
  return [...bars, level("series switch", "filtered sense voltage", "voltage", spec.offVoltage, found.peakSense.value)];
}

/** Junctions within 0.1 % of the rise at which the SCR counts as failed. */
function failTemperatures(run: Run): readonly TooClose[] {
  const { ambient } = run.scenario;
  return barsOf(run)
    .filter(({ found, spec }) => isClose(found.peakTemperature.value - ambient, spec.failTemperature - ambient))
    .map(({ subject, spec, found }) =>
      level(subject, "junction temperature", "temperature", spec.failTemperature, found.peakTemperature.value),
    );
}
