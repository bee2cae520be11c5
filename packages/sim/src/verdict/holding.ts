import type { FuseFindings, Run } from "../model/result.ts";
import type { Crowbar } from "../scenario/types.ts";
import { type Bar, barsOf } from "./crowbar.ts";
import { endOf, lastCurrent } from "./look.ts";
import type { Pending } from "./types.ts";
import { when } from "./when.ts";
import { capital, longTime, partName, show, the } from "./words.ts";

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
export function holdingOf(run: Run, bar: Bar | undefined = lineBar(run)): Holding | null {
  if (bar === undefined) return null;
  const { spec, found, endCurrent: current, endHeating } = bar;
  if (!found.conductingAtEnd || found.failedShort || stillTrips(bar)) return null;
  if (current === null || current <= spec.holdingCurrent) return null;
  const power = powerAt(spec, current, endHeating ?? current);
  const caseRest = power * spec.caseToAmbient;
  const base = restTemperature(run, spec, power) - caseRest;
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

const LINE = "crowbar";

const lineBar = (run: Run): Bar | undefined => barsOf(run).find(({ subject }) => subject === LINE);

/** One that has tripped again and again and then stays on is held on like any other. */
function stillTrips({ found, end }: Bar): boolean {
  return found.cycling !== null && end - (found.firings.at(-1) ?? end) <= 2 * found.cycling.period;
}

/** Whether the last current heats an SCR past its limit before a fuse melts of it; an estimate. */
export function heldTooHot(run: Run): boolean {
  return barsOf(run).some((bar) => {
    const toLimit = holdingOf(run, bar)?.timeToLimit ?? null;
    const melting = nextToMelt(run, bar);
    return toLimit !== null && (melting === null || melting.after > toLimit);
  });
}

/** Mean power in an SCR, W. */
const powerAt = ({ thresholdVoltage, slopeResistance }: Crowbar, mean: number, rms: number): number =>
  thresholdVoltage * mean + slopeResistance * rms ** 2;

/** Where the junction settles when a power goes on for ever, °C. */
function restTemperature(run: Run, spec: Crowbar, power: number): number {
  const toCase = spec.junctionStages.reduce((sum, { resistance }) => sum + resistance, 0);
  return run.scenario.ambient + power * (toCase + spec.caseToAmbient);
}

/** Of each SCR that failed, when it passed its limit before. */
export function failedSentences(run: Run): readonly string[] {
  return barsOf(run).flatMap(({ subject, spec, found: { failedShort, junctionLimitTime: passed } }) =>
    failedShort && passed !== null
      ? [
          `The junction of ${the(subject)} passed its limit of ${limitOf(spec)} ${when(run.scenario, passed, longTime)}, and then failed.`,
        ]
      : [],
  );
}

/**
 * Of each SCR that something holds on, the line's and the supplies' own: the estimate in words, times counted from the fault (or the start, where
 * there is none), and whether the junction passes its rating by it.
 */
export function holdingsTold(run: Run): readonly (Told & { readonly subject: string })[] {
  return barsOf(run).flatMap((bar) => {
    const holding = holdingOf(run, bar);
    return holding === null ? [] : [{ subject: bar.subject, ...holdingTold(run, bar, holding) }];
  });
}

type Told = Pick<Pending, "sentence" | "passesRating" | "endedBy">;

function holdingTold(run: Run, bar: Bar, holding: Holding): Told {
  const { spec } = bar;
  const end = endOf(run);
  const current = show(holding.current, "current");
  const start =
    bar.subject === LINE
      ? `The line holds the crowbar on with ${current}`
      : `${capital(the(bar.subject))} is held on with ${current}`;
  const melting = nextToMelt(run, bar);
  const until = melting === null ? null : melting.after;
  const way = heading(run, bar, holding, end, until);
  const told = (sentence: string, endedBy: string | null = null): Told => ({
    sentence,
    passesRating: !way.harmless,
    endedBy,
  });
  if (melting === null)
    return told(
      `${start} and ${endsAlone(run)}: ${way.says}.${way.harmless ? "" : ` ${SWITCH_OFF}${holding.timeToLimit === 0 ? "" : " before that"}.`}`,
    );
  const { found, after } = melting;
  const melts = `${the(partName(found.subject))} is ${show(found.peakTheta, "ratio")} of the way to melting and melts by that about ${when(run.scenario, end + after, longTime)}`;
  const rest = holding.current - melting.current;
  if (rest <= spec.holdingCurrent)
    return told(
      `${start}, and ${melts}, which ends it. Estimate: ${way.harmless ? `until then its junction stays below its limit of ${limitOf(spec)}` : way.says}.`,
      partName(found.subject),
    );
  const settles = show(restTemperature(run, spec, powerAt(spec, rest, rest)), "temperature");
  return told(
    `${start}, and ${melts}, which leaves it ${show(rest, "current")} that nothing in it ends. Estimate: ${way.harmless ? "" : `${way.says}; `}with what is left its junction settles at ${settles} (limit ${limitOf(spec)}).`,
  );
}

const SWITCH_OFF = "Somebody must switch the source off";

const limitOf = (spec: Crowbar): string => show(spec.ratings.junctionTemperature, "temperature");

/** A limiter that goes off after a time takes the current away, whether it comes back or not. */
function endsAlone(run: Run): string {
  const limiting = run.scenario.sources.find((source) => {
    const goesOff = source.kind === "supply" && (source.limit.style === "hiccup" || source.limit.style === "latch off");
    return goesOff && run.sources.find(({ name }) => name === source.name)?.stateAtEnd === "limiting";
  });
  return limiting === undefined
    ? "nothing in it ends that. Estimate"
    : `only the limiter of ${the(limiting.name)} ends that, after its detection time. Estimate, its pauses left out`;
}

/** The fuse on the SCR's way that melts first if its last current goes on; null where none does. */
function nextToMelt(
  run: Run,
  bar: Bar,
): { readonly found: FuseFindings; readonly current: number; readonly after: number } | null {
  const fed = run.fuses.flatMap((found) => {
    const { part, owner } = found.subject;
    const source = run.scenario.sources.some(({ name }) => name === owner);
    const inLead = source ? lastCurrent(run, owner) : null;
    const current =
      bar.owner === null ? (part === "main fuse" ? lastCurrent(run, part) : inLead) : into(bar.owner, owner, inLead);
    return found.meltsAfter === null || current === null ? [] : [{ found, current, after: found.meltsAfter }];
  });
  return fed.toSorted((a, b) => a.after - b.after)[0] ?? null;
}

/** Of what flows in the lead of a source, what a supply's own SCR gets: that which flows back into this supply, or out of another source. */
function into(supply: string, owner: string, inLead: number | null): number | null {
  const current = inLead === null ? 0 : owner === supply ? -inLead : inLead;
  return current > 0 ? current : null;
}

/** What becomes of the junction, up to so many seconds after the end of the run (null: for ever). */
function heading(
  run: Run,
  { spec, found }: Bar,
  holding: Holding,
  end: number,
  until: number | null,
): { readonly says: string; readonly harmless: boolean } {
  const limit = limitOf(spec);
  const since = (time: number): string => when(run.scenario, time, longTime);
  const within = (time: number | null): number | null =>
    time !== null && until !== null && time > until ? null : time;
  const toLimit = within(holding.timeToLimit);
  const toFailure = within(holding.timeToFailure);
  const rest = show(holding.restTemperature, "temperature");
  if (toLimit === null) return { says: `its junction settles at ${rest}, below its limit of ${limit}`, harmless: true };
  const passed = found.junctionLimitTime;
  const passing =
    toLimit === 0
      ? passed === null
        ? `its junction is above its limit of ${limit}`
        : `its junction passed its limit of ${limit} ${since(passed)}`
      : `its junction passes its limit of ${limit} ${since(end + toLimit)}`;
  const further =
    toFailure !== null
      ? ` and counts as failed ${since(end + toFailure)}`
      : until === null
        ? ` and heads for ${rest}`
        : "";
  return { says: `${passing}${further}`, harmless: false };
}
