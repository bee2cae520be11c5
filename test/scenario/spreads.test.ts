import { describe, expect, test } from "vitest";
import { changeTexts, checkScenario, parseScenario, runScenario } from "../../packages/sim/src/index.ts";
import { scattered } from "../study/spread/scattered.ts";

/** Its fuse melts on transmit, which is warned of whatever the spreads say. */
function read(...lines: string[]) {
  const found = parseScenario(scattered(lines), "hut.yaml");
  return { ...found, issues: found.issues.filter(({ code }) => code !== "fuse-melts-in-service") };
}

describe("a spread", () => {
  test.each([
    ["crowbar.trip voltage: ±2 %", 14.7, 15.3, "uniform"],
    ["crowbar.trip voltage: +-2 % normal", 14.7, 15.3, "normal"],
    ["crowbar.trip voltage: +/-300 mV corners", 14.7, 15.3, "corners"],
    ["crowbar.trip voltage: 15 V ± 0.3 V", 14.7, 15.3, "uniform"],
    ["crowbar.trip voltage: 15.1 V +- 2 %", 14.8, 15.4, "uniform"],
    ["crowbar.trip voltage: 14.3…15.8 V", 14.3, 15.8, "uniform"],
    ["crowbar.trip voltage: 14.3..15.8 V uniform", 14.3, 15.8, "uniform"],
    ["crowbar.trip voltage: 14300 mV ... 15.8 V", 14.3, 15.8, "uniform"],
    ["crowbar.trip voltage: -20…+80 %", 12, 27, "uniform"],
    ["crowbar.trip voltage: grade shunt reference 1 %", 14.85, 15.15, "uniform"],
    ["sources[0].fault.slew: 2…13.6 V/ms", 2, 13.6, "uniform"],
    ["station supply.output capacitance: ±20 %", 3.76, 5.64, "uniform"],
    ["ambient: -20…50 °C", -20, 50, "uniform"],
    ["ambient: ±10 K", 15, 35, "uniform"],
    ["ambient: 253.15…323.15 K", -20, 50, "uniform"],
    ["crowbar.ratings.surge current: ±10 %", 585, 715, "uniform"],
  ])("%s", (line, low, high, shape) => {
    const { spreads, issues } = read(line);
    expect(issues.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(spreads).toHaveLength(1);
    expect(spreads[0].low).toBeCloseTo(low, 10);
    expect(spreads[0].high).toBeCloseTo(high, 10);
    expect(spreads[0].shape).toBe(shape);
  });

  test.each([
    ["-3 mV/K", -0.003, -0.003, 25],
    ["±50 ppm/K from 20 °C", -15 * 50e-6, 15 * 50e-6, 20],
    ["±0.02 %/K", -0.003, 0.003, 25],
  ])("drifts with %s", (drift, low, high, from) => {
    const { spreads } = read("ambient: -20…50 °C", `crowbar.trip voltage: ±2 % with ${drift}`);
    expect(spreads[1].drift?.low).toBeCloseTo(low, 12);
    expect(spreads[1].drift?.high).toBeCloseTo(high, 12);
    expect(spreads[1].drift?.from).toBe(from);
  });

  test("leaves the scenario, its origins and its run as they are", () => {
    const [plain, spread] = [scattered([]), scattered(["crowbar.trip voltage: ±2 %", "ambient: -20…50 °C"])];
    const [a, b] = [parseScenario(plain, "hut.yaml"), parseScenario(spread, "hut.yaml")];
    expect(b.scenario).toEqual(a.scenario);
    expect(b.origins).toEqual(a.origins);
    expect(b.issues).toEqual(a.issues);
    const [runA, runB] = [plain, spread].map((text) => runScenario(text, "hut.yaml", { record: false }));
    expect(runB.kind === "answered" && runB.verdict).toEqual(runA.kind === "answered" && runA.verdict);
  });

  test("stays where it is when other values change", () => {
    const text = scattered(["crowbar.trip voltage: ±2 %"]);
    const changed = changeTexts(text, [[["crowbar", "trip voltage"], "15.4 V"]]);
    const [spread] = parseScenario(changed, "hut.yaml").spreads;
    expect([spread.nominal, spread.low]).toEqual([15.4, 15.092]);
  });
});

describe("is refused with its place, what was received and what is allowed", () => {
  test.each([
    ["crowbar.trip voltage: 16 … 14 V", "contradictory-spread", "16 … 14 V"],
    ["crowbar.trip voltage: ± -2 %", "contradictory-spread", "± -2 %"],
    ["crowbar.trip voltage: 15.2…15.8 V", "nominal-outside", "15.2…15.8 V"],
    ["ambient: ±20 %", "share-of-temperature", "±20 %"],
    ["crowbar.trip voltage: ±0 %", "no-spread", "±0 %"],
    ["crowbar.trip voltage: about 15 V", "unreadable-spread", "about 15 V"],
    ["crowbar.trip voltage: ±2 A", "wrong-unit", "±2 A"],
    ["crowbar.trip voltage: ±2", "missing-unit", "±2"],
    ["crowbar.trip voltage: ±1e400 V", "not-finite", "±1e400 V"],
    ["crowbar.trip voltage: ±0,3 V", "decimal-comma", "±0,3 V"],
    ["crowbar.trip voltage: 14 V … 5 %", "unreadable-spread", "14 V … 5 %"],
    ["crowbar.trip voltage: grade resistor 3 %", "unknown-word", "grade resistor 3 %"],
    ["crowbar.trip voltage: ±2 % with -3 mV", "unreadable-drift", "±2 % with -3 mV"],
    ["crowbar.trip voltage: ±2 % with -3 mV/K", "key-without-effect", "±2 % with -3 mV/K"],
    ["ambient: -200…40 °C", "out-of-range", "-200…40 °C"],
    ["relay radio.lead.length: ±150 %", "out-of-range", "±150 %"],
    ["crowbar.trip volt: ±2 %", "no-such-value", "crowbar.trip volt"],
    ["crowbar.part: ±2 %", "no-number", "crowbar.part"],
    ["relay radio.lead: ±2 %", "no-such-value", "relay radio.lead"],
    ["title: ±2 %", "no-number", "title"],
    ['"[0]": ±2 %', "unreadable-path", "[0]"],
    ["__proto__.x: ±2 %", "no-such-value", "__proto__.x"],
  ])("%s", (line, code, received) => {
    const { scenario, issues } = read(line);
    const [issue] = issues.filter(({ severity }) => severity === "error");
    expect(scenario).toBeNull();
    expect(issue).toMatchObject({ code, received });
    expect(issue.position?.excerpt).toContain(line);
    expect(`${issue.allowed ?? ""}${issue.hint ?? ""}`).not.toBe("");
  });

  test("all at once", () => {
    const { issues } = read(
      "crowbar.trip voltage: 16 … 14 V",
      "sources[0].set voltage: ±1 %",
      "station supply.set voltage: ±2 %",
      "relay radio.lead.length: ±2 A",
    );
    expect(issues.map(({ code }) => code)).toEqual(["contradictory-spread", "spread-twice", "wrong-unit"]);
  });

  test("where two spreads say the same value twice, and where there are too many", () => {
    const many = Array.from({ length: 41 }, (_, k) => `value ${k}: ±1 %`);
    expect(read(...many).issues).toMatchObject([{ code: "too-many", received: "41 values", allowed: "at most 40" }]);
  });

  test("but what an unknown part class would have given is not missed twice", () => {
    const text = scattered(["station supply.output capacitance: ±20 %"]).replace("30 A, constant", "31 A, constant");
    expect(parseScenario(text, "hut.yaml").issues.map(({ code }) => code)).toEqual(["unknown-part"]);
  });
});

test("is told by check, too", () => {
  expect(checkScenario(scattered(["crowbar.trip voltage: ±2 A"]), "hut.yaml").scenario).toBeNull();
});
