import { expect, test } from "vitest";
import { alignmentSentence } from "../../../packages/sim/src/index.ts";
import { alignWaveforms } from "../../../packages/sim/src/study/fit/align.ts";

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
