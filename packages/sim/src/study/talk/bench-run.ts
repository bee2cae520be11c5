import { columnName } from "../../model/readings.ts";
import type { Run } from "../../model/result.ts";
import { simulate } from "../../model/run.ts";
import type { Scenario } from "../../scenario/types.ts";
import { BENCH, type BenchSetting, benchLine, TURNED_UP } from "./bench-line.ts";
import type { BenchPass } from "./bench-pass.ts";
import { BEYOND } from "./bench-setting.ts";
import type { BenchTrip } from "./bench-trip.ts";
import type { BenchReading } from "./types.ts";

/** How long a tripped protector stays under current in a test at most, s (common practice, no source): time to read three meters; a clamp gets warm. */
export const longestHeld = (kind: BenchTrip["kind"]): number => (kind === "clamp" ? 5 : 10);

/** From what current on a clamp counts as conducting, A. */
const CLAMPS = 1e-3;

/** As it stands, then at both ends of what passes. */
export const tripPoints = ({ nominal }: BenchTrip, { low, high }: BenchPass): readonly number[] =>
  low < high ? [nominal, low, high] : [nominal];

/** How long a hand goes on turning after the trip, s (assumed). */
const REACTION = 0.5;

/**
 * The test of the card with the trip point at one voltage, from the first turn of the knob to the last moment that the card allows.
 *
 * @throws InvalidInput where the line on the bench has no operating point
 */
export function benchRun(scenario: Scenario, kind: BenchTrip["kind"], setting: BenchSetting, trip: number): Run {
  const { startVoltage, slew } = setting;
  const furthest = trip + BEYOND;
  const sought = simulate(benchLine(scenario, { ...setting, trip, endVoltage: furthest }));
  const index = tripIndex(sought, kind);
  if (index === null) return sought;
  const time = sought.trace.time[index];
  const letGo = startVoltage + slew * (time - TURNED_UP + REACTION);
  const line = benchLine(scenario, { ...setting, trip, endVoltage: Math.min(furthest, letGo) });
  return simulate(line, { until: time + longestHeld(kind) });
}

/** The row just before the protector trips; of a clamp, where it first conducts. Null where it does not. */
export function tripIndex({ events, trace }: Run, kind: BenchTrip["kind"]): number | null {
  if (kind === "clamp") {
    const [current] = trace.columns.filter(({ name }) => name === "clamp_A");
    const first = current.values.findIndex((value) => value > CLAMPS);
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

/** What meters show before, at and after the trip, in the run of the line as it stands; at the trip also what passes. */
export function readingsOf(runs: readonly Run[], { kind }: BenchTrip, trip: number): readonly BenchReading[] {
  const [run, ...others] = runs;
  const { trace, scenario } = run;
  const passing = others.flatMap((each) => {
    const index = tripIndex(each, kind);
    return index === null ? [] : [columnAt(each, "protected side", "V", index)];
  });
  const at = (moment: BenchReading["moment"], index: number, range: BenchReading["protectorRange"]): BenchReading => ({
    moment,
    supply: columnAt(run, BENCH.source, "V", index),
    supplyCurrent: columnAt(run, BENCH.source, "A", index),
    protector: columnAt(run, "protected side", "V", index),
    radio: columnAt(run, BENCH.dummy, "V", index),
    protectorRange: range,
  });
  const before = trace.time.findLastIndex((time) => time < scenario.faultTime);
  const range = passing.length === 0 ? null : ([Math.min(...passing), Math.max(...passing)] as const);
  const isClamp = kind === "clamp";
  return [
    at("before the trip", Math.max(0, before), null),
    at(isClamp ? "as it begins to conduct" : "at the trip", trip, range),
    at(isClamp ? "while it conducts" : "after the trip", trace.time.length - 1, null),
  ];
}

function columnAt({ trace }: Run, name: string, unit: string, index: number): number {
  const full = columnName(name, unit);
  const [{ values }] = trace.columns.filter((column) => column.name === full);
  return values[index];
}
