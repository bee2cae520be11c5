import {
  type CaptureLimits,
  type ChannelJudgement,
  extremeText,
  judgeCapture,
  lengthText,
  measuredText,
  renderJudgement,
} from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import { read, table } from "./read.ts";

function judged(text: string, limits: CaptureLimits = { low: null, high: null }): ChannelJudgement {
  const { capture, issues } = read(text);
  if (capture === null) throw new Error(issues[0]?.message);
  const [channel] = judgeCapture(capture, limits).channels;
  if (channel === undefined) throw new Error("no channel");
  return channel;
}
const within = ({ value, plusMinus }: { value: number; plusMinus: number }, truth: number): void => {
  expect(Math.abs(value - truth)).toBeLessThanOrEqual(plusMinus);
};

describe("an exponential, 20 V·e^(−t/τ) with τ = 1 ms, every 10 µs", () => {
  const tau = 1e-3;
  const channel = judged(
    table(1000, 1e-5, (t) => 20 * Math.exp(-t / tau)),
    { low: 5, high: 15 },
  );

  test("time above 15 V is τ·ln(20/15), its area τ·(20 − 15 − 15·ln(20/15))", () => {
    const [above] = channel.beyond;
    const truth = tau * Math.log(20 / 15);
    within(above!.total, truth);
    expect(above!.total.value).toBeCloseTo(truth, 7);
    expect(above!.excursion.area / (tau * (5 - 15 * Math.log(4 / 3)))).toBeCloseTo(1, 3);
    // Its end lies between two samples, 10 µs apart.
    expect(above!.total.plusMinus).toBeLessThan(1e-5);
  });

  test("time below 5 V is the rest", () => {
    within(channel.beyond[1]!.total, 999e-5 - tau * Math.log(4));
  });

  test("steepest fall is that of the first sample", () => {
    expect(channel.fall!.value).toBeCloseTo((-20 * (1 - Math.exp(-0.01))) / 1e-5, 0);
    expect(channel.rise).toBeNull();
  });
});

describe("a ringing of 20 kHz that decays with 200 µs, every 1 µs", () => {
  const truth = { frequency: 20e3, decay: 200e-6 };
  const ring = (t: number): number =>
    t < 1e-4 ? 0 : 12 - 12 * Math.exp(-(t - 1e-4) / truth.decay) * Math.cos(2 * Math.PI * truth.frequency * (t - 1e-4));

  test("without noise", () => {
    const { ringing } = judged(table(2000, 1e-6, ring));
    expect(ringing!.frequency!.value / truth.frequency).toBeCloseTo(1, 3);
    expect(ringing!.decay!.value / truth.decay).toBeCloseTo(1, 1);
  });

  test("with noise and steps of 8 bits the truth lies within what is told", () => {
    const gauss = normals(7);
    const step = 32 / 255;
    let [frequency, decay] = [0, 0];
    for (let seed = 0; seed < 20; seed++) {
      const { ringing } = judged(table(2000, 1e-6, (t) => step * Math.round((ring(t) + 0.05 * gauss()) / step)));
      if (Math.abs(ringing!.frequency!.value - truth.frequency) <= ringing!.frequency!.plusMinus) frequency++;
      if (Math.abs(ringing!.decay!.value - truth.decay) <= ringing!.decay!.plusMinus) decay++;
      expect(ringing!.frequency!.plusMinus).toBeLessThan(0.03 * truth.frequency);
    }
    expect(frequency).toBeGreaterThanOrEqual(17);
    expect(decay).toBeGreaterThanOrEqual(17);
  });

  test("rounds that do not die away are no ringing", () => {
    const rounds = (t: number): number => (t % 2e-4 < 1e-4 ? 13 + 1e4 * (t % 2e-4) : 3);
    expect(judged(table(2000, 1e-6, rounds)).ringing).toBeNull();
  });

  test("a bare edge rings not", () => {
    expect(
      judged(table(2000, 1e-6, (t) => (t < 1e-4 ? 0 : 12 * (1 - Math.exp(-(t - 1e-4) / 3e-5))))).ringing,
    ).toBeNull();
  });
});

