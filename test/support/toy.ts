import { Loop } from "../../packages/sim/src/hybrid/loop.ts";
import { Guard, type Timer } from "../../packages/sim/src/hybrid/parts.ts";
import type { HybridSystem, Journal, LoopOptions, LoopStatus } from "../../packages/sim/src/hybrid/types.ts";
import { type SampleRequest, Watcher } from "../../packages/sim/src/hybrid/watcher.ts";
import { Rosenbrock } from "../../packages/sim/src/ode/rosenbrock.ts";
import { rodas5p } from "../../packages/sim/src/ode/tableau.ts";
import { copy, type Vector } from "../../packages/sim/src/ode/vector.ts";
import { type Problem, systemOf, tolerance } from "./system.ts";

/** What a toy's equations and guards see: the state last observed and the journal. */
export interface Seen {
  t: number;
  y: Vector;
  journal: Journal;
}

export interface ToyParts {
  readonly problem: (seen: Seen) => Problem;
  readonly start: readonly number[];
  readonly end: number;
  readonly guards?: (seen: Seen) => readonly Guard[];
  readonly timers?: (seen: Seen) => readonly Timer[];
  /** What is recorded; the states unless given. */
  readonly probes?: (seen: Seen) => readonly (() => number)[];
  /** Rates whose integrals are kept. */
  readonly flows?: (seen: Seen) => readonly (() => number)[];
  readonly relative?: number;
  readonly samples?: readonly SampleRequest[];
  readonly maxStep?: number;
  readonly maxChanges?: number;
  /** Where something in it may feed disturbances: how strongly. */
  readonly feeding?: () => number;
  /** Called with the time since the segment's start that a new segment leaves behind. */
  readonly shift?: (elapsed: number) => void;
}

export interface Toy {
  readonly loop: Loop;
  readonly watcher: Watcher;
  readonly seen: Seen;
  readonly work: { readonly steps: number };
  /** `code@time` of every logged event. */
  told(): string[];
  run(budget?: number): LoopStatus;
}

/** A small hybrid system under the loop that the line runs under. */
export function toy(parts: ToyParts): Toy {
  const silent: Journal = { log() {}, suggestStep() {} };
  const seen: Seen = { t: 0, y: Float64Array.from(parts.start), journal: silent };
  const problem = parts.problem(seen);
  const base = systemOf(problem);
  const probes = parts.probes?.(seen) ?? parts.start.map((_, i) => () => seen.y[i]);
  const flows = parts.flows?.(seen) ?? [];
  const system: HybridSystem = {
    size: base.size,
    rates: (t, y, out) => base.rates(t, y, out),
    timeRates: (t, y, out) => base.timeRates(t, y, out),
    linearize: (t, y) => base.linearize(t, y),
    factor: (shift) => base.factor(shift),
    solve: (b) => base.solve(b),
    guards: parts.guards?.(seen) ?? [],
    timers: parts.timers?.(seen) ?? [],
    scales: Array.from({ length: base.size }, () => 1),
    probeCount: probes.length,
    flowCount: flows.length,
    balance: null,
    maxStep: () => parts.maxStep ?? Number.POSITIVE_INFINITY,
    observe: (t, y) => {
      seen.t = t;
      seen.y = y;
    },
    probes: (out) =>
      copy(
        probes.map((read) => read()),
        out,
      ),
    flows: (out) =>
      copy(
        flows.map((read) => read()),
        out,
      ),
    reconcile() {},
    shift: (elapsed) => parts.shift?.(elapsed),
    restless: () => false,
    feeding: parts.feeding,
  };
  const relative = parts.relative ?? 1e-9;
  const integrator = new Rosenbrock(system, rodas5p, tolerance(base.size, relative, relative), 1e6);
  const watcher = new Watcher(system, parts.samples ?? [], true);
  const options: LoopOptions = { endTime: parts.end, firstStep: 1e-4, maxChanges: parts.maxChanges ?? 1e5 };
  const loop = new Loop(system, integrator, watcher, Float64Array.from(parts.start), options, () => {});
  seen.journal = loop;
  return {
    loop,
    watcher,
    seen,
    work: integrator.counters,
    told: () => loop.events.map(({ code, time }) => `${code}@${Number(time.toPrecision(9))}`),
    run(budget = 1e6) {
      while (loop.advance(budget) === "running");
      return loop.status;
    },
  };
}

/** A guard that is watched from the start. */
export function watched(value: () => number, action: (y: Vector) => void): Guard {
  const guard = new Guard(value, action);
  guard.active = true;
  return guard;
}

/** A guard that acts once and is over. */
export function once(value: () => number, action: (y: Vector) => void): Guard {
  const guard = watched(value, (y) => {
    guard.active = false;
    action(y);
  });
  return guard;
}

/** Nothing moves. */
export const still = (): Problem => ({ size: 1, f: () => [0], jacobian: () => [[0]] });

/** y' = 1 from wherever it starts: a clock. */
export const clock = (): Problem => ({ size: 1, f: () => [1], jacobian: () => [[0]] });

/** y'' = −omega²·y. */
export const swing =
  (omega = 1) =>
  (): Problem => ({
    size: 2,
    f: (_t, y) => [y[1], -omega * omega * y[0]],
    jacobian: () => [
      [0, 1],
      [-omega * omega, 0],
    ],
  });
