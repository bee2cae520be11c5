import { describe, expect, it } from "vitest";
import { Loop } from "../../packages/sim/src/hybrid/loop.ts";
import { remember } from "../../packages/sim/src/hybrid/memento.ts";
import { Timer } from "../../packages/sim/src/hybrid/parts.ts";
import { RoundMap } from "../../packages/sim/src/hybrid/round-map.ts";
import { Rounds } from "../../packages/sim/src/hybrid/rounds.ts";
import type { Leap, StateRole } from "../../packages/sim/src/hybrid/rounds-types.ts";
import type { HybridSystem, Journal } from "../../packages/sim/src/hybrid/types.ts";
import { ExcursionWatch } from "../../packages/sim/src/hybrid/watch.ts";
import { Watcher } from "../../packages/sim/src/hybrid/watcher.ts";
import { Rosenbrock } from "../../packages/sim/src/ode/rosenbrock.ts";
import { rodas5p } from "../../packages/sim/src/ode/tableau.ts";
import { copy } from "../../packages/sim/src/ode/vector.ts";
import { systemOf, tolerance } from "../support/system.ts";

const TAU = 3;
const [ON, OFF] = [0.01, 0.09];
/** x is above it without a break from some round on, and before for a while in each of some others. */
const LEVEL = 0.1505;
/** A window that begins with the run and ends within a pulse, 700 rounds later. */
const LONG = 70 + OFF + ON / 4;
const ROLES: readonly StateRole[] = [
  { kind: "relaxes", timeConstant: TAU, feedsBack: false },
  { kind: "adds up" },
  { kind: "returns" },
];

/**
 * Something heated for a hundredth of a second in every tenth: x' = u − x/τ, E' = u, and a quick z' = (u − z)/0.001. From 0, after n whole rounds,
 * x = g·(1 − aⁿ)/(1 − a) with a = e^(−P/τ) and g = τ·(1 − e^(−on/τ))·e^(−off/τ).
 */
function pulses(end: number, creep = 0, levels = [0.2]) {
  let heated = 0;
  let journal: Journal = { log() {}, suggestStep() {} };
  const f = (at: ArrayLike<number>) => [heated - at[0] / TAU, heated, (heated - at[2]) / 0.001];
  const base = systemOf({
    size: 3,
    f: (_t, y) => f(y),
    jacobian: () => [
      [-1 / TAU, 0, 0],
      [0, 0, 0],
      [0, 0, -1000],
    ],
  });
  const drift = { value: 0 };
  const on: Timer = new Timer(() => {
    heated = 1;
    drift.value += creep;
    journal.log(0, "on", "its time has come");
    off.start(ON);
  });
  const off: Timer = new Timer(() => {
    heated = 0;
    journal.log(0, "off", "its time has come");
    on.start(OFF);
  });
  on.start(OFF);
  let y: ArrayLike<number> = [0, 0, 0];
  const timers = [on, off];
  const system: HybridSystem = {
    size: 3,
    rates: (t, state, out) => base.rates(t, state, out),
    timeRates: (t, state, out) => base.timeRates(t, state, out),
    linearize: (t, state) => base.linearize(t, state),
    factor: (shift) => base.factor(shift),
    solve: (b) => base.solve(b),
    guards: [],
    timers,
    scales: [1, 1, 1],
    probeCount: 1,
    flowCount: 1,
    balance: null,
    maxStep: () => Number.POSITIVE_INFINITY,
    observe: (_t, state) => {
      y = state;
    },
    probes: (out) => copy([y[0]], out),
    flows: (out) => copy([heated], out),
    reconcile() {},
    shift() {},
    restless: () => false,
  };
  const integrator = new Rosenbrock(system, rodas5p, tolerance(3, 1e-10, 1e-12), 1e7);
  const watcher = new Watcher(system, [], false);
  const beyond = new ExcursionWatch(0, LEVEL, 1);
  watcher.excursions.push(beyond);
  const windows: number[] = [];
  watcher.window(0, LONG, (sum) => windows.push(sum));
  const leaps: Leap[] = [];
  const rounds: Rounds = new Rounds({
    system,
    integrator,
    watcher,
    endTime: end,
    logged: { source: 1, code: "leapt" },
    onLeap: (leap) => leaps.push(leap),
    repeating: {
      names: ["x", "E", "z"],
      roles: ROLES,
      gauges: [{ probe: 0, states: [0], levels, offset: 0 }],
      tallies: () => [],
      addToTallies() {},
      memory: () => [{ name: "what creeps", value: drift.value }],
      remember: () => {
        const modes = remember(timers, []);
        const now = heated;
        return () => {
          modes();
          heated = now;
        };
      },
      tell: (to) => {
        journal = to;
      },
    },
  });
  const loop: Loop = new Loop(
    system,
    integrator,
    watcher,
    new Float64Array(3),
    { endTime: end, firstStep: 1e-3, maxChanges: 1e6, pausesAfter: (events) => rounds.pausesAfter(loop, events) },
    () => {},
  );
  journal = loop;
  while (rounds.advance(loop, 1000) === "running");
  return {
    loop,
    rounds,
    leaps,
    steps: integrator.counters.steps,
    flow: watcher.totals[0] + rounds.carried.flows[0],
    beyond,
    windows,
  };
}

