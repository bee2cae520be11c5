import {
  type Answered,
  parseScenario,
  type Refused,
  readTripSettings,
  resistorGrades,
  runScenario,
  TripMemory,
  type TripWishes,
  tripStudy,
} from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { readTripLine } from "../../../packages/sim/src/study/trip/line.ts";
import {
  type FaultMeasured,
  measureFault,
  measureKeying,
  measurePlugs,
} from "../../../packages/sim/src/study/trip/measure.ts";
import { resistorGrade } from "../../../packages/sim/src/study/trip/resistors.ts";
import { thresholdDevice } from "../../../packages/sim/src/study/trip/thresholds.ts";

const lead = "lead: {length: 1 m, area: 4 mm2}";
const dummy = (name: string) =>
  `  - {name: ${name}, kind: resistive, resistance: 4 ohm, input capacitance: 1 uF, esr: 10 mohm, limits: {minimum: 0 V, maximum: 16 V}, ${lead}}\n`;
const LINE = `title: dummy loads
fault at: 1 ms
run for: 20 ms
sources:
  - {name: supply, part: linear supply 20 A, set voltage: 13.8 V, fault: {kind: shorted pass transistor}, ${lead}}
main fuse: none
crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}
loads:
${dummy("near")}${dummy("far").replace("1 m,", "10 m,")}`;

const { settings } = readTripSettings();
const parsed = parseScenario(LINE, "line.yaml");
if (parsed.scenario === null || settings === null) throw new Error("refused");
const line = readTripLine(parsed, parsed.scenario, settings);
if (Array.isArray(line)) throw new Error("refused");
const found = runScenario(LINE, "line.yaml");
if (found.kind === "refused") throw new Error("refused");
const answer: Answered = found;
const measures = [
  (result: Answered | Refused) => measureFault(result, line, 0),
  (result: Answered | Refused) => measureKeying(result, line),
  (result: Answered | Refused) => measurePlugs(result, line),
];

describe("a run that tells nothing", () => {
  test("because it was refused: the first error, no warning", () => {
    const refused = runScenario("title: [", "line.yaml");
    if (refused.kind !== "refused") throw new Error("answered");
    const [first] = refused.issues;
    const issues = [{ ...first, severity: "warning", code: "odd", message: "By the way." } as const, first];
    for (const measure of measures)
      expect(measure({ ...refused, issues })).toEqual({
        kind: "none",
        why: first.message,
        code: first.code,
        hint: first.hint,
      });
  });

  test("because it broke off", () => {
    const failure = { reason: "the steps became too short" };
    const run = { ...answer.run, outcome: { ...answer.run.outcome, failure } } as unknown as Answered["run"];
    for (const measure of measures)
      expect(measure({ ...answer, run })).toMatchObject({ kind: "none", why: "the steps became too short" });
  });
});

test("of a fault the load counts that came nearest to its own limit, wherever it stands", () => {
  const peaks = (near: number, far: number) => {
    const loads = answer.run.loads.map((load, k) => ({ ...load, peak: { ...load.peak, value: [near, far][k] } }));
    return measureFault({ ...answer, run: { ...answer.run, loads } }, line, 0) as FaultMeasured;
  };
  expect(peaks(14, 15)).toMatchObject({ load: "far", peak: 15, limit: 16 });
  expect(peaks(15.5, 15)).toMatchObject({ load: "near", peak: 15.5, limit: 16 });
});

test("without a radio that transmits only the levels at the start are told", () => {
  const measured = measureKeying(answer, line);
  if (measured.kind === "none") throw new Error(measured.why);
  expect(measured.stretches).toEqual({});
  expect([measured.receiveNode, measured.receiveLoad]).toEqual([measured.node, measured.load]);
  // 10 m of lead lose ten times what 1 m does, out and back, and contacts are the same.
  const [near, far] = measured.receiveDrops;
  expect(far).toBeGreaterThan(4 * near);
  expect(measured.load).toBeCloseTo(measured.node - far, 9);
});

test("a study of such a line says what is missing, and how it is told", () => {
  const answered = tripStudy(LINE, "line.yaml", settings, { changes: false });
  if (answered.kind === "refused") throw new Error("refused");
  const { nuisances, drops } = answered.study;
  expect(drops.map(({ state }) => state)).toEqual(["receive"]);
  const missing = nuisances.find(({ name }) => name === "radio starts and stops transmitting");
  expect(missing).toMatchObject({
    node: null,
    volts: null,
    remark: "not simulated: nothing tells what it draws then; give `transmit`",
  });
});

test("what was measured longest ago is forgotten first", () => {
  const memory = new TripMemory();
  const measured = { kind: "none", why: "", code: "", hint: null } as const;
  for (let k = 0; k <= 300; k++) memory.put(String(k), { ...measured, why: String(k) });
  expect(memory.get("0")).toBeNull();
  expect(memory.get("1")).toMatchObject({ why: "1" });
  expect(memory.get("300")).toMatchObject({ why: "300" });
});

describe("names that are none", () => {
  test("of a grade or a device", () => {
    expect(() => resistorGrade("3 %")).toThrow('no grade of resistors is called "3 %"');
    expect(() => thresholdDevice("valve")).toThrow('no threshold device is called "valve"');
    expect(resistorGrades.map((name) => resistorGrade(name).name)).toEqual(resistorGrades);
  });

  test("of settings: with a hint only where one is near", () => {
    const hints = (wishes: object) => readTripSettings(wishes as TripWishes).issues.map(({ hint }) => hint);
    expect(hints({ threshold: "an old valve from the attic" })).toEqual([null]);
    expect(hints({ colour: "red" })).toEqual([null]);
    expect(hints({ resistor: null })).toEqual(["did you mean resistors?"]);
  });
});
