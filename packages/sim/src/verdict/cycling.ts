import type { Cycling, FuseFindings, LongRun, Run, Subject } from "../model/result.ts";
import { meltingCurrentAt } from "../scenario/melting-current.ts";
import { barsOf } from "./crowbar.ts";
import { pulseFatigue } from "./fatigue.ts";
import { fuseSpec } from "./fuses.ts";
import { junctionPeaks } from "./junction-peaks.ts";
import { endOf } from "./look.ts";
import { partsInRounds } from "./round-outlook.ts";
import type { PulseFatigue, RepeatedTripping } from "./types.ts";
import { when, zeroOf } from "./when.ts";
import { capital, duration, longTime, partName, show, the } from "./words.ts";

interface Tripper {
  readonly subject: string;
  /** The supply that an SCR of its own belongs to; null: what trips stands in the line. */
  readonly feeder: string | null;
  readonly trips: readonly number[];
  readonly cycling: Cycling;
  /** °C; above everything for a series switch. */
  readonly junctionLimit: number;
  /** When the junction passed it in this run, s; null: it did not. */
  readonly passed: number | null;
  readonly failedShort: boolean;
}

/** Everything that tripped again and again, with what becomes of it in the long run. */
export function judgeTripping(run: Run): readonly RepeatedTripping[] {
  return trippers(run).map((tripper) => {
    const { subject, trips, cycling } = tripper;
    const { onShare, period } = cycling;
    const ender = endedBy(run, tripper);
    const onTime = onShare === null ? null : onShare * period;
    const estimate = ender === null ? cycling.longRun : null;
    const conducting =
      onShare === null
        ? ""
        : `, conducting for ${duration(onShare * period)} of it (on-time ${show(onShare, "ratio")})`;
    const fate = ender === null ? " Nothing in the line ends that." : ` ${ender}`;
    return {
      subject,
      count: trips.length,
      period,
      onTime,
      onShare,
      ended: ender !== null,
      sentence: `${capital(the(subject))} trips again and again: ${trips.length} times in this run, in the end every ${duration(period)}${conducting}.${fate}`,
      longRun: estimate === null ? [] : [...longRun(run, tripper, estimate), ...others(run, estimate, period)],
      fatigue: estimate === null || onTime === null ? [] : fatigueOf(run, period, onTime, estimate),
    };
  });
}

/** Whatever still trips again and again when the run ends: in short, with what happens first if it goes on. */
export function trippingOn(
  run: Run,
): readonly { readonly subject: string; readonly sentence: string; readonly passesRating: boolean }[] {
  return trippers(run).flatMap((tripper) => {
    if (endedBy(run, tripper) !== null) return [];
    const { subject, cycling } = tripper;
    const says = `${capital(the(subject))} still trips every ${duration(cycling.period)} when the run ends, and nothing in the line ends that.`;
    const outlook = cycling.longRun === null ? null : firstOf(run, tripper, cycling.longRun);
    const sentence = `${says} ${outlook === null ? NOT_KNOWN : outlook.says}`;
    return [{ subject, sentence, passesRating: outlook?.hot === true }];
  });
}

/** Clamps and leads that come to a limit by it, each in a sentence. */
function others(run: Run, estimate: LongRun, period: number): readonly string[] {
  return partsInRounds(run, estimate, period).map(({ time, says }) => {
    const at = laterOf(run, time);
    return `Estimate: ${says}${at === null ? PASSED : ` about ${at}`}.`;
  });
}

/** The first thing that happens in the long run, and whether a part passes its limit by it. */
function firstOf(run: Run, tripper: Tripper, estimate: LongRun): { readonly says: string; readonly hot: boolean } {
  const { junctionLimit, passed, subject } = tripper;
  const last = lastOf(tripper);
  if (passed !== null)
    return {
      says: `The junction of ${the(subject)} passed its limit of ${show(junctionLimit, "temperature")} ${when(run.scenario, passed, longTime)}.`,
      hot: true,
    };
  const melts = wholeFuses(run, estimate).map((fuse) => ({
    time: meltsAt(fuse),
    says: `${the(partName(fuse.subject))} melts`,
    hot: false,
  }));
  const limit = show(junctionLimit, "temperature");
  const junction = (after: number | null, what: string) =>
    after === null ? [] : [{ time: last + after, says: `${what} its limit of ${limit}`, hot: true }];
  const first = [
    ...melts,
    ...partsInRounds(run, estimate, tripper.cycling.period).map((each) => ({ ...each, hot: true })),
    ...junction(estimate.timeToJunctionLimit, `the junction of ${the(subject)} passes`),
    ...junction(estimate.timeToPeakLimit, `the peaks of the junction of ${the(subject)} pass`),
  ]
    .flatMap(({ time, ...what }) => (time === null ? [] : [{ time, ...what }]))
    .toSorted((a, b) => a.time - b.time)[0];
  if (first === undefined)
    return { says: "Estimate: no fuse, junction, clamp or lead reaches its limit by that.", hot: false };
  const at = laterOf(run, first.time);
  return { says: `Estimate: first ${first.says}${at === null ? PASSED : ` about ${at}`}.`, hot: first.hot };
}

/** Rounds of which no full one was seen, or that no SCR makes: only a longer run tells. */
export const NOT_KNOWN = "What that heats in the long run is not estimated, so it is not known: a longer run tells.";

/** An estimate that lies within the run tells no time: the run has been through it. */
const PASSED = ", and that time has already passed in this run";

/** A time of an estimate in words; null where it lies within the run. */
function laterOf(run: Run, time: number): string | null {
  return time > endOf(run) ? when(run.scenario, Math.max(time, zeroOf(run.scenario)), longTime) : null;
}

