import { expect, test } from "vitest";
import { repeatFuse } from "../../packages/sim/src/model/findings/long-run.ts";
import { leapRun } from "../support/leaps.ts";

// A fuse that resists more as it heats up takes from the current that heats it: with the current held the first of these would melt after 40 s,
// not after 106 s.

const MELTING = [
  { fuse: "blade fuse 7.5 A", offTime: "150 ms", looks: [3, 10], endTime: 120 },
  { fuse: "blade fuse 10 A", offTime: "60 ms", looks: [1, 3], endTime: 6 },
] as const;

test.each(MELTING)(
  "a $fuse at $offTime off melts about when a short run foretells it",
  ({ looks, endTime, ...line }) => {
    const load = ["    current: 2 A"];
    const whole = { leaps: true, tolerance: 1e-8 };
    const melts = leapRun({ ...line, load, endTime }, whole).fuses[0]?.meltTime ?? Number.NaN;
    for (const look of looks) {
      const early = leapRun({ ...line, load, endTime: look }, { leaps: true });
      expect(early.fuses[0]?.state).toBe("intact");
      const foretold = early.crowbar?.cycling?.longRun?.fuses[0]?.peakMeltTime ?? Number.NaN;
      expect(Math.abs(Math.log(foretold / melts)), `${foretold} s instead of ${melts} s`).toBeLessThan(0.15);
    }
  },
);

test.each([
  ["130 ms", 4.13],
  ["150 ms", 105.8],
])(
  "of three rounds at %s off it is foretold no later than it melts, of four about when: the first is not like them",
  (offTime, melts) => {
    const line = { fuse: "blade fuse 7.5 A", offTime, load: ["    current: 2 A"] };
    const foretold = (firings: number): number => {
      for (let endTime = 0.2; ; endTime += 0.05) {
        const { crowbar } = leapRun({ ...line, endTime }, { leaps: true });
        if ((crowbar?.firings.length ?? 0) < firings) continue;
        expect(crowbar?.firings).toHaveLength(firings);
        return crowbar?.cycling?.longRun?.fuses[0]?.peakMeltTime ?? Number.POSITIVE_INFINITY;
      }
    };
    expect(foretold(3)).toBeLessThan(1.05 * melts);
    expect(Math.abs(Math.log(foretold(4) / melts))).toBeLessThan(0.25);
  },
);

test("where two supplies restart between each other, nothing is foretold from rounds that are none", () => {
  const other = [
    "  - name: other supply",
    "    part: switch-mode supply 30 A, hiccup",
    "    limit: {off time: 60 ms}",
    "    fault: none",
    "    diode: {forward voltage: 0.5 V, resistance: 2 mohm}",
    "    lead: {length: 1.5 m, area: 6 mm2, fuse holders: 1}",
  ];
  const kept = "{part: SCR 55 A, variant: gate kept on until reset, trip voltage: 15.0 V, sense filter: fast}";
  const line = { fuse: "blade fuse 10 A", offTime: "60 ms", crowbar: kept, load: ["    current: 2 A"] };
  const after = (sources: readonly string[], endTime: number) =>
    leapRun({ ...line, sources, endTime }, { leaps: true }).fuses.find(({ subject }) => subject.part === "main fuse");
  // It comes to rest at 74 % of melting.
  for (const endTime of [0.5, 0.56, 0.63]) expect(after(other, endTime)?.meltsAfter).toBeNull();
  expect(after(other, 20)).toMatchObject({ state: "intact", peakTheta: expect.closeTo(0.74, 1) });
});

test("where another supply restarts out of step, nothing is foretold of a crowbar's rounds", () => {
  const sources = [
    "  - name: other supply",
    "    part: switch-mode supply 30 A, hiccup",
    "    limit: {off time: 210 ms}",
    "    fault: none",
    "    diode: {forward voltage: 0.5 V, resistance: 2 mohm}",
    "    lead: {length: 1.5 m, area: 6 mm2, fuse holders: 1}",
  ];
  const line = { fuse: "blade fuse 10 A", offTime: "130 ms", load: ["    current: 2 A"] };
  const both = leapRun({ ...line, sources, endTime: 1 }, { leaps: true }).crowbar;
  expect(both?.firings.length).toBeGreaterThan(4);
  expect(both?.cycling).toMatchObject({ period: expect.closeTo(0.147, 3), longRun: null });
  expect(leapRun({ ...line, endTime: 1 }, { leaps: true }).crowbar?.cycling?.longRun).not.toBeNull();
});

test("one that its rounds never melt settles where they foretell", () => {
  const line = { fuse: "blade fuse 10 A", offTime: "95 ms", load: ["    current: 2 A"] };
  const rest = (endTime: number) =>
    leapRun({ ...line, endTime }, { leaps: true }).crowbar?.cycling?.longRun?.fuses[0]?.restPeak ?? Number.NaN;
  const settled = rest(40);
  expect(settled).toBeGreaterThan(0.7);
  expect(Math.abs(rest(1) - settled)).toBeLessThan(0.02);
  expect(Math.abs(rest(5) - settled)).toBeLessThan(0.001);
});

test("a fuse without current cools, whatever it came from", () => {
  const fuse = { resistanceRatio: 2, stages: [{ weight: 1, timeConstant: 10 }] };
  const left = (time: number): number[] => [0.6 * Math.exp(-time / 10)];
  const cycle = { period: 1, before: left(1), last: left(2), peak: { value: left(1)[0]!, offset: 0 } };
  for (const earlier of [null, { before: left(0), i2t: 0 }, { before: left(0), i2t: 50 }])
    expect(repeatFuse(fuse, { ...cycle, i2t: 0, earlier })).toEqual({ restPeak: expect.closeTo(0, 9) });
});

test("a current that falls as the fuse heats up heats it less, one that is held does not", () => {
  // One stage that keeps nine tenths of what it has over a round.
  const fuse = { resistanceRatio: 2, stages: [{ weight: 1, timeConstant: 1 / Math.log(10 / 9) }] };
  const cycleOf = (heat: (theta: number) => number) => {
    const [a, b] = [0.1, 0.9 * 0.1 + heat(0.1)];
    const last = 0.9 * b + heat(b);
    const peak = { value: last, offset: 1 };
    return {
      period: 1,
      before: [b],
      last: [last],
      peak,
      i2t: heat(b) / (1 + b),
      earlier: { before: [a], i2t: heat(a) / (1 + a) },
    };
  };
  const held = repeatFuse(
    fuse,
    cycleOf((theta) => 0.045 * (1 + theta)),
  );
  // 0.9θ + 0.045·(1 + θ) = θ.
  expect(held).toEqual({ restPeak: expect.closeTo(0.045 / 0.055, 6) });
  const falling = repeatFuse(
    fuse,
    cycleOf(() => 0.06),
  );
  // I²t goes with 1/(1 + θ), so that the heat stays.
  expect(falling).toEqual({ restPeak: expect.closeTo(0.6, 6) });
});
