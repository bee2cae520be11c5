import { describe, expect, test } from "vitest";
import { Timer } from "../../packages/sim/src/hybrid/parts.ts";
import {
  absoluteTimers,
  obstacleBetween,
  type Section,
  sectionAt,
} from "../../packages/sim/src/hybrid/round-sections.ts";
import type { Repeating, StateRole } from "../../packages/sim/src/hybrid/rounds-types.ts";
import type { HybridSystem, LoggedEvent } from "../../packages/sim/src/hybrid/types.ts";

const plain: Section = { count: 0, previous: 0, time: 0, state: new Float64Array(), timers: [], memory: [], alike: 0 };

/** Events by a letter for who and a word for what: `a on`. */
const eventsOf = (...words: readonly string[]): LoggedEvent[] =>
  words.map((each, time) => {
    const [who = "", code = ""] = each.split(" ");
    return { time, sincePrevious: 1, source: who.charCodeAt(0), code, cause: "" };
  });

const noMemory = { memory: () => [] } as unknown as Repeating;

function alikeAfter(...rounds: readonly (readonly string[])[]): number[] {
  const system = { timers: [] } as unknown as HybridSystem;
  const events: LoggedEvent[] = [];
  let before: Section | undefined;
  return rounds.map((round, k) => {
    events.push(...eventsOf(...round));
    before = sectionAt(system, noMemory, events, k, [], before);
    return before.alike;
  });
}

describe("rounds in a row that are alike", () => {
  test("are counted from the second of them on", () => {
    const round = ["a on", "b off"];
    expect(alikeAfter(round, round, round, round)).toEqual([0, 0, 1, 2]);
  });

  test.each<[string, readonly string[]]>([
    ["more", ["a on", "b off", "c on"]],
    ["less", ["a on"]],
    ["something else last", ["a on", "b on"]],
    ["something else first", ["a off", "b off"]],
    ["somebody else last", ["a on", "c off"]],
    ["somebody else first", ["c on", "b off"]],
  ])("begin anew where there happens %s", (_, other) => {
    const round = ["a on", "b off"];
    expect(alikeAfter(["x y"], round, round, other, round, round)).toEqual([0, 0, 1, 0, 0, 1]);
  });
});

test("a section notes state, timers and memory as they are then", () => {
  const timer = new Timer(() => {});
  timer.start(0.5);
  const state = Float64Array.of(1, 2);
  const memory = [{ name: "creep", value: 7 }];
  const system = { timers: [timer, new Timer(() => {})] } as unknown as HybridSystem;
  const section = sectionAt(
    system,
    { memory: () => memory } as unknown as Repeating,
    eventsOf("a on"),
    3,
    state,
    undefined,
  );
  timer.start(9);
  state[0] = 9;
  expect(section).toEqual({
    count: 1,
    previous: 1,
    time: 3,
    state: Float64Array.of(1, 2),
    timers: [0.5, Number.POSITIVE_INFINITY],
    memory: [7],
    alike: 0,
  });
});

describe("timers across rounds", () => {
  const timers = [0, 1, 2].map(() => new Timer(() => {}));
  /** Of a round that took from 10 s to 12 s. */
  const between = (was: readonly number[], is: readonly number[]) =>
    absoluteTimers(
      timers.slice(0, was.length),
      { ...plain, time: 10, timers: was },
      { ...plain, time: 12, timers: is },
    );

  test("return, stand idle, or count down towards an instant of their own", () => {
    const idle = Number.POSITIVE_INFINITY;
    expect(between([0.5, idle, 1], [0.5, idle, 1])).toEqual([]);
    expect(between([0.5, idle, 30], [0.5 + 1e-7, idle, 28 + 1e-7])).toEqual([timers[2]]);
    expect(between([30, 0.5, 20], [28, 0.5, 18])).toEqual([timers[0], timers[2]]);
  });

  test.each([
    ["a little too far", 30, 28 + 1e-5],
    ["not as far as a round", 30, 29],
    ["upwards", 30, 32],
    ["a little off", 0.5, 0.5 + 1e-5],
    ["from idle", Number.POSITIVE_INFINITY, 3],
    ["to idle", 3, Number.POSITIVE_INFINITY],
  ])("are no rounds' where one goes %s", (_, was, is) => {
    expect(between([1, was], [1, is])).toBeNull();
  });
});

