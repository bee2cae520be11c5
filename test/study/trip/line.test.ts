import { parseScenario, readTripSettings, type TripWishes, usualTripValues } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { normalRows } from "../../../packages/sim/src/study/trip/edges.ts";
import { readTripLine, type TripLine } from "../../../packages/sim/src/study/trip/line.ts";
import { faultText, keyingText, plugText, plugTimes } from "../../../packages/sim/src/study/trip/texts.ts";
import { shippedText } from "./lines.ts";

const lead = "lead: {length: 1 m, area: 4 mm2}";
const SUPPLY = `  - {name: supply, part: linear supply 20 A, set voltage: 13.8 V, fault: {kind: shorted pass transistor}, ${lead}}\n`;
const BATTERY = `  - {name: battery, part: "AGM battery 100 Ah", ${lead}}\n`;
const RADIO = `  - {name: radio, part: 100 W radio, ${lead}}\n`;
const CROWBAR = "crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}\n";

interface Written {
  readonly sources?: string;
  readonly protector?: string;
  readonly loads?: string;
}

const text = ({ sources = SUPPLY, protector = CROWBAR, loads = RADIO }: Written): string =>
  `title: line\nfault at: 1 ms\nrun for: 20 ms\nsources:\n${sources}main fuse: blade fuse 20 A\n${protector}loads:\n${loads}`;

function settingsOf(wishes: TripWishes) {
  const { settings, issues } = readTripSettings(wishes);
  if (settings === null) throw new Error(issues.map(({ message }) => message).join(" "));
  return settings;
}

function read(written: Written, wishes: TripWishes = {}) {
  const parsed = parseScenario(text(written), "line.yaml");
  if (parsed.scenario === null)
    throw new Error(parsed.issues.map(({ message, path }) => `${path}: ${message}`).join("\n"));
  return readTripLine(parsed, parsed.scenario, settingsOf(wishes));
}

function line(...asked: Parameters<typeof read>): TripLine {
  const found = read(...asked);
  if (Array.isArray(found)) throw new Error(found.map(({ message }) => message).join(" "));
  return found;
}

describe("what a load draws in its two states", () => {
  const own = (kind: string, more = "") =>
    `  - {name: own, kind: ${kind}, input capacitance: 1 uF, esr: 10 mohm, limits: {minimum: 10 V, maximum: 16 V}, ${lead}${more}}\n`;
  const schedule = (key: string, value: string) => `, schedule: [{time: 5 ms, ${key}: ${value}}]`;

  test.each<[string, string, TripWishes, object]>([
    ["a class that has a transmitting twin", RADIO, {}, { key: "current", receive: "1.5 A", transmit: "21 A" }],
    [
      "that twin, which knows the quiet one",
      RADIO.replace("100 W radio", '"100 W radio, transmitting"'),
      {},
      { receive: "1.5 A", transmit: "21 A" },
    ],
    [
      "no class: one state only",
      own("constant current, current: 2 A"),
      {},
      { key: "current", receive: "2 A", transmit: null },
    ],
    [
      "a schedule tells the other state",
      own("constant power, power: 20 W", schedule("power", "150 W")),
      {},
      { key: "power", receive: "20 W", transmit: "150 W" },
    ],
    [
      "the most current is the least resistance",
      own("resistive, resistance: 10 ohm", schedule("resistance", "2 ohm")),
      {},
      { key: "resistance", receive: "10 ohm", transmit: "2 ohm" },
    ],
    ["told in amperes, of a current", RADIO, { transmit: "12 A" }, { transmit: "12 A" }],
    // At 13.8 V.
    ["told in amperes, of a power", own("constant power, power: 20 W"), { transmit: "10 A" }, { transmit: "138 W" }],
    [
      "told in amperes, of a resistance",
      own("resistive, resistance: 10 ohm"),
      { transmit: "6.9 A" },
      { transmit: "2 ohm" },
    ],
    [
      "a lamp draws what its filament lets through",
      `  - {name: lamp, part: incandescent lamp 12 V 21 W, ${lead}, limits: {maximum: 16 V}}\n`,
      { transmit: "5 A" },
      { key: null, transmit: null },
    ],
  ])("%s", (_, loads, wishes, state) => {
    expect(line({ loads }, wishes).loads[0]).toMatchObject(state);
  });

  test("what is told speaks of the first load alone", () => {
    const loads = RADIO + RADIO.replace("name: radio", "name: second");
    expect(line({ loads }, { transmit: "12 A" }).loads.map(({ transmit }) => transmit)).toEqual(["12 A", "21 A"]);
  });
});

