import type { Scenario, Source } from "../scenario/types.ts";
import { duration } from "./words.ts";

/** Whether any source has a fault; without one the scenario's instant of it means nothing to a reader. */
export function hasFault({ sources }: Scenario): boolean {
  return sources.some(isFaulty);
}

/** The instant after which a reader counts, s: that of the fault, or the start of a run in which no source has one. */
export function zeroOf(scenario: Scenario): number {
  return hasFault(scenario) ? scenario.faultTime : 0;
}

/** A time of the run (s) in words: `23.7 µs after the fault`, `at 5 ms, before the fault`, without a fault `1 s after the start`. */
export function when(scenario: Scenario, time: number, say: (seconds: number) => string = duration): string {
  const since = time - zeroOf(scenario);
  if (since < 0) return `at ${say(time)}, before the fault`;
  return `${say(since)} after the ${hasFault(scenario) ? "fault" : "start"}`;
}

/** Whether this source is the one that breaks. */
export function isFaulty(source: Source): boolean {
  return source.kind !== "battery" && source.fault.kind !== "none";
}