/** When a fuse melts by estimate: a peak may get there where the mean never does. */
function meltsAt({ meltTime, peakMeltTime }: LongRun["fuses"][number]): number | null {
  return peakMeltTime ?? meltTime;
}

function wholeFuses(run: Run, { fuses }: LongRun): LongRun["fuses"] {
  return fuses.filter(({ subject }) => fuseAt(run, subject)?.state === "intact");
}

function trippers(run: Run): readonly Tripper[] {
  const bars = barsOf(run).flatMap(({ subject, owner, spec, found }) =>
    found.cycling === null
      ? []
      : [
          {
            subject,
            feeder: owner,
            trips: found.firings,
            cycling: found.cycling,
            junctionLimit: spec.ratings.junctionTemperature,
            passed: found.junctionLimitTime,
            failedShort: found.failedShort,
          },
        ],
  );
  const own = run.seriesSwitch;
  if (own === null || own.cycling === null) return bars;
  return [
    ...bars,
    {
      subject: "series switch",
      feeder: null,
      trips: own.starts,
      cycling: own.cycling,
      junctionLimit: Number.POSITIVE_INFINITY,
      passed: null,
      failedShort: false,
    },
  ];
}

/** What repeats itself has tripped before. */
const lastOf = ({ trips }: Tripper): number => trips[trips.length - 1];

/** Whether all that trips it comes through a fuse: the radio's own takes nothing away from it. */
function feedsAll({ scenario: { sources } }: Run, { feeder }: Tripper, { part, owner }: Subject): boolean {
  if (part === "main fuse") return feeder === null;
  return owner === feeder || (sources.length === 1 && owner === sources[0].name);
}

/** What ended the tripping within the run, as a sentence; null where it goes on. */
function endedBy(run: Run, tripper: Tripper): string | null {
  const { subject, failedShort, cycling } = tripper;
  if (failedShort) return `It ended when ${the(subject)} failed short.`;
  const last = lastOf(tripper);
  const fuse = run.fuses.find(
    ({ openTime, subject: at }) => openTime !== null && openTime >= last && feedsAll(run, tripper, at),
  );
  if (fuse !== undefined) return `It ended when ${the(partName(fuse.subject))} opened.`;
  const quiet = endOf(run) - last;
  return quiet > 2 * cycling.period
    ? `It ended by itself: the last trip was ${duration(quiet)} before the end of the run.`
    : null;
}

function longRun(run: Run, tripper: Tripper, estimate: LongRun): readonly string[] {
  const start = "Estimate:";
  const fuses = wholeFuses(run, estimate).map((fuse) => {
    const who = the(partName(fuse.subject));
    const melts = meltsAt(fuse);
    if (melts !== null) {
      const later = laterOf(run, melts);
      return later === null
        ? `${start} ${who} melts at any moment: the time for it has already passed in this run.`
        : `${start} ${who} melts about ${later}.`;
    }
    const { restTheta, restPeak } = fuse;
    const way = restTheta === null ? "" : `, it settles ${show(restTheta, "ratio")} of the way on average`;
    const peaks =
      restTheta === null || restPeak === null || restPeak - restTheta < LEAST_PEAK
        ? ""
        : `, its peaks at ${show(restPeak, "ratio")}`;
    return `${start} ${who} never melts${way}${peaks}.`;
  });
  const limit = show(tripper.junctionLimit, "temperature");
  if (tripper.passed !== null) return [...fuses, passedLimit(run, tripper, tripper.passed, limit, estimate)];
  const who = `the junction of ${the(tripper.subject)}`;
  const rest = show(estimate.restTemperature, "temperature");
  const last = lastOf(tripper);
  const passes = estimate.timeToJunctionLimit;
  const later = passes === null ? null : laterOf(run, last + passes);
  const junction =
    passes === null
      ? `${start} ${who} settles at ${rest} on average, below its limit of ${limit}.`
      : later === null
        ? `${start} ${who} has already passed its limit of ${limit} in this run and heads for ${rest}.`
        : `${start} ${who} passes its limit of ${limit} about ${later} and heads for ${rest}.`;
  return [...fuses, junction, ...junctionPeaks(estimate, limit, (time) => laterOf(run, last + time))];
}

/** What was found is told as found; where it goes on to is an estimate. */
function passedLimit(run: Run, { subject }: Tripper, passed: number, limit: string, estimate: LongRun): string {
  const at = when(run.scenario, passed, longTime);
  const rest = show(estimate.restTemperature, "temperature");
  return `The junction of ${the(subject)} passed its limit of ${limit} ${at}. Estimate: it heads for ${rest} on average.`;
}

/** Peaks of a fuse that stand less above its mean, of the way to melting, are not told apart from it. */
const LEAST_PEAK = 0.01;

/** @param length of each pulse, s */
function fatigueOf(run: Run, period: number, length: number, estimate: LongRun): readonly PulseFatigue[] {
  return estimate.fuses.flatMap(({ subject, meanLoad }) => {
    const found = fuseAt(run, subject);
    const fuse = found?.state === "intact" ? fuseSpec(run, found) : null;
    if (fuse === null || fuse.nominalMeltingI2t === null) return [];
    const pulse = meanLoad * meltingCurrentAt(fuse, run.scenario.ambient) ** 2 * period;
    return [pulseFatigue(partName(subject), { i2t: pulse, length }, fuse.nominalMeltingI2t, period)];
  });
}

function fuseAt(run: Run, { part, owner }: Subject): FuseFindings | undefined {
  return run.fuses.find(({ subject }) => subject.part === part && subject.owner === owner);
}
