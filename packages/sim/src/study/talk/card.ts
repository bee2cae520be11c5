import type { Issue } from "../../issue/issue.ts";
import { columnName } from "../../model/readings.ts";
import type { Run } from "../../model/result.ts";
import { simulate } from "../../model/run.ts";
import { checkScenario } from "../../report/run-scenario.ts";
import { describeValue, type ScenarioResult } from "../../scenario/index.ts";
import type { Scenario } from "../../scenario/types.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { show } from "../../verdict/words.ts";
import { BENCH, type BenchSetting, benchLine } from "./bench-line.ts";
import { type BenchTrip, benchTrip } from "./bench-trip.ts";
import { amperes, benchChecks, benchSteps, strainOf } from "./bench-words.ts";
import type { BenchCard, BenchReading, TalkRefused } from "./types.ts";

/** Resistance of the dummy load: about 0.3 A from a 12 V line, so that a meter sees it and nothing burns (common practice, no source). */
const DUMMY = { resistance: 47, power: 10 } as const;
/** How fast the source is turned up, V/s: a person's hand, and slow beside any sense filter. */
const SLEW = 0.1;
/** How far beyond its trip point the source goes on, V. */
const BEYOND = 0.3;
/** How far below the lowest trip point it begins at least, V. */
const BELOW = 0.5;
/** Times the latching current (common practice, no source). */
const LATCHING_FACTOR = 3;

/**
 * How to try the protector of a scenario safely on the bench, with what meters will show: computed by simulating that very line with a
 * current-limited source that is turned up slowly in the place of its sources, and a resistor in the place of its loads; once as it stands
 * and once at each end of what its trip point may be.
 *
 * @param text of the scenario file
 * @param file its name, for the places in messages
 * @returns the card, SI units; or every problem of the file, also that it has no protector that could be tried
 * @example const found = benchCard(text, "hut.yaml"); if (found.kind === "card") console.log(renderCard(found.card));
 */
export function benchCard(
  text: string,
  file: string,
): { readonly kind: "card"; readonly card: BenchCard } | TalkRefused {
  const parsed = checkScenario(text, file);
  const { scenario } = parsed;
  if (scenario === null) return { kind: "refused", issues: parsed.issues };
  const trip = benchTrip(parsed, scenario);
  if (trip === null) return { kind: "refused", issues: [noProtector] };
  const setting = settingOf(scenario, trip);
  const runs = ends(trip).map((at) => benchRun(scenario, setting, at));
  const [asItStands] = runs;
  const at = tripIndex(asItStands, trip.kind);
  if (at === null) return { kind: "refused", issues: [neverTrips(setting)] };
  const readings = readingsOf(runs, trip, at);
  return {
    kind: "card",
    card: {
      title: scenario.title === "" ? "A 12 V line" : scenario.title,
      protector: `${trip.label}, ${trip.kind === "clamp" ? "breaks down at" : "set to"} ${show(trip.nominal, "voltage", 4)}`,
      source: {
        startVoltage: setting.startVoltage,
        endVoltage: setting.endVoltage,
        currentLimit: setting.currentLimit,
        slew: setting.slew,
        why: whyLimit(parsed, scenario, trip, setting),
      },
      dummy: DUMMY,
      steps: benchSteps(scenario, trip, setting, DUMMY),
      readings,
      checks: benchChecks(scenario, trip, setting, readings),
      strain: strainOf(asItStands),
      assumptions: [
        "The bench source is of the class “bench supply 3 A, current limited”, with leads of 1 m and 2.5 mm² on both sides (assumed).",
        ...(trip.about === null ? [] : [trip.about]),
        "The meters' own error comes on top: 1 % of a usual one is 0.15 V at 15 V (common practice, no source).",
      ],
      cautions: CAUTIONS,
    },
  };
}

function settingOf({ crowbar, sources }: Scenario, { kind, low, high }: BenchTrip): BenchSetting {
  const supplied = sources.flatMap((source) => (source.kind === "supply" ? [source.setVoltage] : []));
  const usual = supplied.length === 0 ? 13.8 : Math.max(...supplied);
  const startVoltage = tenth(Math.min(usual, low - BELOW), Math.floor);
  const endVoltage = tenth(high + BEYOND, Math.ceil);
  const drawn = endVoltage / DUMMY.resistance;
  // A clamp takes what the dummy load leaves: little enough that it stands it.
  const needed = kind === "clamp" ? drawn + 0.05 : Math.max(1.5 * drawn, LATCHING_FACTOR * (latching(crowbar) ?? 0));
  return {
    startVoltage,
    endVoltage,
    slew: SLEW,
    currentLimit: tenth(needed, Math.ceil),
    dummy: DUMMY.resistance,
    trip: null,
  };
}

/** A hair of what computers lose does not make it another tenth. */
const tenth = (value: number, round: (value: number) => number): number => round(Number((value * 10).toFixed(9))) / 10;

