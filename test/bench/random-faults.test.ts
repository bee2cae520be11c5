import { describe, expect, test } from "vitest";
import { randomFault, readRanges, scenarioOfFault } from "../../packages/sim/bench/faults/random-fault.ts";
import { tally, together } from "../../packages/sim/bench/faults/tally.ts";
import { parseScenario } from "../../packages/sim/src/index.ts";
import type { Scenario } from "../../packages/sim/src/scenario/types.ts";

const ranges = readRanges();
const seeds = (count: number) => Array.from({ length: count }, (_, k) => k);

describe("random faults", () => {
  const some = seeds(400).map((seed) => scenarioOfFault(ranges, seed));
  const seen = (pick: (scenario: Scenario) => readonly (string | undefined)[]) => new Set(some.flatMap(pick));

  test("none is refused, and they cover every limit, fault and load, and every protector with and without", () => {
    const sources = some.flatMap((scenario) => scenario.sources);
    expect(new Set(sources.map(({ kind }) => kind))).toEqual(new Set(["supply", "battery", "panel"]));
    const limits = sources.flatMap((source) => (source.kind === "supply" ? [source.limit.style] : []));
    expect(new Set(limits)).toEqual(new Set(["none", "constant current", "foldback", "hiccup", "latch off"]));
    const faults = sources.flatMap((source) => (source.kind === "battery" ? [] : [source.fault.kind]));
    expect(new Set(faults)).toEqual(
      new Set(["none", "voltage turned up", "lost feedback", "shorted pass transistor", "shorted controller"]),
    );
    expect(seen(({ loads }) => loads.map(({ kind }) => kind))).toEqual(
      new Set(["resistive", "constant current", "constant power", "lamp"]),
    );
    expect(seen(({ crowbar }) => [crowbar?.variant])).toEqual(new Set(["plain", "held", undefined]));
    for (const part of ["mainFuse", "clamp", "seriesSwitch"] as const)
      expect(new Set(some.map((scenario) => scenario[part] === null)), part).toEqual(new Set([true, false]));
  });

  test("each limit meets each fault of a supply", () => {
    const pairs = some.flatMap(({ sources: [first] }) =>
      first?.kind === "supply" ? [`${first.limit.style}, ${first.fault.kind}`] : [],
    );
    expect(new Set(pairs).size).toBe(20);
  });

  test("all lie within one and one and a half seconds", () => {
    for (const { endTime, faultTime } of some) {
      expect(endTime).toBeGreaterThanOrEqual(1);
      expect(endTime).toBeLessThanOrEqual(1.5);
      expect(faultTime).toBeLessThan(0.11);
    }
    expect(seen(({ endTime }) => [String(endTime)]).size).toBeGreaterThan(390);
  });

  test("a seed gives the same fault for ever, and a page reads the same line", () => {
    expect(randomFault(ranges, 7)).toEqual(randomFault(ranges, 7));
    expect(randomFault(ranges, 7)).not.toEqual(randomFault(ranges, 8));
    const { scenario } = parseScenario(JSON.stringify(randomFault(ranges, 7)), "fault 7");
    expect(scenario).toEqual(scenarioOfFault(ranges, 7));
  });

  test("at least three in ten fire the protector, none fails, and the work is bounded", () => {
    const found = tally(seeds(60), false);
    expect(found.faults).toBe(60);
    expect(found.failed).toEqual([]);
    expect(found.fired / found.faults).toBeGreaterThanOrEqual(0.3);
    expect(found.steps / found.faults).toBeLessThan(300);
    expect(found.events).toBeGreaterThan(2 * found.faults);
    // Two halves are the whole, whoever runs them.
    const halves = together([tally(seeds(60).slice(0, 30), false), tally(seeds(60).slice(30), false)]);
    expect({ ...halves, runMs: 0, readMs: 0 }).toEqual({ ...found, runMs: 0, readMs: 0 });
  }, 60_000);
});