describe("steps and noise", () => {
  const q = 24 / 255;
  const rounded = (value: number): number => -4 + q * Math.round((value + 4) / q);

  test("a step of 8 bits is found, also as three decimals write it; a value is then known to q/√12", () => {
    const { resolution } = judged(table(3000, 1e-5, (t) => rounded(8 + 7 * Math.sin(300 * t)), 4));
    expect(resolution.quantum! / q).toBeCloseTo(1, 3);
    expect(2 ** resolution.bits!).toBeCloseTo(14 / q + 1, -1);
    expect(Math.abs(resolution.ofValue / (q / Math.sqrt(12)) - 1)).toBeLessThan(0.12);
  });

  test("three different values, none of which stand a step apart, have the step of which all are multiples", () => {
    const { resolution } = judged(table(300, 1e-5, (_, k) => 15.2 - q * (k < 100 ? 11 : k === 100 ? 6 : 0), 5));
    expect(resolution.quantum! / q).toBeCloseTo(1, 1);
  });

  test("what rounding takes from a known signal has the standard deviation q/√12", () => {
    const errors = Array.from({ length: 20_000 }, (_, k) => {
      const value = 8 + 7 * Math.sin(0.73 * k);
      return rounded(value) - value;
    });
    const rms = Math.sqrt(errors.reduce((sum, each) => sum + each * each, 0) / errors.length);
    const { resolution } = judged(table(3000, 1e-5, (t) => rounded(8 + 7 * Math.sin(300 * t))));
    expect(rms / (q / Math.sqrt(12))).toBeCloseTo(1, 2);
    expect(Math.abs(resolution.ofValue / rms - 1)).toBeLessThan(0.12);
  });

  test.each([0.02, 0.1, 0.5])("noise of %f V is found to a tenth, with steps or without", (sigma) => {
    for (const shown of [rounded, (value: number) => value]) {
      const gauss = normals(3);
      const { noise } = judged(table(6000, 1e-5, (t) => shown(8 + 300 * t + sigma * gauss()))).resolution;
      const truth = shown === rounded ? Math.hypot(sigma, q / Math.sqrt(12)) : sigma;
      expect(noise / truth).toBeGreaterThan(0.88);
      expect(noise / truth).toBeLessThan(1.12);
    }
  });

  test("numbers without steps have none", () => {
    const gauss = normals(5);
    expect(judged(table(3000, 1e-5, () => gauss(), 15)).resolution).toMatchObject({ quantum: null, bits: null });
  });

  test("the true peak lies within what is told, 38 times of 40 or more", () => {
    let inside = 0;
    for (let seed = 1; seed <= 40; seed++) {
      const gauss = normals(seed);
      const shift = seed * 1.7e-7;
      const peak = (t: number): number => 13.8 + 2 * Math.exp(-(((t - 5e-4 - shift) / 2e-5) ** 2));
      const { highest } = judged(table(1000, 1e-6, (t) => rounded(peak(t) + 0.03 * gauss())));
      if (15.8 >= highest.value - highest.minus && 15.8 <= highest.value + highest.plus) inside++;
      expect(highest.minus + highest.plus).toBeLessThan(0.4);
    }
    expect(inside).toBeGreaterThanOrEqual(38);
  });
});

describe("trips", () => {
  /** Up for 20 of 317 ms, from 0.1 s on. */
  const hiccup = (t: number): number => (t < 0.1 || (t - 0.1) % 0.317 >= 0.297 ? 13.8 : 0);
  const channel = judged(table(2000, 1e-3, hiccup));

  test("are counted, with period, share and whether they go on", () => {
    const { trips } = channel;
    expect(trips!.times).toHaveLength(6);
    expect(trips!.times[0]).toBeCloseTo(0.1, 2);
    expect(trips!.cycling).toBe(true);
    within(trips!.period!, 0.317);
    within(trips!.onShare!, 20 / 317);
    expect(trips!.period!.plusMinus).toBeLessThan(1e-3);
  });

  test("noise and ringing around a level are no further trips", () => {
    const gauss = normals(11);
    const noisy = judged(table(2000, 1e-3, (t) => hiccup(t) + 0.8 * gauss()));
    expect(noisy.trips!.times).toHaveLength(6);
  });

  test("ripple is none", () => {
    expect(judged(table(2000, 1e-4, (t) => 13.8 + 0.5 * Math.sin(600 * t))).trips).toBeNull();
  });
});

