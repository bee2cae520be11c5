import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import {
  changeText,
  describedPaths,
  describeValue,
  FitMemory,
  parseScenario,
} from "../../packages/sim/src/scenario/index.ts";
import { parts } from "../../packages/sim/src/scenario/parts/index.ts";
import { parseQuantity } from "../../packages/sim/src/units/index.ts";

const folder = join(import.meta.dirname, "../../packages/sim/scenarios");
const shipped = readdirSync(folder)
  .filter((name) => name.endsWith(".yaml"))
  .map((name) => ({ name, text: readFileSync(join(folder, name), "utf8") }));
const first = shipped[0].text;

/** Numbers of two scenarios within the digits that a described value shows; everything else the same. */
function differences(a: unknown, b: unknown, path = ""): string[] {
  if (typeof a === "number" && typeof b === "number")
    return Math.abs(a - b) <= 2e-4 * Math.max(Math.abs(a), Math.abs(b)) || Object.is(a, b)
      ? []
      : [`${path}: ${a} and ${b}`];
  if (typeof a !== "object" || typeof b !== "object" || a === null || b === null) return a === b ? [] : [path];
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].flatMap((key) =>
    differences((a as Record<string, unknown>)[key], (b as Record<string, unknown>)[key], `${path}.${key}`),
  );
}

describe.each(shipped)("$name", ({ name, text }) => {
  const memory = new FitMemory();
  const parsed = parseScenario(text, name, memory);

  test("whatever is described can be written into the file as it is described, and nothing changes", () => {
    const paths = describedPaths(parsed);
    expect(paths.length).toBeGreaterThan(40);
    for (const path of paths) {
      const told = describeValue(parsed, path);
      if (told === null) throw new Error(`nothing is told of ${path.join(".")}`);
      expect(told.value, path.join(".")).not.toBeNull();
      if (told.dimension !== null && typeof told.value === "number")
        expect(parseQuantity(told.text, told.dimension)).toMatchObject({ ok: true, value: told.value });
      // The two limits of an insulation class can only be written together; a floating battery may be fuller than a file may say.
      const overfull = path.includes("initial charge") && Number(told.value) > 1;
      if (told.origin === "file" || path.includes("insulation") || overfull) continue;
      const changed = parseScenario(changeText(text, path, told.text), name, memory);
      expect(
        changed.issues.filter(({ severity }) => severity === "error"),
        path.join("."),
      ).toEqual([]);
      const { inductanceAssumed: _, ...bar } = changed.scenario?.crowbar ?? {};
      const { inductanceAssumed: __, ...old } = parsed.scenario?.crowbar ?? {};
      expect(
        differences({ ...changed.scenario, crowbar: bar }, { ...parsed.scenario, crowbar: old }),
        path.join("."),
      ).toEqual([]);
      const again = describeValue(changed, path);
      expect(again).toMatchObject({ origin: "file", mark: "given", text: told.text, value: told.value });
    }
  });

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
