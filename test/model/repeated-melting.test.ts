import { expect, test } from "vitest";
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

test("one that its rounds never melt settles where they foretell", () => {
  const line = { fuse: "blade fuse 10 A", offTime: "95 ms", load: ["    current: 2 A"] };
  const rest = (endTime: number) =>
    leapRun({ ...line, endTime }, { leaps: true }).crowbar?.cycling?.longRun?.fuses[0]?.restPeak ?? Number.NaN;
  const settled = rest(40);
  expect(settled).toBeGreaterThan(0.7);
  expect(Math.abs(rest(1) - settled)).toBeLessThan(0.02);
  expect(Math.abs(rest(5) - settled)).toBeLessThan(0.001);
});
