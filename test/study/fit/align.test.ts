import { describe, expect, test } from "vitest";
import { normals } from "../../../packages/sim/scripts/instrument.ts";
import { alignWaveforms } from "../../../packages/sim/src/study/fit/align.ts";
import { fourier } from "../../../packages/sim/src/study/fit/fourier.ts";
import { alignmentSentence } from "../../../packages/sim/src/study/fit/sentences.ts";

const sampled = (count: number, interval: number, value: (t: number) => number) => {
  const time = Float64Array.from({ length: count }, (_, k) => k * interval);
  return { time, values: time.map(value) };
};

/** A ramp that collapses, round after round, after a stretch that is even. */
const rounds = (t: number): number => (t < 0.1 ? 13.8 : ((t - 0.1) % 0.08) * 180);

describe("a capture that begins somewhere in the run", () => {
  const gauss = normals(5);
  const run = sampled(6000, 1e-4, rounds);
  const from = 0.0437;
  const capture = sampled(3000, 1e-4, (t) => rounds(t + from) + 0.05 * gauss());

  test("by its first edge, within one sample", () => {
    const { shift, by, likeness } = alignWaveforms(capture, run, 0.05);
    expect(by).toBe("threshold");
    expect(Math.abs(shift - from)).toBeLessThan(1e-4);
    expect(likeness).toBeGreaterThan(0.99);
  });

  test("that is one of many alike is said to be so; one that shows the beginning is not", () => {
    const later = sampled(1800, 1e-4, (t) => rounds(t + 0.2213) + 0.05 * gauss());
    const alignment = alignWaveforms(later, run, 0.05);
    expect(alignment.alike).toBeGreaterThanOrEqual(2);
    const shift = { value: alignment.shift, plusMinus: 1e-4 };
    expect(alignmentSentence({ shift, alignment })).toMatch(
      /at least \d other places, for rounds are alike: which round it is cannot be told/,
    );
    const beginning = alignWaveforms(capture, run, 0.05);
    expect(beginning.alike).toBe(0);
    expect(alignmentSentence({ shift, alignment: beginning })).not.toContain("alike");
  });

  test("by the best likeness, within a 2000th of its length", () => {
    const { shift, by } = alignWaveforms(capture, run, 0.05, "correlation");
    expect(by).toBe("correlation");
    expect(Math.abs(shift - from)).toBeLessThan(0.3 / 2000);
  });

  test("what has no edges is laid by likeness: a hump", () => {
    const hump = (t: number): number => Math.exp(-(((t - 0.3) / 0.05) ** 2)) * 0.4;
    const flat = alignWaveforms(
      sampled(2000, 1e-4, (t) => hump(t + 0.2) + 0.05 * gauss()),
      sampled(6000, 1e-4, hump),
      0.05,
    );
    expect(flat.by).toBe("correlation");
    expect(Math.abs(flat.shift - 0.2)).toBeLessThan(2e-3);
  });
});

test("Fourier's transform of an oscillation has one line (closed form)", () => {
  const n = 64;
  const re = Float64Array.from({ length: n }, (_, k) => Math.cos((2 * Math.PI * 5 * k) / n));
  const im = new Float64Array(n);
  fourier(re, im);
  for (let k = 0; k < n; k++) expect(Math.hypot(re[k]!, im[k]!)).toBeCloseTo(k === 5 || k === n - 5 ? n / 2 : 0, 9);
});
