import { describe, expect, test } from "vitest";
import { remember } from "../../packages/sim/src/hybrid/memento.ts";

describe("what is remembered", () => {
  test("are numbers, words and switches at any depth, and of all roots", () => {
    const [one, other] = [
      { count: 1, deep: { mode: "on", list: [1, { is: true }] } },
      { empty: null as string | null },
    ];
    const kept = structuredClone([one, other]);
    const back = remember([one, other], []);
    one.count = 2;
    one.deep.mode = "off";
    (one.deep.list[1] as { is: boolean }).is = false;
    one.deep.list[0] = Number.NaN;
    other.empty = "no more";
    back();
    expect([one, other]).toEqual(kept);
  });

  test("comes back as often as it is asked for, in whatever circle it stands", () => {
    const ring: { value: number; self?: object } = { value: 1 };
    ring.self = ring;
    const back = remember([ring], []);
    for (const value of [2, 3]) {
      ring.value = value;
      back();
      expect(ring.value).toBe(1);
    }
  });

  test("is nothing of what lies outside, of typed arrays and of functions", () => {
    const outside = { value: 1 };
    const root = { outside, numbers: Float64Array.of(1), act: () => 1, own: 1 };
    const back = remember([root], [outside]);
    outside.value = 2;
    root.numbers[0] = 2;
    const act = () => 2;
    root.act = act;
    root.own = 2;
    back();
    expect([outside.value, root.numbers[0], root.act, root.own]).toEqual([2, 2, act, 1]);
  });

  test("is written only where it has changed: others may have a setter that acts", () => {
    let written = 0;
    let value = 5;
    const root = {
      get level() {
        return value;
      },
      set level(to: number) {
        written++;
        value = to;
      },
    };
    const back = remember([root], []);
    back();
    expect(written).toBe(0);
    value = 6;
    back();
    expect([written, value]).toEqual([1, 5]);
  });
});
