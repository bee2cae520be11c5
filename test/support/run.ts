import { expect } from "vitest";
import type { EventKind, Run } from "../../packages/sim/src/model/result.ts";
import { type RunOptions, simulate } from "../../packages/sim/src/model/run.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";

/** Runs to the end and insists on an outcome that may be judged and on a closed energy balance. */
export function ran(scenario: Scenario, options: RunOptions = {}): Run {
  const run = simulate(scenario, options);
  expect(run.outcome.failure).toBeNull();
  expect(["finished", "at rest"]).toContain(run.outcome.status);
  expect(run.energy.relative).toBeLessThan(1e-6);
  return run;
}

/** The events of a run as `part: kind`, in order. */
export function told(run: Run): string[] {
  return run.events.map(({ kind, subject }) => `${subject.owner || subject.part}: ${kind}`);
}

export function times(run: Run, kind: EventKind): number[] {
  return run.events.filter((event) => event.kind === kind).map((event) => event.time);
}

/** A column's value at a time, between its neighbours; at an event the value after it. */
export function at(run: Run, column: string, time: number): number {
  const { time: axis, columns } = run.trace;
  const values = columns.find(({ name }) => name === column)?.values;
  if (!values) throw new Error(`no column ${column}, but ${columns.map(({ name }) => name).join(", ")}`);
  let k = axis.length - 1;
  while (k > 0 && axis[k] > time) k--;
  if (k === axis.length - 1 || axis[k + 1] === axis[k]) return values[k];
  return values[k] + ((values[k + 1] - values[k]) * (time - axis[k])) / (axis[k + 1] - axis[k]);
}

/** Exact values at a time after the start. */
export function sampled(scenario: Scenario, delay: number, options: RunOptions = {}): Readonly<Record<string, number>> {
  const run = ran(scenario, { ...options, samples: [{ event: -1, delay }] });
  expect(run.samples).toHaveLength(1);
  return run.samples[0].values;
}

export function last<T>(values: ArrayLike<T>): T {
  return values[values.length - 1];
}
