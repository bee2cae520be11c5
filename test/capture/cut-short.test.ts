import { describe, expect, test } from "vitest";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import {
  beyondInShort,
  captureHeadline,
  channelSentences,
  judgeCapture,
  tripsInShort,
} from "../../packages/sim/src/index.ts";
import { read, table } from "./read.ts";

const LIMITS = { low: 11.7, high: 15.9 };

function judged(text: string, limits: { low: number | null; high: number | null } = LIMITS) {
  const { capture, issues } = read(text);
  if (capture === null) throw new Error(JSON.stringify(issues));
  return judgeCapture(capture, limits);
}

describe("a record that ends on its way up", () => {
  const noise = normals(3);
  const rising = (rate: number, until: number): string =>
    table(400, 5e-6, (t) => 13.8 + Math.max(0, t - until) * rate + 0.005 * noise(), 5);

  test("towards the limit leaves open whether it stayed within", () => {
    const { channels, exitStatus } = judged(rising(1500, 1e-3));
    expect(channels[0]!.highest.value).toBeCloseTo(15.3, 1);
    expect(exitStatus).toBe(1);
    expect(channels[0]!.findings[0]!.sentence).toContain("still on its way up when the record ended");
    expect(channelSentences(channels[0]!).join(" ")).toContain("Not seen above 15.9 V");
    expect(beyondInShort(channels[0]!)).toBe("not seen above 15.9 V");
  });

  test("too slowly to come to the limit in as long again says nothing against it", () => {
    expect(judged(rising(200, 1e-3)).exitStatus).toBe(0);
  });

  test("as high as it was before, and turned, says nothing against it", () => {
    const rounds = table(
      8000,
      1e-6,
      (t) => 13.8 + (t % 1e-3 > 0.8e-3 ? 5000 * ((t % 1e-3) - 0.8e-3) : 0) + 0.005 * noise(),
      5,
    );
    expect(judged(rounds).exitStatus).toBe(0);
    const once = rounds.split("\n").slice(0, 1001).join("\n");
    expect(judged(once).exitStatus).toBe(1);
  });

  test("of a line that was switched on and has settled says nothing against it", () => {
    const settled = table(400, 5e-6, (t) => 15 * (1 - Math.exp(-t / 2e-4)) + 0.005 * noise(), 5);
    expect(judged(settled).exitStatus).toBe(0);
  });
});

describe("only an upper limit is given", () => {
  test.each([
    ["a probe's factor that is not applied", (t: number) => 1.38 + (t > 1e-3 ? 0.02 : 0)],
    ["AC coupling", (t: number) => 0.5 * Math.sin(600 * t)],
  ])("%s leaves open whether it stayed within", (_, line) => {
    const { channels, exitStatus } = judged(table(400, 5e-6, line), { low: null, high: 15.9 });
    expect(exitStatus).toBe(1);
    expect(channels[0]!.findings[0]!.sentence).toContain("never comes up to half of it, 7.95 V");
  });
});

describe("recordings with gaps between them", () => {
  /** Trips seen in three short segments, the time between them not recorded. */
  const segments = (): string => {
    const noise = normals(8);
    const rows = [0, 0.3165, 0.633].flatMap((start) =>
      Array.from({ length: 100 }, (_, k) => [start + k * 5e-6, (k < 40 ? 13.8 : 0.4) + 0.01 * Math.round(noise())]),
    );
    return `time_s,line_V\n${rows.map(([time, value]) => `${Number(time!.toPrecision(12))},${value}`).join("\n")}\n`;
  };

  test("tell no share of a time that was not recorded", () => {
    const { trips } = judged(segments()).channels[0]!;
    expect(trips!.times).toHaveLength(3);
    expect(trips!.onShare).toBeNull();
    expect(trips!.period!.value).toBeCloseTo(0.3165, 4);
  });

  test("keep their reservations where there is little room", () => {
    const [channel] = judged(segments()).channels;
    expect(tripsInShort(channel!)).toMatch(/^3, at most every 316\.5\d* ms ± .*, perhaps more often$/);
    expect(beyondInShort(channel!)).toMatch(
      /^not seen above 15\.9 V, perhaps for up to 632 ms more; below 11\.7 V: .*, perhaps for up to 632 ms more$/,
    );
  });

  test("of a hundredth of the time widen the share by it", () => {
    const line = (t: number): number => (t % 0.1 < 0.05 ? 13.8 : 0.2);
    const rows = table(1000, 1e-3, line).split("\n");
    const whole = judged(rows.join("\n")).channels[0]!.trips!.onShare!;
    const holed = judged([...rows.slice(0, 420), ...rows.slice(432)].join("\n")).channels[0]!.trips!.onShare!;
    expect(Math.abs(holed.value - 0.5)).toBeLessThan(holed.plusMinus);
    expect(holed.plusMinus - whole.plusMinus).toBeGreaterThan(0.01);
  });
});