describe("what keeps a round from being like the last", () => {
  const roles: Record<string, StateRole> = {
    returns: { kind: "returns" },
    keeps: { kind: "keeps" },
    relaxes: { kind: "relaxes", timeConstant: 1, feedsBack: false },
    "adds up": { kind: "adds up" },
  };
  function obstacle(
    states: readonly (readonly [role: string, was: number, is: number])[],
    memory: readonly (readonly [was: number, is: number])[] = [],
  ): string | null {
    const names = states.map(([role], i) => `${role} ${i}`);
    const repeating = {
      names,
      roles: states.map(([role]) => roles[role]),
      memory: () => memory.map(([, value], k) => ({ name: `memory ${k}`, value })),
    } as unknown as Repeating;
    const system = { scales: states.map(() => 1e-3) } as unknown as HybridSystem;
    const before = { ...plain, state: Float64Array.from(states, ([, was]) => was), memory: memory.map(([was]) => was) };
    return obstacleBetween(system, repeating, before, { ...plain, state: Float64Array.from(states, ([, , is]) => is) });
  }

  test("is nothing where all returns, whatever adds up or relaxes", () => {
    expect(
      obstacle(
        [
          ["returns", 5, 5 + 4e-6],
          ["keeps", 5, 5 + 4e-12],
          ["adds up", 0, 7],
          ["relaxes", 0, 7],
        ],
        [
          [3, 3 + 2e-9],
          [1e-3, 1e-3 + 9e-10],
        ],
      ),
    ).toBeNull();
  });

  test.each<[string, readonly (readonly [string, number, number])[], string]>([
    [
      "by more than a millionth",
      [["returns", 5, 5 + 6e-6]],
      "returns 0 does not return: it moves on by 0.0000060 a round",
    ],
    ["downwards", [["returns", 5, 5 - 6e-6]], "returns 0 does not return: it moves on by -0.0000060 a round"],
    [
      "by a millionth of its scale, small as it is",
      [["returns", 1e-9, 3e-9]],
      "returns 0 does not return: it moves on by 2.0e-9 a round",
    ],
    ["by next to nothing, where nothing brings it back", [["keeps", 5, 5 + 6e-12]], "keeps 0 does not return"],
  ])("is a state that moves on %s", (_, states, said) => {
    expect(obstacle(states)).toContain(said);
  });

  test("is the one that moves on most of several, each by its own measure", () => {
    expect(
      obstacle([
        ["adds up", 0, 9],
        ["returns", 5, 5.001],
        ["returns", 5, 5.01],
        ["returns", 500, 500.1],
      ]),
    ).toContain("returns 2 ");
    expect(
      obstacle([
        ["returns", 5, 5 + 6e-6],
        ["keeps", 5, 5 + 6e-9],
      ]),
    ).toContain("keeps 1 ");
  });

  test("is a number kept beside the state before any of it", () => {
    expect(
      obstacle(
        [["returns", 5, 6]],
        [
          [1, 1],
          [3, 3.5],
        ],
      ),
    ).toBe("memory 1 moves on by 0.50 a round");
    expect(obstacle([], [[3, 3 + 5e-9]])).toContain("memory 0 moves on by");
    expect(obstacle([], [[-3, -3 - 5e-9]])).toContain("memory 0 moves on by");
    expect(obstacle([], [[1e-3, 1e-3 + 2e-9]])).toContain("memory 0 moves on by");
  });
});
