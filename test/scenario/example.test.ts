import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { gaugeArea, pairInductance, wireResistance } from "../../packages/sim/src/scenario/wire.ts";

const file = join(import.meta.dirname, "valid/example.yaml");
const result = parseScenario(readFileSync(file, "utf8"), "example.yaml");
const scenario = result.scenario!;

test("the example of the documentation is complete", () => {
  expect(result.issues.filter(({ severity }) => severity === "error")).toEqual([]);
  expect(result.about).toEqual({
    title: "Shorted pass transistor, main fuse blows",
    question: "Does the radio survive when the pass transistor shorts, and does the main fuse blow?",
  });
  const docs = readFileSync(join(import.meta.dirname, "../../packages/sim/docs/scenario-format.md"), "utf8");
  expect(docs).toContain(readFileSync(file, "utf8"));
});

test("what the file says is what comes out, in SI", () => {
  expect(scenario).toMatchObject({
    ambient: 20,
    faultTime: 1e-3,
    endTime: 0.5,
    start: "operating",
    clamp: null,
    seriesSwitch: null,
  });
  expect(scenario.sources).toHaveLength(1);
  expect(scenario.sources[0]).toMatchObject({
    kind: "supply",
    name: "bench supply",
    setVoltage: 13.8,
    fault: { kind: "shorted pass transistor", passResistance: 0.05 },
    shutdown: null,
    ownCrowbar: null,
    diode: null,
  });
  expect(scenario.crowbar).toMatchObject({
    label: "SCR 25 A",
    variant: "plain",
    tripVoltage: 15,
    senseTimeConstant: 10e-6,
  });
  expect(scenario.mainFuse).toMatchObject({
    label: "blade fuse 20 A",
    ratedCurrent: 20,
    nominalMeltingI2t: 520,
    coldResistance: expect.closeTo(3.38e-3, 12),
  });
});

test("leads follow from length, area, gauge, spacing and contacts", () => {
  const lead = scenario.sources[0].lead;
  // Six contacts: four of the lead and two of the fuse holder, 1 mohm each.
  expect(lead.resistance).toBeCloseTo(wireResistance({ length: 1.5, area: 4e-6, temperature: 20 }) + 6e-3, 12);
  expect(lead.copperArea).toBe(4e-6);
  const radio = scenario.loads[0].lead;
  const area = gaugeArea(12);
  expect(radio.copperArea).toBe(area);
  expect(radio.inductance).toBeCloseTo(pairInductance({ length: 1, area, spacing: 3.5e-3 }), 15);
  expect(radio).toMatchObject({
    thermalTimeConstant: 60,
    insulation: { continuous: 70, shortCircuit: 160 },
    fuse: null,
    contact: null,
  });
});

test("the fuse's thermal model is fitted and says how well", () => {
  expect(result.fits).toHaveLength(1);
  const [{ path, label, fit }] = result.fits;
  expect({ path, label }).toEqual({ path: "main fuse", label: "blade fuse 20 A" });
  expect(fit.insideGates).toBe(true);
  expect(fit.worstDeviation).toBeLessThan(0.2);
  expect(scenario.mainFuse!.stages).toEqual(fit.stages);
  expect(scenario.mainFuse!.stages.reduce((sum, { weight }) => sum + weight, 0)).toBeCloseTo(1, 12);
});

test("every value that the file does not state has its source and mark", () => {
  const origins = new Map(result.origins.map((origin) => [origin.path, origin]));
  expect(origins.size).toBe(result.origins.length);
  for (const { source, mark, value, label, path } of result.origins) {
    expect(source, path).not.toBe("");
    expect(value, path).not.toMatch(/undefined|unknown|object/);
    expect(label).toContain(":");
    expect(["published", "transcribed", "computed", "common practice", "from memory", "assumed"]).toContain(mark);
  }
  expect(origins.get("crowbar.inductance")).toMatchObject({
    label: "crowbar: inductance",
    value: "50 nH",
    mark: "assumed",
  });
  expect(origins.get("crowbar.threshold voltage")).toMatchObject({
    value: "770 mV",
    mark: "published",
    source: expect.stringContaining("TYN825"),
  });
  expect(origins.get("sources[0].reservoir.raw voltage")?.label).toBe("bench supply: reservoir, raw voltage");
  expect(scenario.crowbar!.inductanceAssumed).toBe(true);
  for (const written of [
    "sources[0].set voltage",
    "sources[0].lead.area",
    "crowbar.trip voltage",
    "loads[0].lead.spacing",
    "ambient",
  ]) {
    expect(origins.has(written), written).toBe(false);
  }
});

test("the scenario is complete and cannot be changed", () => {
  const walk = (value: unknown, path: string): void => {
    expect(value, path).not.toBeUndefined();
    if (typeof value === "number") expect(Number.isFinite(value), path).toBe(true);
    if (typeof value !== "object" || value === null) return;
    expect(Object.isFrozen(value), path).toBe(true);
    for (const [key, inner] of Object.entries(value)) walk(inner, `${path}.${key}`);
  };
  walk(scenario, "scenario");
});
