import { describe, expect, test } from "vitest";
import { describedPaths, describeValue, FitMemory, parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { parts } from "../../packages/sim/src/scenario/parts/index.ts";
import { shipped } from "../support/changes.ts";
import { describeDescriptions } from "../support/descriptions.ts";

const first = shipped[0].text;

// A share of all values; test/deep/descriptions.test.ts tries every one.
describeDescriptions(6);

describe.each(shipped)("$name", ({ name, text }) => {
  const parsed = parseScenario(text, name);

  test("each origin is a part class that exists and gives it, or a default", () => {
    const origins = new Set<string>();
    for (const path of describedPaths(parsed)) {
      const told = describeValue(parsed, path);
      origins.add(told?.origin ?? "");
      expect(told?.source).not.toBe("");
      if (told?.origin === "part class") expect(parts.map((part) => part.name)).toContain(told.partClass);
      else expect(told?.partClass).toBeNull();
    }
    expect([...origins]).toEqual(expect.arrayContaining(["file", "default"]));
  });
});

describe("one value", () => {
  const parsed = parseScenario(first, "x");

  test("that stands in the file", () => {
    expect(describeValue(parsed, ["crowbar", "trip voltage"])).toEqual({
      path: ["crowbar", "trip voltage"],
      label: "crowbar: trip voltage",
      about: "it fires above this voltage",
      text: "15.0 V",
      value: 15,
      dimension: "voltage",
      origin: "file",
      partClass: null,
      source: "stands in the file",
      mark: "given",
    });
  });

  test("that a part class gives, and that a default gives", () => {
    expect(describeValue(parsed, ["sources", 0, "set voltage"])).toMatchObject({
      label: "station supply: set voltage",
      origin: "part class",
      partClass: "linear supply 20 A",
      value: parsed.scenario?.sources[0].kind === "supply" ? parsed.scenario.sources[0].setVoltage : null,
    });
    expect(describeValue(parsed, ["ambient"])).toMatchObject({
      text: "25 °C",
      value: 25,
      origin: "default",
      partClass: null,
      source: "data sheets speak of 25 °C",
      mark: "common practice",
    });
    expect(describeValue(parsed, ["sources", 0, "lead", "contacts"])).toMatchObject({ value: 4, origin: "file" });
  });

  test("in a short form, by its main key", () => {
    expect(describeValue(parsed, ["main fuse"])).toMatchObject({ text: "blade fuse 20 A", value: "blade fuse 20 A" });
    expect(describeValue(parsed, ["main fuse", "part"])).toMatchObject({ text: "blade fuse 20 A", origin: "file" });
    expect(describeValue(parsed, ["main fuse", "rated current"])).toMatchObject({
      value: 20,
      origin: "part class",
      partClass: "blade fuse 20 A",
    });
    expect(describeValue(parsed, ["crowbar", "sense filter"])).toMatchObject({ value: "fast", dimension: "time" });
    expect(describeValue(parsed, ["sources", 0, "fault", "kind"])).toMatchObject({ value: "shorted pass transistor" });
  });

  test("that is no single value, or that nobody gives, is null", () => {
    for (const path of [
      ["crowbar"],
      ["sources"],
      ["sources", 7],
      ["clamp", "label"],
      ["no such key"],
      [],
      ["constructor"],
      ["sources", 0, "lead", "contact resistance"],
    ])
      expect(describeValue(parsed, path), path.join(".")).toBeNull();
  });

  test("that is wrong is told as it stands, without a number", () => {
    const wrong = parseScenario(first.replace("15.0 V", "15.0 Volt-ish"), "x");
    expect(wrong.scenario).toBeNull();
    expect(describeValue(wrong, ["crowbar", "trip voltage"])).toMatchObject({
      text: "15.0 Volt-ish",
      value: null,
      dimension: "voltage",
    });
    expect(describeValue(parseScenario("{", "x"), ["ambient"])).toBeNull();
    const markup = parseScenario(first.replace("relay radio", "<img src=x onerror=alert(1)>"), "x");
    expect(describeValue(markup, ["loads", 0, "name"])).toMatchObject({ value: "<img src=x onerror=alert(1)>" });
  });
});

test("with a memory of earlier readings the result is the same", () => {
  const memory = new FitMemory();
  for (const { name, text } of shipped) {
    const fresh = parseScenario(text, name);
    expect(parseScenario(text, name, memory)).toEqual(fresh);
    expect(parseScenario(text, name, memory)).toEqual(fresh);
  }
});

test("a memory holds so many fits and no more, and gives the right one", () => {
  const memory = new FitMemory();
  const input = (ratedCurrent: number) => ({
    ratedCurrent,
    nominalMeltingI2t: 520,
    resistanceRatio: 2,
    gates: [{ multiple: 2, minimum: 0.15, maximum: 5 }],
  });
  const one = memory.fuse(input(20));
  expect(memory.fuse(input(20))).toBe(one);
  for (let index = 0; index < 300; index += 1) memory.fuse(input(10 + index / 50));
  const again = memory.fuse(input(20));
  expect(again).not.toBe(one);
  expect(again).toEqual(one);
});
