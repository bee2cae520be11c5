import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { scenarioSchema } from "../../packages/sim/src/scenario/schema/scenario.ts";
import { type Shape, shapesOf } from "../../packages/sim/src/scenario/schema/walk.ts";

const text = readFileSync(join(import.meta.dirname, "valid/everything.yaml"), "utf8");
const result = parseScenario(text, "everything.yaml");
const scenario = result.scenario!;

test("a file with every option is read", () => {
  expect(result.issues.filter(({ severity }) => severity === "error")).toEqual([]);
  expect(scenario).not.toBeNull();
});

test("it really uses every key of the schema", () => {
  const keys = new Set<string>();
  const collect = (shape: Shape): void => {
    if (shape.kind === "list") shape.item.forEach(collect);
    if (shape.kind !== "map") return;
    for (const [key, inner] of shape.keys) {
      keys.add(key);
      inner.forEach(collect);
    }
  };
  shapesOf(scenarioSchema).forEach(collect);
  // Calibration wants these two only where the stages are not given, and the file gives them.
  const elsewhere = ["surge duration", "junction to case"];
  const missing = [...keys].filter(
    (key) => !elsewhere.includes(key) && !new RegExp(`(^|[\\s{,-])${key}:`, "m").test(text),
  );
  expect(missing).toEqual([]);
});

test("sources come out as written", () => {
  const [linear, hiccup, latching, unlimited, charger, battery, straight, panel] = scenario.sources;
  expect(linear).toMatchObject({
    kind: "supply",
    setVoltage: 13.8,
    sourceResistance: 0.01,
    responseTime: 20e-6,
    outputCapacitance: 4700e-6,
    esr: 0.02,
    bleederResistance: 1000,
    limit: { style: "foldback", current: 25, shortCircuitCurrent: 8 },
    reservoir: {
      rawVoltage: 24,
      rawResistance: 0.06,
      capacitance: 0.05,
      dropOutResistance: 0.02,
      ripple: true,
      mainsFrequency: 50,
    },
    shutdown: { voltage: 16, delay: 200e-6, worksOnLostFeedback: false },
    ownCrowbar: { label: "SCR 40 A", tripVoltage: 17, senseTimeConstant: 50e-6, variant: "plain" },
    switchOn: { time: 1e-3, rampTime: 5e-3 },
    fault: { kind: "shorted pass transistor", passResistance: 0.05 },
    diode: { forwardVoltage: 0.5, resistance: 5e-3 },
    lead: {
      fuse: {
        label: "fuse of our own",
        stages: [
          { weight: 0.3, timeConstant: 0.05 },
          { weight: 0.7, timeConstant: 2 },
        ],
        minimumMeltingCurrent: 32,
        arcVoltage: 35,
        start: "cold",
        meltingTemperature: 150,
      },
    },
  });
  expect(hiccup).toMatchObject({
    limit: { style: "hiccup", current: 33, detectionTime: 3e-3, offTime: 0.3, rampTime: 0.02 },
    fault: { kind: "lost feedback", ceilingVoltage: 22, slew: 7000 },
    shutdown: null,
    lead: { resistance: 0.012, inductance: 1e-6, copperArea: 6e-6 },
    // Start dead: supplies without a time of their own come on at once.
    switchOn: { time: 0, rampTime: 10e-3 },
  });
  expect(latching).toMatchObject({
    limit: { style: "latch off", current: 28, detectionTime: 5e-3 },
    fault: { kind: "voltage turned up", endVoltage: 18, slew: 1 / 3600 },
  });
  expect(unlimited).toMatchObject({ reservoir: null, limit: { style: "none" }, fault: { kind: "none" } });
  expect(charger).toMatchObject({
    kind: "supply",
    limit: { style: "constant current", current: 10 },
    fault: { kind: "lost feedback", ceilingVoltage: 17 },
  });
  expect(battery).toMatchObject({
    kind: "battery",
    capacityAh: 100,
    initialCharge: 0.9,
    emfPerCharge: 1.2,
    lead: {
      contact: {
        arcVoltage: 15,
        initially: "closed",
        operations: [
          { time: 20, action: "open" },
          { time: 40, action: "close" },
        ],
      },
    },
  });
  // Between 12.3 V at 50 % and 12.9 V at 100 %.
  expect(battery.kind === "battery" ? battery.emf : 0).toBeCloseTo(12.78, 12);
  expect(straight).toMatchObject({
    emf: 12.8,
    emfTable: null,
    capacityAh: 7,
    lead: { fuse: { meltingTemperature: null } },
  });
  expect(panel).toMatchObject({ kind: "panel", kneeVoltage: 1.35, fault: { kind: "shorted controller" }, diode: null });
});

test("the line's protection comes out as written", () => {
  expect(scenario.crowbar).toMatchObject({
    label: "the crowbar",
    variant: "latched",
    senseTimeConstant: 100e-6,
    stubResistance: 2e-3,
    latchingCurrent: 0.15,
    inductanceAssumed: false,
    junctionStages: [
      { resistance: 0.12, timeConstant: 1e-3 },
      { resistance: 0.68, timeConstant: 0.05 },
    ],
    ratings: {
      i2t: 1060,
      currentRise: 50e6,
      surgeWindows: [
        { duration: 0.01, rms: 325 },
        { duration: 1, rms: 120 },
      ],
    },
  });
  expect(scenario.clamp).toMatchObject({
    label: "the clamp",
    failsShort: true,
    ratings: { energy: 1.5, peakCurrent: 60, temperature: 175 },
  });
  expect(scenario.seriesSwitch).toMatchObject({
    kind: "relay",
    sense: "protected side",
    senseTimeConstant: 10e-6,
    reclose: { onVoltage: 14.5, retryTime: 2 },
    ratings: { current: 40, voltage: 30 },
  });
});

test("loads come out as written", () => {
  const [radio, link, heater, lamp, second] = scenario.loads;
  expect(radio).toMatchObject({
    kind: "constant current",
    current: 1.2,
    kneeVoltage: 8,
    schedule: [
      { time: 2, value: 22 },
      { time: 5, value: 1.2 },
    ],
    limits: {
      withstand: [
        { voltage: 16, time: 1 },
        { voltage: 18.4, time: 0.01 },
      ],
      withstandAssumed: false,
    },
    clamp: { failsShort: false, ratings: { energy: 0.5, peakCurrent: null } },
    dropOut: { voltage: 10.5, sleepCurrent: 0.01, comesBack: "by hand" },
  });
  expect(link).toMatchObject({
    kind: "constant power",
    power: 60,
    schedule: [{ time: 3, value: 20 }],
    clamp: null,
    dropOut: null,
    lead: { fuse: null },
  });
  // ISO 16750-2: 18 V for 60 min, 24 V for 60 s, 35 V for 0.4 s.
  expect(link.limits.withstand).toEqual([
    { voltage: 18, time: 3600 },
    { voltage: 24, time: 60 },
    { voltage: 35, time: 0.4 },
  ]);
  expect(link.limits.withstandAssumed).toBe(false);
  expect(heater).toMatchObject({
    kind: "resistive",
    resistance: 2,
    inputCapacitance: 0,
    schedule: [{ time: 3, value: 4 }],
    limits: { withstand: [] },
  });
  expect(lamp).toMatchObject({ kind: "lamp", nominalPower: 50, heatCapacity: 4e-3, inputCapacitance: 0 });
  expect(second.limits).toMatchObject({ maximum: 1.15 * 13.8, withstandAssumed: true });
  expect(second.limits.withstand).toHaveLength(4);
});