/** x at the end of round n. */
function exact(n: number): number {
  const a = Math.exp(-(ON + OFF) / TAU);
  const gain = TAU * (1 - Math.exp(-ON / TAU));
  return (gain * (1 - a ** n)) / (1 - a);
}

describe("rounds", () => {
  it("ten thousand of them: what relaxes and what adds up as the geometric sum says, in the steps of some dozens", () => {
    const n = 10_000;
    const { loop, leaps, flow, steps } = pulses(n * (ON + OFF));
    expect(loop.status).toBe("finished");
    expect(leaps.reduce((sum, { rounds }) => sum + rounds, 0)).toBeGreaterThan(9900);
    expect(loop.state[0]).toBeCloseTo(exact(n), 9);
    expect(loop.state[1]).toBeCloseTo(n * ON, 6);
    expect(flow).toBeCloseTo(n * ON, 6);
    expect(steps).toBeLessThan(20_000);
    const [{ ends, from, to }] = leaps;
    expect(ends.at(-1)).toBe(to);
    expect(ends[0] - from).toBeCloseTo(ON + OFF, 12);
  });

  it("what a window shows that spans them, and how long something lasts in them without a break", () => {
    const { leaps, windows, beyond } = pulses(120, 0, [LEVEL]);
    expect(leaps.some(({ from, to }) => from < LONG && to > LONG)).toBe(true);
    expect(windows).toHaveLength(1);
    expect(windows[0]).toBeCloseTo(700 * ON + ON / 4, 9);
    // What is left of it over the pause of a round stays above the level: from the pulse before that on.
    const stays = (n: number) => exact(n) * Math.exp(-OFF / TAU) > LEVEL;
    const since = (ON + OFF) * (Array.from({ length: 1000 }, (_, n) => n).find(stays) ?? Number.NaN);
    expect(leaps.some(({ from }) => from > since)).toBe(true);
    expect(beyond.longest).toBeGreaterThan(120 - since);
    expect(beyond.longest).toBeLessThan(120 - since + ON);
  });

  it("no leap passes a level of a gauge: the rounds around it are integrated", () => {
    // x heads for 0.3 and passes 0.2 in between.
    const { leaps } = pulses(1000);
    const crossing = Array.from({ length: 500 }, (_, n) => n).find((n) => exact(n) > 0.2) ?? Number.NaN;
    const time = crossing * (ON + OFF);
    expect(leaps.length).toBeGreaterThan(1);
    expect(leaps.some(({ from, to }) => from < time - 0.1 && to > time)).toBe(false);
    expect(leaps.some(({ to }) => to < time)).toBe(true);
  });

  it("what is kept beside the states and creeps forbids them, and is named", () => {
    const { leaps, rounds } = pulses(40, 1e-6);
    expect(leaps).toEqual([]);
    expect(rounds.refusal).toBe("what creeps moves on by 0.0000010 a round");
  });
});

describe("the map of a round whose gain depends on a state that feeds back", () => {
  it("learns the dependence from two rounds", () => {
    const roles: StateRole[] = [{ kind: "relaxes", timeConstant: 1, feedsBack: true }];
    const map = new RoundMap(roles, [1]);
    const next = (x: number) => Math.exp(-0.1) * x + 0.05 * (1 + 0.7 * x);
    let x = 0;
    for (let n = 0; n < 2; n++) {
      const end = next(x);
      map.learn({
        start: Float64Array.of(x),
        end: Float64Array.of(end),
        period: 0.1,
        sums: Float64Array.of(x),
        kept: new Float64Array(0),
      });
      x = end;
    }
    let far = x;
    for (let n = 0; n < 40; n++) far = next(far);
    expect(map.travel(Float64Array.of(x), 40, () => true).state[0]).toBeCloseTo(far, 12);
  });
});
