import { expect, test } from "vitest";
import { simulate } from "../../packages/sim/src/model/run.ts";
import { times, told } from "../support/run.ts";
import { FILES, scenarioOf, show } from "./shipped.ts";

test("a hiccup supply into a plain crowbar: each event exactly as often as its period says", () => {
  const { run, scenario } = show("02-hiccup-supply.yaml");
  const fires = times(run, "fires");
  const restarts = times(run, "restarts");
  expect(fires).toHaveLength(32);
  expect(times(run, "limiter trips")).toHaveLength(32);
  expect(times(run, "stops conducting")).toHaveLength(32);
  expect(restarts).toHaveLength(31);
  expect(run.events).toHaveLength(1 + 32 + 32 + 32 + 31);
  // Off time, ramp to the trip point, detection: nothing else takes time in a round.
  const ramp = fires[1] - restarts[0];
  const round = 0.3 + ramp + 3e-3;
  expect(ramp).toBeGreaterThan((20e-3 * 13.5) / 22);
  expect(ramp).toBeLessThan((20e-3 * 15.5) / 22);
  expect(Math.abs((fires.at(-1) ?? 0) - fires[1] - 30 * round)).toBeLessThan(30 * 30e-6);
  expect(Math.floor((scenario.endTime - fires[1]) / round) + 2).toBe(32);
});

test("a gate kept on makes of these 32 firings one", () => {
  const { run } = show("13-gate-kept-on.yaml");
  expect(times(run, "fires")).toHaveLength(1);
  expect(times(run, "stops conducting")).toHaveLength(0);
  expect(times(run, "limiter trips").length - times(run, "restarts").length).toBeLessThanOrEqual(1);
});

test("crowbar with disconnect: the radio side opens once, at the first firing, and never closes", () => {
  const { run } = show("14-crowbar-with-disconnect.yaml");
  expect(run.seriesSwitch?.starts).toEqual([times(run, "fires")[0]]);
  expect(run.seriesSwitch?.opens).toHaveLength(1);
  expect(run.seriesSwitch?.recloses).toEqual([]);
});

test("a reclosing switch opens once more than it recloses when it ends open", () => {
  const { run } = show("20-battery-terminal-falls-off.yaml");
  expect(run.seriesSwitch?.opens).toHaveLength(6);
  expect(run.seriesSwitch?.recloses).toHaveLength(5);
});

test("behind a rippling reservoir the fuse melts in less than half the time", () => {
  const smooth = show("01-shorted-pass-transistor.yaml").run;
  const ripple = show("23-ripple-reservoir.yaml").run;
  const [slow, quick] = [smooth, ripple].map((run) => times(run, "melts")[0] - run.scenario.faultTime);
  expect(quick).toBeLessThan(0.5 * slow);
});

test("a slower sense filter fires 44 µs later", () => {
  const [fast, slow] = ["01-shorted-pass-transistor.yaml", "25-filter-too-slow.yaml"].map(
    (file) => times(show(file).run, "fires")[0],
  );
  expect(Math.round((slow - fast) * 1e6)).toBe(44);
});

test("what still conducts is switched off before a new fuse goes in", () => {
  const { replace } = show("08-charger-creep.yaml").verdict;
  const off = replace.findIndex((step) => step.startsWith("Switch every source off"));
  const fuse = replace.findIndex((step) => step.startsWith("Replace the in-line fuse"));
  expect(off).toBeGreaterThanOrEqual(0);
  expect(fuse).toBeGreaterThan(off);
});

test("no verdict tells of a fault that no source has, nor of a shortage where there is no lower limit", () => {
  const plug = show("21-drop-out-reset-by-hand.yaml").verdict;
  expect(plug.reasons.map(({ sentence }) => sentence).join(" ")).not.toContain("fault strikes");
  expect(plug.reasons[0].sincePrevious).toBeCloseTo(1, 9);
  expect(show("15-bench-test-with-lamp.yaml").verdict.loads[0].starved).toBeNull();
});

test("all of them together take no more steps than they did, and few in vain", () => {
  const sum = { steps: 0, rejected: 0, worst: 0 };
  for (const file of FILES) {
    const { work, energy } = simulate(scenarioOf(file), { record: false });
    sum.steps += work.steps;
    sum.rejected += work.rejected;
    sum.worst = Math.max(sum.worst, energy.relative);
  }
  expect(sum.steps).toBeLessThan(22_400);
  expect(sum.rejected).toBeLessThan(1700);
  expect(sum.worst).toBeLessThan(7e-8);
});

test.each(FILES)("%s: a hundred times tighter, the same events", (file) => {
  const scenario = scenarioOf(file);
  const usual = simulate(scenario, { record: false });
  const tight = simulate(scenario, { record: false, tolerance: "tight" });
  expect(told(tight)).toEqual(told(usual));
  // The accuracy that every run promises: 0.1 % of the time since the preceding event or 1 µs.
  tight.events.forEach(({ sincePrevious }, k) => {
    const off = Math.abs(usual.events[k].sincePrevious - sincePrevious);
    expect(off).toBeLessThan(Math.max(1e-3 * sincePrevious, 1e-6));
  });
  tight.loads.forEach(({ peak }, k) => {
    const off = Math.abs(usual.loads[k].peak.value - peak.value);
    expect(off).toBeLessThan(Math.max(1e-3 * peak.value, 10e-3));
  });
});