test("the steepest slope of a ripple is the ripple's, however noisy", () => {
  const noise = normals(5);
  const ripple = table(2000, 2e-4, (t) => 13.8 + 0.3 * Math.sin(2 * Math.PI * 100 * t) + 0.03 * noise(), 5);
  const { rise } = judged(ripple).channels[0]!;
  const truth = 0.3 * 2 * Math.PI * 100;
  expect(rise!.over).toBeLessThan(0.01);
  expect(rise!.value + rise!.plusMinus).toBeGreaterThan(rise!.atLeast ? 0 : truth);
  expect(rise!.value).toBeGreaterThan(0.4 * truth);
});

test("the headline of a doubted record says why", () => {
  const steep = table(400, 5e-6, (t) => 13.8 + Math.max(0, t - 1e-3) * 1500, 5);
  expect(captureHeadline(judged(steep))).toMatch(/is not known: it was still on its way up when the record ended/);
});

describe("samples are missing on a steep rise", () => {
  const rising = (k: number): string =>
    `${(k * 1e-3).toFixed(3)},${(k < 150 || k > 214 ? 13.8 : 13.8 + 0.3 * (k - 149)).toFixed(3)}`;
  const rows = Array.from({ length: 400 }, (_, k) => ({ k, row: rising(k) }));

  test.each([
    ["rows", rows.filter(({ k }) => k < 156 || k > 214).map(({ row }) => row)],
    ["cells", rows.map(({ k, row }) => (k < 156 || k > 214 ? row : row.replace(/,.*/, ",")))],
  ])("%s: how far it went is not known", (_, lines) => {
    const { channels, exitStatus } = judged(`time_s,line_V\n${lines.join("\n")}\n`);
    expect(exitStatus).toBe(1);
    expect(channels[0]!.findings[0]!.sentence).toContain("on its way up where samples are missing");
  });

  test("on a level they say nothing against it", () => {
    const level = rows.filter(({ k }) => k < 20 || (k > 79 && k < 150));
    // Values that are all equal would be doubted for that.
    const lines = level.map(({ k, row }) => (k % 9 === 0 ? row.replace("13.800", "13.790") : row));
    expect(judged(`time_s,line_V\n${lines.join("\n")}\n`).exitStatus).toBe(0);
  });
});

describe("the range ends a little above service, by 2 to 8 steps", () => {
  const step = 16 / 256;
  test.each([0, 0.1, 0.3])("noise of %f steps", (sigma) => {
    for (const service of [13.5, 13.6, 13.7, 13.8])
      for (const run of [5, 20, 100]) {
        const gauss = normals(run);
        const line = (_: number, k: number): number => {
          const value = (k < 600 ? service : k < 600 + run ? 18 : 1.2) + sigma * step * gauss();
          return Math.min(14 - step, step * Math.round(value / step));
        };
        const { exitStatus } = judged(table(1000, 1e-5, line, 6));
        expect(exitStatus, `${service} V, ${run} samples`).toBe(1);
      }
  });
});

test("a sample that was caught on the collapse does not bring the peak down", () => {
  for (let cut = 0; cut < 50; cut++) {
    const fires = 60 + cut / 50;
    const line = (_: number, k: number): number =>
      k < fires ? 13.8 + 0.2 * Math.max(0, k - 49) : 1.2 + 14.6 * Math.exp(-(k - fires) / 0.05);
    const truth = 13.8 + 0.2 * (fires - 49);
    const { highest } = judged(table(120, 1e-3, line, 6)).channels[0]!;
    expect(highest.value + highest.plus, `cut ${cut}`).toBeGreaterThan(truth);
  }
});

test("steps are told where values do not stand a single one apart", () => {
  const step = 1 / 32;
  const jumps = [0, 7, 12, 33, 50, 81, 97, 130, 171, 200, 231, 260, 283, 311, 340, 377, 401];
  const line = (_: number, k: number): number => 1.1875 + step * jumps[k % jumps.length]!;
  expect(judged(table(200, 1e-6, line, 9)).channels[0]!.resolution.quantum).toBeCloseTo(step, 9);
});
