import { type CaptureJudgement, judgeCapture, measuredText, renderJudgement } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import { read } from "./read.ts";

const limits = { low: 11.7, high: 15.9 };

function judged(text: string): { judgement: CaptureJudgement; said: string; codes: string[] } {
  const { capture, issues } = read(text);
  if (capture === null || issues.some(({ severity }) => severity === "error")) throw new Error(issues[0]?.message);
  const judgement = judgeCapture(capture, limits);
  const said = renderJudgement(judgement, 10_000);
  return { judgement, said, codes: issues.map(({ code }) => code) };
}
const rows = (count: number, row: (k: number) => string): string =>
  Array.from({ length: count }, (_, k) => row(k)).join("\n");

test("a channel that never comes up to the lower limit is questioned, not passed", () => {
  for (const factor of [-1, 0.1]) {
    const { judgement, said } = judged(
      `t (s),U (V)\n${rows(1000, (k) => `${k}e-5,${(factor * (k < 400 ? 13.8 : 15.2)).toFixed(3)}`)}\n`,
    );
    expect(judgement.exitStatus).toBe(1);
    expect(said).toContain("is not known: it never comes up to the lower limit of 11.7 V");
  }
  const right = judged(`t (s),U (V)\n${rows(1000, (k) => `${k}e-5,${(k < 400 ? 13.8 : 15.2).toFixed(3)}`)}\n`);
  expect(right.said).not.toContain("never comes up");
});

describe("a meter out of its range", () => {
  const with50 = (mark: string) =>
    `t (s),U (V)\n${rows(1000, (k) => `${k}e-5,${k >= 400 && k < 450 ? mark : 13.8}`)}\n`;

  test.each(["OL", "+OL", "OVLD", "*****", "9.9E37", "+9.9000000E+37", "O.L"])("%s", (mark) => {
    const { judgement, said } = judged(with50(mark));
    expect(judgement.exitStatus).toBe(1);
    expect(judgement.channels[0]).toMatchObject({ tooClose: true, passed: false, outOfRange: 50 });
    expect(said).toContain("is not known: the instrument was out of its range in 50 samples");
    expect(said).not.toContain("stays within the limit of 15.9 V.");
    expect(said).not.toContain("Never above");
    expect(said).toContain("Not seen above 15.9 V; perhaps for up to 510 µs more");
  });

  test.each(["-OL", "-inf", "-9.9E37"])("%s lies below: the upper limit holds", (mark) => {
    const { judgement, said } = judged(with50(mark));
    expect(judgement.exitStatus).toBe(0);
    expect(said).toContain("Never above 15.9 V");
    expect(said).toContain("Not seen below 11.7 V; perhaps");
  });

  test("9.91E37 is no number", () => {
    const { judgement } = judged(with50("9.91E+37").replace("13.8", "13.7"));
    expect(judgement.channels[0]).toMatchObject({ outOfRange: 0, gaps: 50, highest: { value: 13.8 } });
  });

  test("a limit that was seen to be passed stays passed", () => {
    const { judgement } = judged(
      `t,U\n${rows(100, (k) => `${k},${k === 50 ? "OL" : k > 40 && k < 60 ? 25 : 13 + 0.1 * (k % 9)}`)}\n`,
    );
    expect(judgement.channels[0]).toMatchObject({ passed: true, tooClose: false });
  });
});

test("rows that are missing are a gap: 16.5 V before and after are known for 1 s, and perhaps for 99 s more", () => {
  const noise = normals(1);
  const { judgement, said } = judged(
    `t (s),U (V)\n${rows(2000, (k) => `${(k < 1000 ? k : k + 99_000) / 1000},${((k < 1000 ? 13.8 : 16.5) + 0.01 * noise()).toFixed(5)}`)}\n`,
  );
  const { total, perhaps } = judgement.channels[0]!.beyond[0]!;
  expect(total.value).toBeCloseTo(0.999, 3);
  expect(total.plusMinus).toBeLessThan(0.002);
  expect(perhaps).toEqual({ unseen: expect.closeTo(99, 1), outOfRange: 0 });
  expect(said).toContain("perhaps for up to 1 min 39 s more of which nothing was recorded");
});

test("a recorder that changes its pace leaves no gap", () => {
  const { judgement } = judged(
    `t,U\n${rows(300, (k) => `${k < 100 ? k * 10 : 990 + (k - 99) * 0.01},${13 + (k % 7) / 10}`)}\n`,
  );
  expect(judgement.channels[0]!.unseen).toBe(0);
});