describe("limits", () => {
  // No sample as high as the one before: a top that is held to the digit is doubted.
  const plateau = (top: number) => table(400, 1e-4, (t) => (t > 0.01 && t < 0.03 ? top : 13.8) - (t % 0.001));

  test.each([
    [15, 0, false],
    [17, 1, false],
    [15.9, 1, true],
  ])("a peak of %f V against 15.9 V", (top, status, close) => {
    const { capture } = read(plateau(top));
    const judgement = judgeCapture(capture!, { low: 11.7, high: 15.9 });
    expect(judgement.exitStatus).toBe(status);
    expect(judgement.channels[0]?.tooClose).toBe(close);
    expect(renderJudgement(judgement, 200)).toContain(
      close ? "too close to call" : top > 15.9 ? "passes" : "stays within",
    );
  });

  test("what lies in a gap counts nowhere and is told", () => {
    const text = `t,U\n${Array.from({ length: 100 }, (_, k) => `${k},${k > 40 && k < 60 ? "" : k < 50 ? 20 - k * 0.01 : 10}`).join("\n")}\n`;
    const channel = judged(text, { low: null, high: 15 });
    expect(channel.unseen).toBe(20);
    expect(channel.beyond[0]!.excursion.total).toBe(40);
  });
});

test.each<[number, number, Parameters<typeof measuredText>[1], string]>([
  [14.8812, 0.026, "voltage", "14.88 V ± 0.03 V"],
  [14.8812, 0.0131, "voltage", "14.881 V ± 0.014 V"],
  [35.24e-6, 0.31e-6, "time", "35.2 µs ± 0.4 µs"],
  [0.317, 0.0004, "time", "317.0 ms ± 0.4 ms"],
  [0.0004, 0.2, "voltage", "0 mV ± 200 mV"],
  [1234, 56, "time", "1230 s ± 60 s"],
  [0.063, 0.002, "ratio", "6.3 % ± 0.2 %"],
  [15.9, 0, "voltage", "15.9 V"],
  [1e-7, 5.4e-4, "time", "within ± 600 µs"],
  [-1e-6, 2.5e-6, "time", "within ± 4 µs"],
  [1e-5, 9.6e-4, "time", "within ± 1.0 ms"],
])("%f ± %f is told as %s: %s", (value, plusMinus, dimension, text) => {
  expect(measuredText({ value, plusMinus }, dimension)).toBe(text);
});

test.each([
  [35.24e-6, 0.31e-6, "35.2 µs ± 0.4 µs"],
  [1e-7, 5.4e-4, "up to 600 µs"],
  [0, 0, "0 s"],
])("a length of %f s ± %f s is told as %s", (value, plusMinus, text) => {
  expect(lengthText({ value, plusMinus })).toBe(text);
});

test.each<[number, number, number, "highest" | "lowest", boolean, string]>([
  [14.8812, 0.026, 0.026, "highest", false, "14.88 V ± 0.03 V"],
  [14.8812, 0.026, 0.141, "highest", false, "14.881 V (true peak 14.855…15.023 V)"],
  [0.052, 0.213, 0.061, "lowest", false, "50 mV (true lowest -170…120 mV)"],
  [14.8812, 0.026, 3, "highest", true, "at least 14.88 V ± 0.03 V"],
  [3.2, 4, 0.026, "lowest", true, "at most 3.20 V ± 0.03 V"],
  [15.9, 0, 0, "highest", false, "15.9 V"],
])("%f V, %f V less or %f V more, the %s (open: %s) is told as %s", (value, minus, plus, side, open, text) => {
  expect(extremeText({ value, minus, plus }, "voltage", side, { open, truth: true })).toBe(text);
});

test("what is less than it may be off by is told as that, also an instant", () => {
  // A limit passed in one sample of a recorder whose interval is 2 ms, first sample of all.
  const { capture } = read(table(200, 2e-3, (t) => (t < 1e-3 ? 16 : 13.8)));
  const said = renderJudgement(judgeCapture(capture!, { low: null, high: 15.9 }), 10_000);
  expect(said).toContain("at 0 s ± 2 ms");
  expect(said).not.toMatch(/\b0 [µm]?s ±(?! 2 ms)/);
  expect(said).not.toMatch(/-\d+(?:\.\d+)? [µm]?s\b/);
});