/** The current that an SCR must have reached once; where its sheet tells none, what holds it. */
function latching(crowbar: Scenario["crowbar"]): number | null {
  if (crowbar === null) return null;
  return Math.max(crowbar.latchingCurrent, crowbar.holdingCurrent);
}

function whyLimit(
  parsed: ScenarioResult,
  { crowbar, mainFuse }: Scenario,
  trip: BenchTrip,
  setting: BenchSetting,
): readonly string[] {
  const limit = amperes(setting.currentLimit);
  const fuse =
    mainFuse === null || setting.currentLimit > mainFuse.minimumMeltingCurrent
      ? []
      : [
          `It stays far below what melts the main fuse (${show(mainFuse.minimumMeltingCurrent, "current")}), so nothing is used up.`,
        ];
  if (crowbar === null)
    return [
      trip.kind === "clamp"
        ? `${limit}: what the dummy load draws and a little more, for a clamp is made for pulses and not for a steady current.`
        : `${limit}: enough for the dummy load with half as much again.`,
      ...fuse,
    ];
  const isLatching = crowbar.latchingCurrent >= crowbar.holdingCurrent;
  const current = show(Math.max(crowbar.latchingCurrent, crowbar.holdingCurrent), "current");
  const key = isLatching ? "latching current" : "holding current";
  const origin = describeValue(parsed, ["crowbar", key]);
  const from = origin === null ? "" : ` (${origin.mark}: ${origin.source})`;
  const more =
    setting.currentLimit > LATCHING_FACTOR * (latching(crowbar) ?? 0) + 0.1
      ? "half as much again as the dummy load draws, and with that "
      : "";
  return [
    `${limit} is ${more}at least three times the SCR's ${key} of ${current}${from}: common practice, no source.`,
    `With less the SCR may fire and not stay on: the voltage comes back, and a good protector looks like a broken one. Cold makes an SCR need more.`,
    ...fuse,
  ];
}

/** As it stands, then at both ends of the range. */
const ends = ({ nominal, low, high }: BenchTrip): readonly number[] => (low < high ? [nominal, low, high] : [nominal]);

function benchRun(scenario: Scenario, setting: BenchSetting, trip: number): Run {
  return simulate(benchLine(scenario, { ...setting, trip, endVoltage: trip + BEYOND }));
}

const CLAMPS = 1e-3;

/** The row just before the protector trips; of a clamp, where it first conducts. */
function tripIndex({ events, trace }: Run, kind: BenchTrip["kind"]): number | null {
  if (kind === "clamp") {
    const current = trace.columns.find(({ name }) => name === "clamp_A")?.values;
    const first = current?.findIndex((value) => value > CLAMPS) ?? -1;
    return first < 0 ? null : first;
  }
  const what = kind === "crowbar" ? "fires" : "starts to open";
  const time = events.find((event) => event.kind === what && event.subject.part === kind)?.time;
  return time === undefined
    ? null
    : Math.max(
        0,
        trace.time.findIndex((each) => each >= time),
      );
}

function readingsOf(runs: readonly Run[], { kind }: BenchTrip, trip: number): readonly BenchReading[] {
  const [run, ...others] = runs;
  const { trace, scenario } = run;
  const tripped = others.flatMap((each) => {
    const index = tripIndex(each, kind);
    return index === null ? [] : [columnAt(each, "protected side", "V", index)];
  });
  const at = (moment: BenchReading["moment"], index: number): BenchReading => ({
    moment,
    supply: columnAt(run, BENCH.source, "V", index),
    supplyCurrent: columnAt(run, BENCH.source, "A", index),
    protector: columnAt(run, "protected side", "V", index),
    radio: columnAt(run, BENCH.dummy, "V", index),
    protectorRange:
      moment === "at the trip" && tripped.length > 0 ? [Math.min(...tripped), Math.max(...tripped)] : null,
  });
  const before = trace.time.findLastIndex((time) => time < scenario.faultTime);
  return [
    at("before the trip", Math.max(0, before)),
    at("at the trip", trip),
    at("after the trip", trace.time.length - 1),
  ];
}

function columnAt({ trace }: Run, name: string, unit: string, index: number): number {
  const full = columnName(name, unit);
  const values = trace.columns.find((column) => column.name === full)?.values;
  if (values === undefined) throw new Error(`a run on the bench has no column ${full}`);
  return values[index];
}

const noProtector: Issue = {
  severity: "error",
  code: "no-protector",
  path: "crowbar",
  message: "There is no protector in this line that could be tried on a bench.",
  received: null,
  allowed: "a crowbar, a series switch or a clamp; what is built into a supply is tried with the supply",
  hint: "write `crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}`",
  position: null,
};

const neverTrips = ({ startVoltage, endVoltage }: BenchSetting): Issue => ({
  ...noProtector,
  code: "never-trips",
  message: "This protector does not trip from a bench source that is turned up slowly.",
  received: `nothing from ${startVoltage} to ${endVoltage} V`,
  allowed: "a trip voltage that the protected side reaches",
  hint: null,
});
