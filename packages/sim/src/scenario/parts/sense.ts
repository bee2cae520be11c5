import { commonPractice } from "./cite.ts";
import type { Cited } from "./types.ts";

/** Time constants in s of a protector's sense filter, by what a scenario calls it. They decide outcomes, so none is a default. */
export const SENSE_FILTERS: Readonly<Record<"fast" | "RF-filtered", Cited>> = Object.freeze({
  fast: Object.freeze(commonPractice(10e-6, "a small capacitor across the sensing divider")),
  "RF-filtered": Object.freeze(
    commonPractice(
      100e-6,
      "filtered against radio-frequency pick-up; a shorted pass transistor shows the radio volts more",
    ),
  ),
});

/** The time constant that a word stands for, s; null for every other word. */
export function senseFilterCalled(word: unknown): number | null {
  return word === "fast" || word === "RF-filtered" ? Number(SENSE_FILTERS[word].value) : null;
}