describe("what holds as long as nobody says otherwise", () => {
  const usual = (written: Written) => usualTripValues(parseScenario(text(written), "line.yaml"));

  test("a supply alone has its set voltage, the highest of several", () => {
    expect(usual({})).toEqual({ setVoltage: 13.8, chargeVoltage: null, compensation: null });
    const two = SUPPLY + SUPPLY.replace("name: supply", "name: second").replace("13.8 V", "13.5 V");
    expect(usual({ sources: two }).setVoltage).toBe(13.8);
  });

  test("a charger at a lead-acid battery: 14.4 V and −20 mV/K; at LiFePO4: 14.6 V and no compensation", () => {
    const shipped = shippedText("08-charger-creep");
    expect(usualTripValues(parseScenario(shipped, "08.yaml"))).toMatchObject({
      chargeVoltage: 14.4,
      compensation: 0.02,
    });
    const lithium = shipped.replace("AGM battery 100 Ah, overcharge", "LiFePO4 battery 100 Ah");
    expect(lithium).not.toBe(shipped);
    expect(usualTripValues(parseScenario(lithium, "08.yaml"))).toMatchObject({
      chargeVoltage: 14.6,
      compensation: null,
    });
  });

  test("a battery alone has nothing that charges it; beside a panel, also one without a part class, it has", () => {
    expect(usual({ sources: BATTERY })).toEqual({ setVoltage: null, chargeVoltage: null, compensation: null });
    const panel =
      "  - {name: panel, kind: panel, short circuit current: 6 A, open circuit voltage: 21.6 V, knee voltage: 1.35 V, output capacitance: 470 uF, esr: 100 mohm, lead: {length: 5 m, area: 4 mm2}}\n";
    expect(usual({ sources: BATTERY + panel })).toEqual({
      setVoltage: null,
      chargeVoltage: 14.4,
      compensation: 0.02,
    });
  });

  test("of a text with errors, and of a line without a protector, nothing", () => {
    const nothing = { setVoltage: null, chargeVoltage: null, compensation: null };
    expect(usualTripValues(parseScenario("title: [", "line.yaml"))).toEqual(nothing);
    expect(usual({ protector: "crowbar: none\n" })).toEqual(nothing);
  });
});

describe("the highest voltage of normal service", () => {
  const rows = (written: Written, wishes: TripWishes) =>
    normalRows(line(written, wishes), settingsOf(wishes)).map(({ name, value }) => [name, Number(value.toFixed(6))]);

  test("a battery that nothing charges rests at its EMF, and nobody sets it", () => {
    expect(rows({ sources: BATTERY }, {}).map(([name]) => name)).toEqual(["battery at rest"]);
  });

  test("a battery that is charged from elsewhere, to what is told", () => {
    expect(rows({ sources: BATTERY }, { chargeVoltage: "14.4 V", compensation: "0 V" })).toEqual([
      ["charge voltage", 14.4],
      ["accuracy of the setting", 0.144],
    ]);
  });

  test("a maximum that is told leaves only the difference, and no row where there is none", () => {
    expect(rows({}, { supplyMaximum: "14 V" })).toEqual([
      ["set voltage of supply", 13.8],
      ["normal maximum of the supply", 0.2],
    ]);
    expect(rows({}, { supplyMaximum: "13.8 V" })).toEqual([["set voltage of supply", 13.8]]);
  });
});

describe("the protector that is asked about", () => {
  const SWITCH = "series switch: {part: relay 30 A, off voltage: 15 V, sense filter: fast, sense: SIDE}\n";

  test.each([
    ["supply side", "supply_side_V"],
    ["protected side", "protected_side_V"],
  ])("a switch that senses at its %s", (side, node) => {
    const { protector } = line({ protector: SWITCH.replace("SIDE", side) });
    expect(protector).toMatchObject({ kind: "series switch", tripPath: ["series switch", "off voltage"], node });
  });

  test("a panel alone has no voltage of normal service but the one that is told", () => {
    const sources = `  - {name: panel, part: solar panel 100 W, ${lead}}\n`;
    expect(read({ sources })).toMatchObject([{ code: "no-normal-voltage", path: "supply-maximum" }]);
    expect(line({ sources }, { supplyMaximum: "14 V" })).toMatchObject({ setVoltage: null, charge: null });
  });

  test("a line of a battery alone is asked for nothing but a ramp", () => {
    expect(read({ sources: BATTERY }, { ramp: "1 V/ms" })).toMatchObject([{ code: "no-supply", received: "1 V/ms" }]);
    expect(Array.isArray(read({ sources: BATTERY }))).toBe(false);
  });
});

