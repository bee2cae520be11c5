import { describe, expect, test } from "vitest";
import { normals } from "../../../packages/sim/scripts/instrument.ts";
import { channelOf } from "../../../packages/sim/src/study/fit/channels.ts";
import { misfitOf, togetherness } from "../../../packages/sim/src/study/fit/misfit.ts";
import { captureOf } from "./bench.ts";

const INTERVAL = 1e-3;
const times = (count: number) => Float64Array.from({ length: count }, (_, k) => k * INTERVAL);

/** A channel of so many samples that is off by 10 mV and has neither steps nor edges. */
function channel(count: number) {
  const capture = captureOf(times(count), [{ name: "radio", unit: "V", values: new Float64Array(count).fill(1) }]);
  return {
    ...channelOf(capture, capture.channels[0]!, "radio_V")!,
    off: 0.01,
    common: 0,
    span: 1,
    offs: new Float64Array(count).fill(0.01),
  };
}

const left = (values: Float64Array) => misfitOf(channel(Math.max(8, values.length)), values, times(values.length));

describe("what is left of a channel", () => {
  test("nothing at all: no misfit, and nowhere worst", () => {
    expect(left(new Float64Array(80))).toMatchObject({ rms: 0, ratio: 0, runs: 0, isBeyondNoise: false });
    expect(left(new Float64Array())).toMatchObject({ rms: 0, slow: 0, ripple: null, worst: 0, isBeyondNoise: false });
  });

  test("as much as noise, but all of it to one side: means of eight samples are eight times as large as noise makes them", () => {
    const found = left(new Float64Array(80).fill(0.01));
    expect(found.ratio).toBeCloseTo(1, 12);
    // Wilson and Hilferty with ten means: (∛8 − 1 + 2/90)/√(2/90).
    expect(found.slow).toBeCloseTo((2 - 1 + 2 / 90) / Math.sqrt(2 / 90), 9);
    expect(found.isBeyondNoise).toBe(true);
  });

  test("too few samples for a mean, or for an oscillation, tell of neither", () => {
    const up = left(new Float64Array(7).fill(0.01));
    expect(up).toMatchObject({ slow: 0, isBeyondNoise: false });
    const swings = (count: number) => left(times(count).map((_, k) => 0.01 * (-1) ** k));
    expect(swings(63)).toMatchObject({ ripple: null, isBeyondNoise: false });
    expect(swings(100).isBeyondNoise).toBe(true);
  });

  test("samples that are nothing do not part a run of one sign", () => {
    const signs = (list: readonly number[]) => left(Float64Array.from(list, (sign) => 0.001 * sign)).runs;
    expect(signs([1, 0, 1, -1, 0, -1, 1, 1])).toBe(signs([1, 1, -1, -1, 1, 1]));
  });
});

test("noise of neighbours that go together counts larger; where nothing is known or left, as it is", () => {
  const gauss = normals(1);
  const white = Float64Array.from({ length: 4000 }, gauss);
  expect(togetherness(white)).toBe(1);
  // Each value twice: half of it goes together with the next, 1 + 2·½.
  expect(togetherness(white.map((_, k) => white[k >> 1]!))).toBeCloseTo(Math.SQRT2, 1);
  expect(togetherness(new Float64Array(200))).toBe(1);
  expect(togetherness(new Float64Array(200).fill(Number.NaN))).toBe(1);
});
