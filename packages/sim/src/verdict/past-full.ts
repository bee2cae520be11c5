import { columnName } from "../model/readings.ts";
import type { Run } from "../model/result.ts";
import { risesBeyondFull, TELLING } from "../scenario/beyond-full.ts";
import { crossingBefore } from "../trace/level.ts";
import { when } from "./when.ts";
import { longTime, the } from "./words.ts";

/** A battery that a run charged past full by a model that knows no steep rise there. */
interface PastFull {
  readonly name: string;
  /** When it was full, s; null where nothing was recorded. */
  readonly since: number | null;
}

function pastFull(run: Run): readonly PastFull[] {
  return run.sources.flatMap(({ name, charge }, index) => {
    const battery = run.scenario.sources[index];
    if (battery?.kind !== "battery" || charge === null) return [];
    const full = Math.max(1, battery.initialCharge);
    if (charge.highest <= full + TELLING || risesBeyondFull(battery)) return [];
    const column = run.trace.columns.find((each) => each.name === columnName(`${name} charge`, "share"));
    return [{ name, since: column === undefined ? null : firstAbove(run.trace.time, column.values, full) }];
  });
}

/** When a curve of straight lines first passes a level; null where it does not. */
function firstAbove(time: Float64Array, values: Float64Array, level: number): number | null {
  const row = values.findIndex((value) => value > level);
  return row < 0 ? null : crossingBefore(time, values, row, level);
}

/** What goes with the answer itself; empty where every battery's model holds. */
export function pastFullAnswer(run: Run): string {
  return pastFull(run)
    .map(
      ({ name, since }) =>
        ` This holds only until ${the(name)} was full${since === null ? "" : ` (${when(run.scenario, since, longTime)})`}: past that the battery's voltage is told too low.`,
    )
    .join("");
}

/** What goes with the times that protectors took. */
export function pastFullTimes(run: Run): readonly string[] {
  return pastFull(run).map(
    ({ name, since }) =>
      `Every time ${since === null ? "after" : `later than ${when(run.scenario, since, longTime)}, when`} ${the(name)} was full${since === null ? "" : ","} is told too long: a real battery's voltage rises steeply within minutes of that.`,
  );
}

/** Why the model of a battery ends at full, and what helps; empty where it does not, or where it stayed below. */
export function pastFullRemedy(run: Run, name: string): string {
  if (!pastFull(run).some((each) => each.name === name)) return "";
  return ` The model of its EMF ends there: past full a real one rises steeply within minutes, and all times told from there on are too long. Take the part class with \`overcharge\` in its name, or give its \`emf table\` points beyond full.`;
}
