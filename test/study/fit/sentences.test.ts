import { describe, expect, test } from "vitest";
import { alignmentSentence, parseScenario, simulate, valueSentence } from "../../../packages/sim/src/index.ts";
import { alignWaveforms } from "../../../packages/sim/src/study/fit/align.ts";
import type { Prepared } from "../../../packages/sim/src/study/fit/prepare.ts";
import {
  idleSentences,
  lengthSentences,
  misfitSentences,
  untoldSentences,
} from "../../../packages/sim/src/study/fit/sentences.ts";
import { foundValue, shownChannel } from "./made.ts";

const step = {
  time: Float64Array.from({ length: 100 }, (_, k) => k),
  values: new Float64Array(100).fill(14, 40),
};
const alignment = { ...alignWaveforms(step, step, 0.01), likeness: 0.98 };
const told = (value: number, plusMinus: number) => alignmentSentence({ shift: { value, plusMinus }, alignment });

test("where a capture begins is told in English, also where it begins with the run or before it", () => {
  const laid = "(laid by its first edge; likeness before the fit 0.980).";
  expect(told(0.0123, 0.0002)).toBe(`The capture begins 12.3 ms ± 0.2 ms into the run ${laid}`);
  expect(told(-0.0123, 0.0002)).toBe(`The capture begins 12.3 ms ± 0.2 ms before the run does ${laid}`);
  expect(told(0.0001, 0.0005)).toBe(`The capture begins with the run, give or take 600 µs ${laid}`);
});

test("where nothing tells when a capture begins, it is said where it was laid, also before the run", () => {
  const byLikeness = (value: number) =>
    alignmentSentence({
      shift: { value, plusMinus: Number.POSITIVE_INFINITY },
      alignment: { ...alignment, by: "correlation" },
    });
  const laid = "(laid by its likeness; likeness before the fit 0.980).";
  const begin = "The capture does not tell when in the run it begins: it lies";
  expect(byLikeness(0.0123)).toBe(`${begin} 12.3 ms into it ${laid}`);
  expect(byLikeness(-0.0123)).toBe(`${begin} 12.3 ms before its beginning ${laid}`);
});

describe("a value", () => {
  test.each([
    ["two digits of its interval behind a one", { from: 15.0055, to: 15.0345 }, "15.020 V ± 0.015 V (was 15 V)"],
    ["whole tens", { unit: "ms", value: 331, from: 308, to: 354, nominal: 300 }, "330 ms ± 30 ms (was 300 ms)"],
    ["no unit", { unit: "", value: 1.5, from: 1.2, to: 1.8, nominal: 1 }, "1.5 ± 0.3 (was 1)"],
    ["known to the last digit", { from: 15.02, to: 15.02 }, "15.02 V ± 0 V (was 15 V)"],
    ["one-sided", { from: 15.01, to: 15.1 }, "15.02 V, from 15.01 V to 15.1 V (was 15 V)"],
    [
      "at a bound",
      { state: "at bound", value: 12.01, from: 12, to: 12.04 },
      "12.01 V, from 12 V to 12.04 V, at a bound of 12 V … 18 V (was 15 V)",
    ],
  ] as const)("%s", (_, change, said) => {
    expect(valueSentence(foundValue(change))).toBe(`crowbar: trip voltage: ${said}.`);
  });

  test.each([
    [{ from: 13, to: 16.004 }, "between about 13 V and 16 V"],
    [{ from: 13, to: 18 }, "about 13 V at least"],
    [{ from: 12, to: 16 }, "about 16 V at most"],
  ])("that is not told, but for its ends: %o", (ends, said) => {
    const value = foundValue({ state: "untold", value: 15, ...ends });
    expect(untoldSentences([value], [])).toEqual([
      `This capture tells of crowbar: trip voltage only that it is ${said}.`,
    ]);
    expect(valueSentence(value)).toBe(`crowbar: trip voltage: ${said}; left at 15 V.`);
  });

  test("that nothing is known of", () => {
    const value = foundValue({ state: "untold", value: 15, from: 12, to: 18 });
    expect(valueSentence(value)).toBe("crowbar: trip voltage: not told; left at 15 V.");
  });
});

describe("what the run lacks", () => {
  const edge = (late: number): string => {
    const misfit = { rms: 0.2, ratio: 4, edge: { captured: 0.0121, late }, isBeyondNoise: true };
    return misfitSentences([shownChannel({}, misfit), shownChannel({ name: "supply" })]).join(" ");
  };

  test.each([
    [2e-3, "comes 2 ms later in the run"],
    [-2e-3, "comes 2 ms earlier in the run"],
    [Number.POSITIVE_INFINITY, "never comes in the run"],
  ])("an edge by %d s", (late, said) => {
    expect(edge(late)).toBe(
      `"radio" differs from the run by 200 mV RMS, 4.0 times what noise and steps explain, most of all 400 ms into the run. What it shows at 12.1 ms ${said}. It comes with the events: a value that was not freed may differ, or else the model lacks something that the capture shows; the intervals do not cover that.`,
    );
  });

  test("a capture ten times as long as the scenario runs: whether its times are in the right unit is asked", () => {
    const told = (duration: number) => lengthSentences({ duration, endTime: 1.2 } as Prepared);
    expect(told(11.9)).toEqual([]);
    expect(told(12)).toEqual([
      "The capture lasts 12 s, the scenario runs for 1.2 s: are its times in the unit that the file says?",
    ]);
  });
});

test("of parts to which nothing happens nothing can be told, of each in its own words", () => {
  const { scenario, issues } = parseScenario(
    `title: quiet
fault at: 1 ms
run for: 2 ms
sources:
  - {name: supply, part: linear supply 20 A, set voltage: 13.8 V, lead: {length: 1 m, area: 4 mm2}}
main fuse: blade fuse 20 A
crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}
clamp: "clamp diode 1500 W, 15 V"
series switch: {part: relay 30 A, off voltage: 16 V, sense filter: fast}
loads:
  - {name: radio, part: 100 W radio, lead: {length: 1 m, area: 4 mm2}}
`,
    "quiet.yaml",
  );
  if (scenario === null) throw new Error(issues.map(({ message, path }) => `${path}: ${message}`).join("; "));
  expect(idleSentences(simulate(scenario))).toEqual([
    "This capture says nothing about when the blade fuse 20 A melts: it stays whole.",
    "This capture says nothing about the SCR: it does not fire.",
    "This capture says nothing about the clamp: it carries no current.",
    "This capture says nothing about the series switch: it does not open.",
  ]);
});
