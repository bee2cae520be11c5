import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { scenarioFormat } from "../../packages/sim/scripts/scenario-format.ts";
import { computed, defaults, withstandCurves } from "../../packages/sim/src/scenario/defaults.ts";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { keyOf } from "../../packages/sim/src/scenario/keys.ts";
import { expectedAt } from "../../packages/sim/src/scenario/schema/walk.ts";

// Common practice, no source, but where the tables of part classes and curves name one; written down here once more.
test.each<[string, number]>([
  ["scenario.ambient", 25],
  ["scenario.nodes.supplySide.capacitance", 0.1e-6],
  ["scenario.nodes.supplySide.resistance", 1],
  ["scenario.nodes.protectedSide.capacitance", 1e-6],
  ["scenario.nodes.protectedSide.resistance", 0.2],
  ["scenario.nodes.radioSide.capacitance", 0.1e-6],
  ["scenario.nodes.radioSide.resistance", 1],
  ["supply.sourceResistance", 0.01],
  ["supply.responseTime", 20e-6],
  ["supply.bleederResistance", 1000],
  ["supply.reservoir.dropOutResistance", 0.02],
  ["supply.reservoir.mainsFrequency", 60],
  ["battery.initialCharge", 0.9],
  ["fuse.extinctionCurrent", 0.1],
  ["fuse.extinctionTime", 1e-6],
  ["crowbar.gateDelay", 2e-6],
  ["crowbar.leakResistance", 1e6],
  ["crowbar.inductance", 50e-9],
  ["crowbar.turnOffTime", 60e-6],
  ["crowbar.failTemperature", 250],
  ["clamp.shortResistance", 5e-3],
  ["series switch.senseTimeConstant", 10e-6],
  ["contact.arcVoltage", 15],
  ["load.esr", 0.03],
  ["load.exponent", 1.2],
  ["load.coldTemperature", 300],
  ["load.nominalTemperature", 2800],
  ["lead.thermalTimeConstant", 60],
])("%s is %d", (name, value) => {
  expect(defaults[name].value).toBe(value);
});

test("defaults that follow from other figures", () => {
  expect(computed.arcVoltage(20).value).toBeCloseTo(22, 12);
  expect(computed.arcVoltage(58).value).toBe(35);
  expect(computed.switchArcVoltage("transistor").value).toBe(40);
  expect(computed.switchArcVoltage("relay").value).toBe(15);
  expect(computed.switchExtinctionTime("transistor").value).toBe(1e-6);
  expect(computed.switchExtinctionTime("relay").value).toBe(10e-6);
  expect(computed.panelKneeVoltage(21.6).value).toBeCloseTo(1.35, 12);
  expect(computed.loadKneeVoltage(13.8).value).toBeCloseTo(8.28, 12);
  expect(computed.batteryEmf(13.8).value).toBe(13.8);
  expect(computed.batteryEmf(null).value).toBe(12.8);
});

test("each default belongs to a key of the schema and says where it comes from", () => {
  const homes: Record<string, readonly (string | number)[]> = {
    scenario: [],
    supply: ["sources", 0],
    battery: ["sources", 0],
    lead: ["loads", 0, "lead"],
    contact: ["loads", 0, "lead", "contact"],
    fuse: ["main fuse"],
    crowbar: ["crowbar"],
    clamp: ["clamp"],
    "series switch": ["series switch"],
    load: ["loads", 0],
  };
  for (const [name, cited] of Object.entries(defaults)) {
    const [table, ...fields] = name.split(".");
    expect(expectedAt([...homes[table], ...fields.map(keyOf)]).text, name).not.toBe("");
    expect(cited.source, name).not.toBe("");
  }
});

test("withstand curves rise in voltage and fall in time", () => {
  for (const { value } of Object.values(withstandCurves)) {
    for (let index = 1; index < value.length; index += 1) {
      expect(value[index].voltage).toBeGreaterThan(value[index - 1].voltage);
      expect(value[index].time).toBeLessThan(value[index - 1].time);
    }
  }
});

test("without a supply the battery starts at 12.8 V; with a table its charge follows", () => {
  const line = (source: string): ReturnType<typeof parseScenario> =>
    parseScenario(
      `fault at: 1 ms\nrun for: 1 s\nsources:\n  - {name: b, ${source}, lead: {length: 1 m, area: 16 mm2}}\nloads:\n  - {name: r, part: 100 W radio, lead: {length: 1 m, area: 6 mm2}}\n`,
      "b.yaml",
    );
  expect(line("part: AGM battery 100 Ah").scenario?.sources[0]).toMatchObject({ emf: 12.8, initialCharge: 0.9 });
  const table = "emf table: [{charge: 0 %, emf: 12 V}, {charge: 100 %, emf: 13 V}]";
  expect(line(`part: AGM battery 100 Ah, emf: 12.4 V, ${table}`).scenario?.sources[0]).toMatchObject({
    initialCharge: expect.closeTo(0.4, 12),
  });
  expect(line(`part: AGM battery 100 Ah, initial charge: 25 %, ${table}`).scenario?.sources[0]).toMatchObject({
    emf: 12.25,
  });
  const both = line(`part: AGM battery 100 Ah, emf: 12.4 V, initial charge: 25 %, ${table}`);
  expect(both.issues.map(({ code }) => code)).toContain("contradiction");
});

test("the reference in the documentation is what the schema and the defaults say", () => {
  const written = readFileSync(join(import.meta.dirname, "../../packages/sim/docs/scenario-format.md"), "utf8");
  expect(written, "run: npx tsx packages/sim/scripts/scenario-format.ts").toBe(scenarioFormat());
});

test("the reference tells each default at its key, in the chapter where it belongs", () => {
  const chapters: Record<string, string> = {
    scenario: "The whole file",
    supply: "Sources",
    battery: "Sources",
    lead: "Leads",
    contact: "Leads",
    fuse: "Fuses",
    crowbar: "Crowbar",
    clamp: "Clamp",
    "series switch": "Series switch",
    load: "Loads",
  };
  const sections = scenarioFormat().split("\n## ");
  for (const [name, { mark, source }] of Object.entries(defaults)) {
    const [table, ...fields] = name.split(".");
    const key = [...(table === "contact" ? [table] : []), ...fields.map(keyOf)].join(": ");
    const section = sections.find((each) => each.startsWith(`${chapters[table]}\n`));
    const row = section?.split("\n").find((line) => line.startsWith(`| \`${key}\` |`));
    expect(row, name).toContain(`(${mark}: ${source})`);
  }
});
