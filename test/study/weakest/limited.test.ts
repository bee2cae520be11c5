import { describe, expect, it } from "vitest";
import type { Scenario, Supply } from "../../../packages/sim/src/scenario/types.ts";
import { coordinate } from "../../../packages/sim/src/study/weakest/combination-rules.ts";
import { chargedCapacitors, dumpOf } from "../../../packages/sim/src/study/weakest/dump.ts";
import { lastingCurrent } from "../../../packages/sim/src/study/weakest/fault-current.ts";
import { heldOn } from "../../../packages/sim/src/study/weakest/held-on.ts";
import { surge, surgeTime } from "../../../packages/sim/src/study/weakest/surge-rules.ts";
import { FUSED_BATTERY, scenarioOf, shippedScenario } from "./lines.ts";

const main = { kind: "main" } as const;
const names = { fuse: "fuse", scr: "SCR" };
const station = shippedScenario();
const [supply] = station.sources;
const { crowbar, mainFuse } = station;
if (supply.kind !== "supply" || crowbar === null || mainFuse === null) throw new Error("another line");

/** A supply without anything behind it, whose limiter decides. */
const limited = (limit: Supply["limit"]): Supply => ({
  ...supply,
  reservoir: null,
  sourceResistance: 0.01,
  fault: { kind: "none" },
  limit,
});
const hiccup = limited({ style: "hiccup", current: 25, detectionTime: 0.02, offTime: 1, rampTime: 0.02 });
const latch = limited({ style: "latch off", current: 15, detectionTime: 0.05 });
const lineOf = (...sources: Scenario["sources"]): Scenario => ({ ...station, sources });

describe("what flows into the fired SCR", () => {
  it("of a supply that latches off beside one that hiccups: both until the last of them stops, then pulses", () => {
    for (const line of [lineOf(latch, hiccup), lineOf(hiccup, latch)]) {
      const found = lastingCurrent(line, main);
      expect([found.scr, found.style, found.detectionTime]).toEqual([expect.closeTo(40, 6), "pulses", 0.05]);
      expect(found.pulses?.power).toBeGreaterThan(0);
    }
  });

  it("a raw voltage that ripples drives between the mean of its half-waves and its peak", () => {
    const { reservoir } = supply;
    if (reservoir === null) throw new Error("no reservoir");
    const found = (ripple: object) =>
      lastingCurrent(lineOf({ ...supply, reservoir: { ...reservoir, ...ripple } }), main);
    const smooth = found({});
    expect(smooth.scrAtLeast).toBe(smooth.scr);
    const rippling = found(shippedRipple());
    expect(rippling.scr).toBeCloseTo(smooth.scr, 6);
    // (2/π·V − V_T0)/R beside (V − V_T0)/R of the same way.
    const { thresholdVoltage: v } = crowbar;
    const { rawVoltage } = reservoir;
    expect(rippling.scrAtLeast / rippling.scr).toBeCloseTo(((2 / Math.PI) * rawVoltage - v) / (rawVoltage - v), 6);
  });

  it("without an SCR nothing is discharged, and the line counts as shorted", () => {
    const bare = { ...station, crowbar: null };
    expect(chargedCapacitors(bare, main)).toEqual([]);
    expect(dumpOf(bare, main)).toEqual({ throughFuse: 0, beside: 0 });
    expect(lastingCurrent(bare, main).scr).toBeGreaterThan(lastingCurrent(station, main).scr);
  });
});

function shippedRipple(): object {
  const [source] = shippedScenario("23-ripple-reservoir").sources;
  return source.kind === "supply" && source.reservoir !== null ? { ripple: source.reservoir.ripple } : {};
}