describe("the files that are run", () => {
  const scenarioOf = (written: string) => {
    const { scenario, issues } = parseScenario(written, "run.yaml");
    if (scenario === null) throw new Error(issues.map(({ message, path }) => `${path}: ${message}`).join("\n"));
    return scenario;
  };
  const two = `${SUPPLY}${SUPPLY.replace("name: supply", "name: second")
    .replace("13.8 V", "13.5 V")
    .replace(/fault: \{[^}]*\}/, "fault: none")}`;

  test("several supplies keep their distance, and nothing is broken, while radios key", () => {
    const scenario = scenarioOf(keyingText(text({ sources: two }), line({ sources: two }), 14.4, null));
    const sources = scenario.sources.map((source) =>
      source.kind === "supply" ? [source.setVoltage, source.fault.kind] : [],
    );
    expect(sources.map(([set]) => Number(set))).toEqual([14.4, expect.closeTo(14.1, 9)]);
    expect(sources.map(([, fault]) => fault)).toEqual(["none", "none"]);
    expect(scenario.loads[0].schedule).toMatchObject([{ value: 1.5 }, { value: 21 }]);
  });

  test("a schedule of the file gives way: its radio receives until the plug, one after the other", () => {
    const loads = `${RADIO.replace("}}", "}, schedule: [{time: 5 ms, current: 21 A}]}")}${RADIO.replace("name: radio", "name: second")}`;
    const found = line({ loads });
    const scenario = scenarioOf(plugText(text({ loads }), found, 14, null));
    expect(scenario.loads.map(({ schedule }) => schedule.length)).toEqual([0, 0]);
    const [first, second] = plugTimes(found);
    expect(second).toBeGreaterThan(first);
    expect(scenario.loads.map(({ lead: { contact } }) => contact?.operations.map(({ time }) => time))).toEqual([
      [first],
      [second],
    ]);
    expect(scenario.endTime).toBeGreaterThan(second);
  });

  test("a source that goes off in the file stays on, a battery loses its table, and a lamp stays what it is", () => {
    const off =
      "contact: {resistance: 1 mohm, arc voltage: 15 V, extinction current: 0.1 A, initially: closed, operations: [{time: 5 ms, action: open}]}";
    const table = "emf table: [{charge: 0 %, emf: 11.7 V}, {charge: 100 %, emf: 12.9 V}]";
    const battery = `  - {name: battery, kind: battery, internal resistance: 5 mohm, capacity: 100 Ah, initial charge: 90 %, ${table}, lead: {length: 1 m, area: 4 mm2, ${off}}}\n`;
    const written = {
      sources: SUPPLY + battery,
      loads: `  - {name: lamp, part: incandescent lamp 12 V 21 W, ${lead}, limits: {maximum: 16 V}}\n`,
    };
    const scenario = scenarioOf(keyingText(text(written), line(written), 14, null));
    expect(scenario.sources[1]).toMatchObject({ emf: 14, emfTable: null, lead: { contact: null } });
    // Of the table the slope is left: 1.2 V from empty to full.
    expect(scenario.sources[1]).toMatchObject({ emfPerCharge: expect.closeTo(1.2, 9) });
    expect(scenario.loads[0]).toEqual(scenarioOf(text(written)).loads[0]);
  });

  test("another protector on the line keeps out of it", () => {
    const protector = `${CROWBAR}series switch: {part: relay 30 A, off voltage: 15.5 V, sense filter: fast}\n`;
    const scenario = scenarioOf(keyingText(text({ protector }), line({ protector }), 14, 15));
    expect(scenario.seriesSwitch?.offVoltage).toBeGreaterThan(100);
    expect(scenario.crowbar?.tripVoltage).toBe(15);
  });

  test("a switch that recloses does so below the trip point that is tried", () => {
    const protector =
      "series switch: {part: relay 30 A, off voltage: 15 V, sense filter: fast, reclose: {on voltage: 14.5 V, retry time: 1 s}}\n";
    const at = (trip: number) =>
      scenarioOf(faultText(text({ protector }), line({ protector }), trip, { ramp: null, delay: 0 })).seriesSwitch
        ?.reclose?.onVoltage;
    expect(at(14.2)).toBeCloseTo(14.1, 9);
    expect(at(15)).toBe(14.5);
  });

  test("the threshold device's delay comes on top of the protector's own", () => {
    const own = scenarioOf(text({})).crowbar?.gateDelay ?? Number.NaN;
    const scenario = scenarioOf(faultText(text({}), line({}), 15, { ramp: null, delay: 3e-6 }));
    expect(scenario.crowbar?.gateDelay).toBeCloseTo(own + 3e-6, 12);
  });

  test("a ramp rises from the set voltage to a ceiling well above every limit, and a creeping one lasts until it has arrived", () => {
    const about = { ramp: 20, delay: 0, creeps: true };
    const scenario = scenarioOf(faultText(text({}), line({}), 15, about));
    const [source] = scenario.sources;
    expect(source.kind === "supply" && source.fault).toMatchObject({
      kind: "lost feedback",
      ceilingVoltage: expect.closeTo(1.6 * 13.8, 9),
    });
    // From 13.8 V past the radio's limit of 15.87 V by a volt, at 20 V/s.
    expect(scenario.endTime).toBeCloseTo(1e-3 + (15.87 + 1 - 13.8) / 20, 6);
  });
});
