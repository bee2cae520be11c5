import { describe, expect, test } from "vitest";
import { type Answered, runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import type { Judged } from "../../packages/sim/src/verdict/types.ts";

interface Options {
  readonly runFor: string;
  readonly fault?: string;
  readonly line?: readonly string[];
  readonly start?: readonly string[];
  readonly supply?: readonly string[];
  readonly until?: number;
}

/** A linear supply whose set voltage creeps up, and a radio. */
function answered({ runFor, fault = RISES, line = [], start = [], supply = [], ...rest }: Options): Answered {
  const text = [
    "title: creeping up",
    "fault at: 20 ms",
    `run for: ${runFor}`,
    ...start,
    "sources:",
    "  - name: station supply",
    "    part: linear supply 20 A",
    `    fault: ${fault}`,
    "    lead: {length: 1.5 m, area: 4 mm2, contacts: 4, fuse holders: 1}",
    ...supply,
    "main fuse: blade fuse 20 A",
    ...line,
    "loads:",
    "  - name: relay radio",
    "    part: 100 W radio",
    "    limits: {withstand: parts rated 16 V}",
    "    lead: {length: 1 m, gauge: 12 AWG, spacing: 3.5 mm}",
    "",
  ].join("\n");
  const result = runScenario(text, "creeping.yaml", { record: false, ...rest });
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
  return result;
}

const RISES = "{kind: lost feedback, ceiling voltage: 20 V, slew: 1 V/s}";
const CROWBAR = "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}";

function pending(options: Options): readonly string[] {
  const { verdict } = answered(options);
  expect(verdict.kind).toBe("verdict");
  return (verdict as Judged).pending.map(({ sentence }) => sentence);
}

/** Seconds after the fault that a sentence names at its end. */
const named = (sentence: string): number => Number(/about ([\d.]+) s after the fault\.$/.exec(sentence)?.[1]);

describe("a run that ends while a set voltage still rises", () => {
  test("says where it goes on to, and when a load passes its maximum: a longer run does so then", () => {
    const [only, ...more] = pending({ runFor: "0.6 s" });
    expect(more).toEqual([]);
    expect(only).toContain("goes on to 20 V at 1 V/s. Estimate: the relay radio passes its maximum of 15.9 V");
    const long = answered({ runFor: "4 s" });
    const above = long.run.loads[0].aboveMaximum.total;
    expect(Math.abs(named(only) - (4 - 0.02 - above))).toBeLessThan(0.06);
    expect((long.verdict as Judged).safe).toBe(false);
  });

  test("says when a protector trips, which keeps the load from its maximum: a longer run does so then", () => {
    const [only] = pending({ runFor: "0.6 s", line: [CROWBAR] });
    expect(only).toContain("Estimate: the crowbar reaches its trip point of 15 V");
    expect(only).not.toContain("maximum");
    const [fires] = answered({ runFor: "2 s", line: [CROWBAR] }).run.crowbar?.firings ?? [];
    expect(Math.abs(named(only) - (fires - 0.02))).toBeLessThan(0.06);
  });

  test("says where no limit lies ahead; nothing once it has arrived, or while an SCR shorts it", () => {
    const low = "{kind: lost feedback, ceiling voltage: 14.5 V, slew: 1 V/s}";
    expect(pending({ runFor: "0.6 s", fault: low })).toEqual([
      expect.stringContaining("Estimate: no protector trips and no load passes its maximum by that."),
    ]);
    expect(pending({ runFor: "3 s", fault: low })).toEqual([]);
    const held = pending({ runFor: "1.6 s", line: [CROWBAR] });
    expect(held.join(" ")).not.toContain("set voltage");
  });

  test("before a supply is switched on says when that comes", () => {
    const start = ["start: dead"];
    const supply = ["    switch on: {time: 2 s, ramp time: 0.5 s}"];
    const fault = "none";
    expect(pending({ runFor: "3 s", until: 1, start, supply, fault })).toEqual([
      "The station supply is not switched on yet when the run ends: that comes 2 s after the start.",
    ]);
    const [ramp] = pending({ runFor: "2.2 s", start, supply, fault });
    expect(ramp).toMatch(/still rising when the run ends: it stands at 5.52 V and goes on to 13.8 V at 27.6 V\/s/);
    expect(pending({ runFor: "3 s", start, supply, fault })).toEqual([]);
  });
});
