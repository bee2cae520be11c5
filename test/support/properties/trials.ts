import fc from "fast-check";
import { expect, it } from "vitest";
import type { Scenario } from "../../../packages/sim/src/scenario/types.ts";
import type { CloseCalls } from "./alike.ts";
import { anyLine, counterExample, unlessRefused } from "./any-line.ts";
import * as pairs from "./pairs.ts";
import { readAlike } from "./read-alike.ts";
import { verdictHolds } from "./verdict-holds.ts";
import { witness } from "./witness.ts";

/** So many faults a property, and which ones. */
export interface Plan {
  readonly seed: number;
  readonly sound: number;
  readonly each: number;
  /** ms. */
  readonly patience: number;
}

/** How many in a hundred pairs may be so close to a decision, or so chaotic, that only a tighter tolerance agrees. */
const CLOSE_CALLS = 3;

/** A line that its witness complains of; one whose energy stays open at the usual tolerance must close at the tight one, as the command does it. */
function soundness(scenario: Scenario): readonly string[] {
  const { run, complaints } = witness(scenario);
  if (complaints.length > 0) return complaints;
  if (run.energy.relative <= 1e-6) return [...unsound(run)];
  const tight = witness(scenario, { tolerance: "tight" });
  return [...tight.complaints, ...unsound(tight.run)];
}

/** What no run may come to. */
function* unsound(run: ReturnType<typeof witness>["run"]): Generator<string> {
  const { outcome, energy } = run;
  if (outcome.failure !== null) yield `failed: ${outcome.failure.reason} at ${outcome.time} s`;
  if (!(energy.relative <= 1e-6)) yield `the energy balance is open by ${energy.relative}`;
  for (const [name, heat] of Object.entries(energy.byDevice))
    if (!(heat >= -1e-9 * Math.max(1, energy.turnedOver))) yield `${name} gave back ${-heat} J`;
  yield* spoilt("run", { ...run, scenario: null });
}

/** Numbers that are none. */
function* spoilt(path: string, value: unknown): Generator<string> {
  if (typeof value === "number" && !Number.isFinite(value)) yield `${path} is ${value}`;
  else if (value instanceof Float64Array) {
    if (!value.every(Number.isFinite)) yield `${path} holds what is no number`;
  } else if (typeof value === "object" && value !== null)
    for (const [key, inner] of Object.entries(value)) yield* spoilt(`${path}.${key}`, inner);
}

export function soundTrials({ seed, sound, patience }: Plan): void {
  it(
    `${sound} lines: no NaN, no heat below zero, energy and currents balance, nothing jumps, no event without its reason`,
    () =>
      expect(
        counterExample(anyLine, { faults: sound, seed }, (line) => unlessRefused(() => soundness(line))),
      ).toBeNull(),
    patience,
  );
}

const PAIRS: readonly (readonly [string, pairs.Pair])[] = [
  ["with all impedances times a and all currents over a keep their voltages", pairs.scaledAlike],
  ["with each load as two or three equal ones stay what they were", pairs.splitAlike],
  ["at rest meet everything later and tell the same story", pairs.laterAlike],
  ["with a lower trip point or a shorter delay do not fire later", pairs.firesNoLater],
  ["with a larger melting I²t do not melt earlier", pairs.meltsNoEarlier],
  ["are the same by Rodas5P, Rodas4 and odex, in a short window", pairs.methodsAlike],
  ["printed and parsed are the same to the last bit", readAlike],
  ["get a verdict that agrees with what was found, in whole sentences", verdictHolds],
];

export function pairTrials({ seed, each, patience }: Plan): void {
  const share = fc.double({ min: 0, max: 1, noNaN: true });
  // Lines of its own for each: with one seed all of them would try the same few.
  it.each(PAIRS.map(([what, pair], k) => [what, pair, seed + 1 + k] as const))(
    `${each} lines %s`,
    (_what, pair, own) => {
      const closeCalls: CloseCalls = { count: 0 };
      const found = counterExample(fc.tuple(anyLine, share), { faults: each, seed: own }, ([line, number]) =>
        unlessRefused(() => pair(line, number, closeCalls)),
      );
      expect(found).toBeNull();
      expect(closeCalls.count).toBeLessThanOrEqual(Math.max(1, (CLOSE_CALLS * each) / 100));
    },
    patience,
  );
}

/** What a person who changes a property waits for: more than five hundred faults in all. */
export const DAILY: Plan = { seed: 2026, sound: 468, each: 8, patience: 300_000 };
/** Ten thousand in all. */
export const DEEP: Plan = { seed: 4711, sound: 8000, each: 250, patience: 3_600_000 };
