import { changeTexts } from "../../scenario/index.ts";
import { valueText } from "../../scenario/spread/index.ts";
import type { Fit, FitAnswer, FittedValue } from "./types.ts";

/** Values whose bounds are looked at, and how often the way to an end is halved at most. */
const MOST_LOOKED = 3;
const MOST_HALVED = 7;
/** Of a value so small a share is near enough. */
const NEAR = 0.005;

/** What is known of values that make no difference where they stand. */
export interface Ends {
  readonly values: readonly FittedValue[];
  /** Labels of those of which the whole bounds were looked at. */
  readonly looked: readonly string[];
  readonly runs: number;
}

/**
 * A value may make no difference where it stands and yet not be free to be anything: before its peak a capture tells a trip voltage only that it is above. The run is laid on the capture with the
 * value at its bounds; where that does not fit, the way to there is halved.
 *
 * @param text the scenario
 * @param lay lays the capture on a scenario, nothing moved
 */
export async function lookAtBounds(text: string, fit: Fit, lay: (text: string) => Promise<FitAnswer>): Promise<Ends> {
  let runs = 0;
  const looked: string[] = [];
  const untold = fit.values.filter(({ state }) => state === "untold").slice(0, MOST_LOOKED);
  const told = fit.values
    .filter(({ state }) => state !== "untold")
    .map(({ path, value, unit }) => [path, valueText(value, unit)] as const);
  const fits = async ({ path, unit }: FittedValue, value: number): Promise<boolean> => {
    const laid = await lay(changeTexts(text, [...told, [path, valueText(value, unit)]]));
    if (laid.kind === "refused") return false;
    runs += laid.simulations;
    return laid.misfits.length === 0;
  };
  const lastTo = async (value: FittedValue, end: number): Promise<number> => {
    if (end === value.nominal || (await fits(value, end))) return end;
    let [good, bad] = [value.nominal, end];
    for (let n = 0; n < MOST_HALVED && Math.abs(bad - good) > NEAR * Math.abs(value.nominal); n++) {
      const middle = good > 0 && bad > 0 ? Math.sqrt(good * bad) : (good + bad) / 2;
      if (await fits(value, middle)) good = middle;
      else bad = middle;
    }
    return good;
  };
  const narrowed = new Map<FittedValue, FittedValue>();
  for (const value of untold) {
    // What does not fit where it stands tells nothing of its bounds.
    if (!(await fits(value, value.nominal))) continue;
    narrowed.set(value, { ...value, from: await lastTo(value, value.low), to: await lastTo(value, value.high) });
    looked.push(value.label);
  }
  return { values: fit.values.map((value) => narrowed.get(value) ?? value), looked, runs };
}
