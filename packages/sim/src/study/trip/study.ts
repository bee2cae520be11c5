import { runScenario } from "../../report/run-scenario.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { type Band, findBand, type NoBand } from "./band.ts";
import { tryChanges } from "./changes.ts";
import { dividerPairs, landingsOf, within } from "./dividers.ts";
import {
  type FaultMeasured,
  measureFault,
  measureKeying,
  measurePlugs,
  type NotMeasured,
  type ServiceMeasured,
} from "./measure.ts";
import { Bench, type Steps, TripMemory, type WantedRun } from "./runs.ts";
import { nuisancesOf } from "./service.ts";
import { CREEP, faultText, keyingText, plugText } from "./texts.ts";
import { toleranceAt, zenerTrip } from "./tolerance.ts";
import type { LoadPeak, Range, TriedChange, TripSettings, TripStudy, Verified } from "./types.ts";
import { headlineOf, reasonsOf } from "./words.ts";

/** What became of a question for the trip point. */
export type TripAnswer = { readonly kind: "answered"; readonly study: TripStudy } | NoBand;

/**
 * The whole study in steps: each asks for one simulation and is handed what `runScenario` or a worker made of it. `tripStudy` runs them here.
 *
 * @param text a scenario file
 * @param file its name, for the places in messages
 * @param settings of `readTripSettings`
 * @param options what earlier studies found out, and whether changes are tried where no band exists
 */
export function* tripSteps(
  text: string,
  file: string,
  settings: TripSettings,
  options: Pick<TripOptions, "memory" | "changes"> = {},
): Steps<TripAnswer> {
  const { memory = new TripMemory(), changes: wantsChanges = true } = options;
  const bench = new Bench(file, memory);
  const found = yield* findBand(bench, text, file, settings);
  if (found.kind === "refused") return found;
  const changes = found.exists || !wantsChanges ? [] : yield* tryChanges(bench, text, file, found);
  const verified = yield* verify(bench, text, found);
  return { kind: "answered", study: studyOf(found, changes, verified, bench.runs, wantsChanges) };
}

/** What no meter tells apart, V. */
const GRAIN = 1e-9;

/** Full simulation at both ends of the band: normal service with the protector at the lower one, faults at the upper one. */
function* verify(
  bench: Bench,
  text: string,
  { line, settings, delay, service, bottom, top, response }: Band,
): Steps<Verified> {
  const low = yield* bench.measure<ServiceMeasured>(
    "normal service at the lower end",
    [text, service.base, bottom.worst, settings.transmit],
    () => keyingText(text, line, service.base, bottom.worst),
    (result) => measureKeying(result, line),
  );
  const plugs = yield* bench.measure<ServiceMeasured>(
    "plugs at the lower end",
    [text, service.base, bottom.worst, settings.transmit],
    () => plugText(text, line, service.base, bottom.worst),
    (result) => measurePlugs(result, line),
  );
  // A sum of the same rows by another way differs in its last digits; the run would be the same.
  const upper = Math.round(top.worst / GRAIN) * GRAIN;
  const at = (name: string, ramp: number | null) =>
    bench.measure<FaultMeasured>(
      name,
      [text, upper, ramp, delay],
      () => faultText(text, line, upper, { ramp, delay, creeps: ramp === CREEP }),
      (result) => measureFault(result, line, delay),
    );
  const fault =
    response.kind === "response" && response.verified ? yield* at("the fault at the upper end", settings.ramp) : null;
  const creep = line.supplies.length > 0 ? yield* at("a creeping voltage at the upper end", CREEP) : null;
  const peakOf = (measured: FaultMeasured | NotMeasured | null): LoadPeak | null =>
    measured === null || measured.kind === "none"
      ? null
      : { load: measured.load, peak: measured.peak, limit: measured.limit };
  const counts = [low, plugs].flatMap((measured) => (measured.kind === "none" ? [] : [measured.firings]));
  const firings = counts.length === 0 ? null : counts.reduce((sum, each) => sum + each, 0);
  return { firings, fault: peakOf(fault), creep: peakOf(creep) };
}

function studyOf(
  found: Band,
  changes: readonly TriedChange[],
  verified: Verified,
  runs: number,
  triedChanges: boolean,
): TripStudy {
  const { line, settings, device, gate, delay, service, response, band, bandRss, window, windowRss } = found;
  const { coldest, hottest, resistors, bias } = settings;
  const about = { coldest, hottest, resistors, bias, gate };
  const middle = ({ low, high }: Range): number => (low + high) / 2;
  // Where no place is right, one that does not trip falsely at every start is the least wrong.
  const likely = Math.max(
    middle(!found.exists && found.existsRss ? windowRss : window),
    found.exists ? 0 : bandRss.low,
  );
  const nominal = device.kind === "zener" ? zenerTrip(device) : (settings.wanted ?? likely);
  const trip = toleranceAt(device, nominal, about);
  const written = toleranceAt(device, line.protector.trip, about);
  const half: Omit<TripStudy, "headline" | "reasons"> = {
    title: line.scenario.title,
    protector:
      line.protector.kind === "crowbar"
        ? `crowbar (${line.protector.label})`
        : `series switch (${line.protector.label})`,
    settings,
    threshold: device.about,
    bottom: found.bottom,
    top: found.top,
    tops: found.tops,
    rules: found.rules,
    band,
    bandRss,
    window,
    windowRss,
    exists: found.exists,
    existsRss: found.existsRss,
    trip,
    fits: within(trip, band),
    written: { ...written, fits: within(written, band) },
    dividers: dividerPairs(device, nominal, settings, { band, rss: bandRss }),
    landings: landingsOf(settings, (at) => toleranceAt(device, nominal, { ...about, ...at })),
    nuisances: nuisancesOf(service, line, settings, found.exists ? trip.low : band.low, delay),
    drops: service.drops,
    ramp: response.kind === "response" ? response.unprotected.ramp : null,
    noFault: response.kind === "response" ? null : response.why,
    verified,
    changes,
    cautions: CAUTIONS,
    runs,
  };
  return { ...half, headline: headlineOf(half, triedChanges), reasons: found.exists ? [] : reasonsOf(half) };
}

/** How a study is run. */
export interface TripOptions {
  /** What earlier studies found out; keep one to ask again with small changes. */
  readonly memory?: TripMemory;
  /** Whether changes are tried where no band exists (default true): that takes many runs. */
  readonly changes?: boolean;
  /** Called before each simulation with what it is for. */
  readonly progress?: (run: WantedRun) => void;
}

/**
 * Where to set the trip: the band of trip voltages between normal service and the load's limit, what it is made of, where the nominal trip
 * point may lie, dividers for it, and, where no band exists, the cheapest change that opens one.
 *
 * @param text a scenario file with a crowbar or a series switch and a fault
 * @param file its name, for the places in messages
 * @param settings of `readTripSettings`
 * @returns the study, or all problems; never throws on bad input
 *
 * @example
 * const { settings } = readTripSettings({ resistors: "0.1 %" });
 * const answer = settings && tripStudy(text, "hut.yaml", settings);
 * if (answer?.kind === "answered") console.log(answer.study.window);
 */
export function tripStudy(text: string, file: string, settings: TripSettings, options: TripOptions = {}): TripAnswer {
  const steps = tripSteps(text, file, settings, options);
  let step = steps.next();
  while (!step.done) {
    options.progress?.(step.value);
    step = steps.next(runScenario(step.value.text, step.value.file, step.value.options));
  }
  return step.value;
}