describe("times of day", () => {
  const clock = (k: number) => new Date(1000 * k).toISOString().slice(11, 19);

  test("in whole seconds for ten samples each: half a second is known to about one", () => {
    const { judgement, said, codes } = judged(
      `Time,U (V)\n${rows(600, (k) => `${clock(82_800 + Math.floor(k / 10))},${k >= 123 && k < 128 ? 16.5 : 13.8 + (k % 3) / 100}`)}\n`,
    );
    expect(codes).toEqual(["coarse-times"]);
    const { total } = judgement.channels[0]!.beyond[0]!;
    expect(total.value).toBeCloseTo(0.5, 2);
    expect(total.plusMinus).toBeGreaterThan(0.7);
    expect(total.plusMinus).toBeLessThan(1.2);
    expect(said).not.toContain("Never above");
    // No slope is told over less than the step of the clock.
    expect(judgement.channels[0]!.fall!.over).toBeGreaterThan(5);
  });

  test("go on past midnight", () => {
    const { judgement, codes } = judged(
      `Time,U (V)\n${rows(60, (k) => `${clock(86_370 + k)},${(13.8 + (k % 3) / 100 + (k >= 40 && k < 45 ? 2.5 : 0)).toFixed(2)}`)}\n`,
    );
    expect(codes).toEqual(["past-midnight"]);
    expect(judgement.duration).toBe(59);
    expect(judgement.channels[0]!.beyond[0]!.total.value).toBeCloseTo(5, 1);
  });

  test("that go back by an hour are two recordings still", () => {
    const text = `Time,U (V)\n${rows(6000, (k) => `${clock(50_000 + (k % 3600))},${13 + (k % 5) / 10}`)}\n`;
    expect(read(text).issues.map(({ code }) => code)).toContain("time-restarts");
  });
});

test("a sample that passes the limit between two equal times is told, with its ±", () => {
  const { judgement, said } = judged(
    `t,U\n${rows(100, (k) => `${k === 51 || k === 52 ? 50 : k},${k === 51 ? 17 : 13 + (k % 5) / 10}`)}\n`,
  );
  expect(judgement.channels[0]!.beyond[0]!.total.plusMinus).toBeGreaterThan(0.7);
  expect(said).not.toContain("Never above 15.9 V.");
});

test("two different values: what lies between may be one step", () => {
  const { judgement, said } = judged(
    `t (s),U (V)\n${rows(2000, (k) => `${k}e-5,${k > 500 && k < 1200 ? "15.85" : "13.60"}`)}\n`,
  );
  const { highest, resolution } = judgement.channels[0]!;
  expect(resolution).toMatchObject({ quantum: null, between: expect.closeTo(2.25, 9) });
  expect(highest.minus).toBeCloseTo((2 * 2.25) / Math.sqrt(12), 2);
  expect(highest.plus).toBeGreaterThanOrEqual(highest.minus);
  expect(judgement.exitStatus).toBe(1);
  expect(said).not.toMatch(/\d\.\d{6}/);
  expect(said).not.toMatch(/e-\d/);
});

test("a value is no better known than its last written digit", () => {
  const { judgement } = judged(
    `t (s),U (V)\n${rows(3000, (k) => `${k}e-5,${(13 + 2 * Math.sin(k / 1000)).toFixed(1)}`)}\n`,
  );
  expect(judgement.channels[0]!.resolution.ofValue).toBeGreaterThanOrEqual(0.1 / Math.sqrt(12) - 1e-9);
});

test("digits that no double has are not printed", () => {
  expect(measuredText({ value: 15.85, plusMinus: 5e-14 }, "voltage")).toBe("15.85 V");
});

describe("what no file shows is said", () => {
  const noise = normals(4);

  test("a ringing faster than half the sample rate looks slower: the caution stands beside the frequency", () => {
    const ring = (t: number) => (t > 0 ? 4 * Math.exp(-t / 3e-4) * Math.cos(2 * Math.PI * 0.95e6 * t) : 0);
    const { judgement, said } = judged(
      `t (s),U (V)\n${rows(4000, (k) => `${k}e-6,${(13.8 - ring((k - 1000) * 1e-6) + 0.005 * noise()).toFixed(5)}`)}\n`,
    );
    expect(judgement.channels[0]!.ringing!.frequency!.value).toBeCloseTo(50e3, -2);
    expect(said).toMatch(
      /It rings at (?:49|50)[^.]*\.[^;]*;[^;]*a ringing above half the sample rate, 500 kHz, would look slower than it is/,
    );
  });

  test("a top cut off where noise would move it: the peak is not known; a quiet one is pointed at", () => {
    const q = 20 / 256;
    const shown = (value: number) => Math.min(15, q * Math.round(value / q)).toFixed(5);
    const { judgement, said } = judged(
      `t (s),U (V)\n${rows(5000, (k) => `${k}e-5,${shown((k > 2000 ? 19 : 13.8) + 0.03 * noise())}`)}\n`,
    );
    expect(judgement.channels[0]).toMatchObject({ flatTop: { clipped: true }, tooClose: true });
    expect(judgement.exitStatus).toBe(1);
    expect(said).toContain("the instrument's range ended there");
  });

  test("a top that is held to the digit after a jump may be the end of the range; where it is the level of service, it is not", () => {
    const held = judged(`t,U\n${rows(400, (k) => `${k},${k > 100 && k < 300 ? 15 : 13.8 - (k % 10) / 100}`)}\n`);
    expect(held.judgement.exitStatus).toBe(1);
    expect(held.judgement.channels[0]!.open.above).toBe(true);
    expect(held.said).toContain("is not known: it breaks off at its highest value, 199 samples one after the other");
    expect(held.said).toContain("Highest: at least 15.0");
    const service = judged(`t,U\n${rows(400, (k) => `${k},${k > 100 && k < 300 ? 0.5 + (k % 3) / 100 : 13.8}`)}\n`);
    expect(service.judgement.exitStatus).toBe(0);
    expect(service.said).toContain("such a flat top may be where the instrument's range ended");
  });
});
