import { describe, expect, test } from "vitest";
import type { HybridSystem } from "../../packages/sim/src/hybrid/types.ts";
import { Watcher } from "../../packages/sim/src/hybrid/watcher.ts";
import { type Curve, sightOf } from "./curves.ts";

/** 2t, and what it came to since 0; and a flow that nobody should take for it. */
const rate: Curve = (t) => 2 * t;
const sum = (from: number, to: number): number => to * to - from * from;
const other: Curve = () => 1000;

/** A watcher that is shown pieces one after another, and what its windows told: a name and a sum each. */
function windows(flows: readonly Curve[] = [other, rate]) {
  const sight = sightOf({ flows });
  const watcher = new Watcher(sight.system as HybridSystem, [], false);
  const told: [name: string, sum: number][] = [];
  let time = 0;
  return {
    watcher,
    told,
    names: () => told.map(([name]) => name),
    open: (name: string, duration: number, ...begun: [ago?: number, seen?: number]) =>
      watcher.window(1, duration, (integral) => told.push([name, integral]), ...begun),
    to(...ends: readonly number[]) {
      for (const end of ends) {
        watcher.absorb(sight.piece(time, end), 0);
        time = end;
      }
    },
    /** Goes on by `duration` without a look; the flow runs on as before. */
    leap(duration: number) {
      const from = time;
      watcher.leap(duration, (flow, after) => (flow === 1 ? sum(from, from + after) : Number.NaN));
      time += duration;
    },
  };
}

describe("a window", () => {
  test("tells its flow's integral as soon as the piece is seen in which it ends, wherever in it that is", () => {
    const { open, to, told } = windows();
    for (const [name, duration] of [
      ["late", 2.5],
      ["at an end", 1],
      ["just behind it", 1.0001],
      ["inside", 1.75],
    ] as const)
      open(name, duration);
    to(0.5, 0.999);
    expect(told).toEqual([]);
    to(1);
    expect(told).toEqual([["at an end", expect.closeTo(1, 12)]]);
    to(2);
    expect(told.slice(1)).toEqual([
      ["just behind it", expect.closeTo(1.0001 ** 2, 12)],
      ["inside", expect.closeTo(1.75 ** 2, 12)],
    ]);
    to(10);
    expect(told.slice(3)).toEqual([["late", expect.closeTo(6.25, 12)]]);
    to(20);
    expect(told).toHaveLength(4);
  });

  test("counts from when it was opened, several of one length in that order", () => {
    const { open, to, told } = windows();
    to(1);
    open("first", 2);
    to(1.5);
    open("second", 2);
    open("third", 2);
    to(1.6, 3.2);
    expect(told).toEqual([["first", expect.closeTo(sum(1, 3), 12)]]);
    open("fourth", 2);
    to(3.6, 5);
    expect(told.slice(1)).toEqual([
      ["second", expect.closeTo(sum(1.5, 3.5), 12)],
      ["third", expect.closeTo(sum(1.5, 3.5), 12)],
    ]);
    to(5.3);
    expect(told[3]).toEqual(["fourth", expect.closeTo(sum(3.2, 5.2), 12)]);
  });

  test("may end in the very piece with others that were opened long before and after it", () => {
    const { open, to, names } = windows();
    open("long", 10);
    to(9);
    open("short", 0.5);
    open("longer", 4);
    to(9.4);
    expect(names()).toEqual([]);
    to(10);
    expect(names().toSorted()).toEqual(["long", "short"]);
    to(12.9);
    expect(names()).toHaveLength(2);
    to(13);
    expect(names()[2]).toBe("longer");
  });

  test("that has begun before it is opened ends the sooner, and what its flow came to since counts", () => {
    const { open, to, told } = windows();
    to(1);
    open("begins now", 2);
    open("begun", 2, 0.25, sum(0.75, 1));
    open("begun at once with it", 2, 0.25, sum(0.75, 1));
    to(2.7);
    expect(told).toEqual([]);
    to(2.8);
    expect(told).toEqual([
      ["begun", expect.closeTo(sum(0.75, 2.75), 12)],
      ["begun at once with it", expect.closeTo(sum(0.75, 2.75), 12)],
    ]);
    to(3.1);
    expect(told[2]).toEqual(["begins now", expect.closeTo(sum(1, 3), 12)]);
  });

  test("that ends where a piece does is told at most a piece later, whatever the roundings of the times", () => {
    for (let k = 1; k <= 300; k++) {
      const { open, to, told } = windows();
      const [since, length] = [k / 7, k / 11];
      to(since);
      open("rounded", length);
      to(since + length / 3, since + length, since + length + 1);
      expect(told).toEqual([["rounded", expect.closeTo(sum(since, since + length), 9)]]);
    }
  });

  test("that outlasts the run is told once what there is", () => {
    const { open, to, told, watcher } = windows();
    to(1);
    open("open", 5);
    open("other", 7);
    to(2);
    watcher.finish();
    watcher.finish();
    to(30);
    expect(told).toEqual([
      ["open", expect.closeTo(3, 12)],
      ["other", expect.closeTo(3, 12)],
    ]);
  });

  test("notes whose flow it asked for, also once it is over", () => {
    const { open, to, watcher } = windows();
    expect([...watcher.windowed]).toEqual([]);
    open("any", 1);
    to(3);
    expect([...watcher.windowed]).toEqual([1]);
  });
});

describe("a leap over time at which nobody looked", () => {
  test("ends the windows that end in it, and those that do not know what it added", () => {
    const { open, to, leap, told, watcher } = windows();
    to(1);
    open("in it", 3);
    open("with it", 6);
    open("behind it", 7);
    to(2);
    open("later of the first length", 3);
    open("later of the last length", 7);
    leap(5);
    expect(told).toEqual([
      ["in it", expect.closeTo(sum(1, 4), 12)],
      ["later of the first length", expect.closeTo(sum(2, 5), 12)],
      ["with it", expect.closeTo(sum(1, 7), 12)],
    ]);
    // The sums are those of what was seen.
    expect(watcher.totals[1]).toBeCloseTo(4, 12);
    to(7.5);
    expect(told).toHaveLength(3);
    to(8, 8.5);
    expect(told[3]).toEqual(["behind it", expect.closeTo(sum(1, 8), 12)]);
    expect(told).toHaveLength(4);
    to(10);
    expect(told[4]).toEqual(["later of the last length", expect.closeTo(sum(2, 9), 12)]);
  });

  test("leaves windows that are opened after it to themselves", () => {
    const { open, to, leap, told } = windows();
    open("before", 1);
    leap(5);
    expect(told).toEqual([["before", expect.closeTo(1, 12)]]);
    open("after", 1);
    to(5.5);
    expect(told).toHaveLength(1);
    to(6.5);
    expect(told[1]).toEqual(["after", expect.closeTo(sum(5, 6), 12)]);
  });

  test("twice in a row: the sooner of two that outlast both ends first", () => {
    const { open, to, leap, told } = windows();
    open("sooner", 6);
    open("later", 8);
    leap(2);
    leap(2);
    to(5.9);
    expect(told).toEqual([]);
    to(6.1);
    expect(told).toEqual([["sooner", expect.closeTo(36, 12)]]);
    to(9);
    expect(told[1]).toEqual(["later", expect.closeTo(64, 12)]);
  });
});