describe("an SCR that pulses keep on", () => {
  const held = (source: Supply, ambient: number) => {
    const scenario = { ...lineOf(source), ambient };
    const lasting = lastingCurrent(scenario, main);
    return { check: heldOn(names, { scenario, crowbar, fuse: mainFuse }, lasting)?.check, pulses: lasting.pulses };
  };

  it("is told for how much of the time", () => {
    const { check, pulses } = held(hiccup, 25);
    const share = `${Number((100 * (pulses?.onShare ?? Number.NaN)).toPrecision(3))} %`;
    expect(check?.sentence).toMatch(
      /^The supply gives 25 A in pulses too short to melt fuse, and with what the capacitors dump the SCR conducts for up to /,
    );
    expect(check?.sentence).toContain(`for up to ${share} of the time: SCR is held on with `);
    expect(check).toMatchObject({ kept: true, mend: null });
  });

  it("where it does not stand them would stand a supply that shuts itself off, not one of less current", () => {
    // Most of the time, and a degree below the limit of its junction: no heat sink would do.
    const often = limited({ style: "hiccup", current: 25, detectionTime: 1, offTime: 0.1, rampTime: 0.02 });
    const { check } = held(often, crowbar.ratings.junctionTemperature - 1);
    expect(check).toMatchObject({ kept: false, mend: { words: "a supply that shuts itself off", changes: [] } });
  });
});

describe("a fuse behind a limiter that stops", () => {
  const at = (detectionTime: number) => {
    const line = lineOf(limited({ style: "latch off", current: 60, detectionTime }));
    const held = { scenario: line, place: main, crowbar, fuse: mainFuse };
    return coordinate(names, held, lastingCurrent(line, main), 24);
  };

  it("melts where that comes too late, and not before", () => {
    expect(at(1e-3)).toMatchObject({ meltsIn: null, letThrough: null });
    const late = at(1000);
    expect(late.meltsIn).toBeGreaterThan(0.01);
    expect(late.meltsIn).toBeLessThan(100);
    expect(late.letThrough?.time).toBe(late.meltsIn);
  });
});

it("an in-line fuse ends it where the other sources give nothing", () => {
  const line = scenarioOf(FUSED_BATTERY);
  const panel = shippedScenario("09-panel-and-battery").sources.find(({ kind }) => kind === "panel");
  const [, battery] = line.sources;
  if (panel?.kind !== "panel" || battery.lead.fuse === null || line.crowbar === null) throw new Error("another line");
  const scenario = { ...line, sources: [{ ...panel, fault: { kind: "none" as const } }, battery] };
  const place = { kind: "source", index: 1 } as const;
  const held = { scenario, place, crowbar: line.crowbar, fuse: battery.lead.fuse };
  const found = coordinate(names, held, lastingCurrent(scenario, place), 14);
  expect(found.meltsIn).not.toBeNull();
  expect(found.heatSink).toBeNull();
  expect(found.checks.map(({ rule }) => rule)).not.toContain("heat sink");
});

it("an arc that the line keeps burning is no arcing of nothing: the SCR cannot stand what never ends", () => {
  const lasting = lastingCurrent(station, main);
  const at = (arcVoltage: number) =>
    surge(names, { scenario: station, place: main, crowbar, fuse: { ...mainFuse, arcVoltage } }, lasting, {
      voltage: 24,
      meltsIn: 5e-3,
    });
  expect(at(24)).toMatchObject({ kept: false, found: Number.POSITIVE_INFINITY, mend: null });
  expect(at(24).sentence).toBe(
    "The arc in fuse takes 24 V, no more than the 24 V that may drive it: it does not go out by itself, and SCR gets what flows until somebody ends it.",
  );
  expect(at(25).found).toBeLessThan(Number.POSITIVE_INFINITY);
  expect(at(25).found).toBeGreaterThan(at(35).found);
});

describe("what no data sheet tells cannot be said to be kept", () => {
  const lasting = lastingCurrent(station, main);

  it("a fuse's melting I²t", () => {
    const fuse = { ...mainFuse, nominalMeltingI2t: null };
    const check = surge(names, { scenario: station, place: main, crowbar, fuse }, lasting, { voltage: 24, meltsIn: 1 });
    expect(check).toMatchObject({
      kept: false,
      allowed: null,
      sentence: "The melting I²t of fuse is not known, so nobody can say whether SCR stands it.",
    });
  });

  it("an SCR's surge rating", () => {
    const unknown = { ...crowbar, ratings: { ...crowbar.ratings, surgeWindows: [] } };
    const check = surgeTime(names, unknown, { ...lasting, scrAtLeast: 76 }, null);
    expect(check).toMatchObject({ kept: false, allowed: null });
    expect(check.sentence).toBe("SCR carries at least 76 A on and on; no surge rating is known.");
  });
});
