import { describe, expect, it } from "vitest";
import { changeTexts, FitMemory, parseScenario, type TextChange } from "../../../packages/sim/src/scenario/index.ts";
import {
  factsOfClass,
  fuseAt,
  fuseCandidates,
  fusePlaceOf,
  scrCandidates,
  wireCandidates,
  writtenAt,
} from "../../../packages/sim/src/study/weakest/candidates.ts";
import { FUSED_BATTERY, STATION, shipped } from "./lines.ts";

const memory = new FitMemory();

function line(text: string, ...changes: TextChange[]) {
  const parsed = parseScenario(changeTexts(text, changes), "test.yaml", memory);
  if (parsed.scenario === null)
    throw new Error(parsed.issues.map(({ message, path }) => `${path}: ${message}`).join("; "));
  return { parsed, scenario: parsed.scenario };
}
const station = (...changes: TextChange[]) => line(shipped(STATION), ...changes);

describe("where the fuse stands", () => {
  it.each([
    ["the main fuse", shipped(STATION), { kind: "main" }],
    ["in the lead of the one source that has one", FUSED_BATTERY, { kind: "source", index: 1 }],
    ["nowhere: a new main fuse", FUSED_BATTERY.replace(", fuse: blade fuse 30 A", ""), { kind: "main" }],
  ])("%s", (_, text, place) => {
    const { scenario } = line(text);
    const found = fusePlaceOf(scenario, (index) => index);
    expect(found).toEqual(place);
    expect(fuseAt(scenario, found)?.label ?? null).toBe(/fuse: (blade fuse \d+ A)/.exec(text)?.[1] ?? null);
  });

  it("of several sources in that with the largest fault current", () => {
    const both = FUSED_BATTERY.replace(
      "{length: 1.5 m, area: 4 mm2}",
      "{length: 1.5 m, area: 4 mm2, fuse: blade fuse 20 A}",
    );
    const { scenario } = line(both);
    expect(fusePlaceOf(scenario, (index) => [300, 100][index])).toEqual({ kind: "source", index: 0 });
    expect(fusePlaceOf(scenario, (index) => [100, 300][index])).toEqual({ kind: "source", index: 1 });
  });
});

describe("fuses that take part", () => {
  const fuses = (...changes: TextChange[]) => {
    const { parsed, scenario } = station(...changes);
    return fuseCandidates(parsed, scenario, { kind: "main" });
  };
  const yours = (list: ReturnType<typeof fuses>) => list.filter((each) => each.yours).map(({ name }) => name);

  it("a class of the file is yours, and stands once", () => {
    const list = fuses();
    expect(yours(list)).toEqual(["blade fuse 20 A"]);
    expect(list.filter(({ name }) => name === "blade fuse 20 A")).toHaveLength(1);
    expect(fuses([["main fuse"], "{part: blade fuse 20 A}"]).map(({ name }) => name)).toEqual(
      list.map(({ name }) => name),
    );
  });

  it("a class with own values is another part than the class, by its own name or by the class's", () => {
    const named = fuses([["main fuse"], "{part: blade fuse 20 A, label: my fuse, rated current: 25 A}"]);
    expect(yours(named)).toEqual(["my fuse"]);
    const unnamed = fuses([["main fuse"], "{part: blade fuse 20 A, rated current: 25 A}"]);
    expect(yours(unnamed)).toEqual(["blade fuse 20 A, your values"]);
    expect(unnamed.map(({ name }) => name)).toContain("blade fuse 20 A");
  });

  it("a fuse that is given by its values alone is yours by its own name", () => {
    const values =
      "{label: my fuse, rated current: 30 A, rated voltage: 32 V, cold resistance: 1.97 mohm, resistance ratio: 2, melting I2t: 1300 A2s, breaking capacity: 2 kA, gates: [{multiple: 1.1, minimum: 100 h}, {multiple: 1.35, minimum: 0.75 s, maximum: 600 s}]}";
    expect(yours(fuses([["main fuse"], values]))).toEqual(["my fuse"]);
  });

  it("a line without a fuse has none of its own, and every class", () => {
    const none = fuses([["main fuse"], "none"]);
    expect(yours(none)).toEqual([]);
    expect(none[0].changes).toEqual([[["main fuse"], none[0].name]]);
  });

  it("how the fuse starts is kept when another takes its place", () => {
    const worn = fuses([["main fuse"], "{part: blade fuse 20 A, start: cold}"]);
    const other = worn.find(({ name }) => name === "blade fuse 30 A");
    expect(other?.changes).toEqual([[["main fuse"], "{part: blade fuse 30 A, start: cold}"]]);
  });
});

it("an SCR of a class is yours; what belongs to the line does not make it another, what a data sheet gives does", () => {
  const scrs = (...changes: TextChange[]) => {
    const { parsed, scenario } = station(...changes);
    return scrCandidates(parsed, scenario);
  };
  expect(scrs().find(({ yours }) => yours)?.name).toBe("SCR 55 A");
  const own = scrs([["crowbar", "holding current"], "90 mA"]);
  expect(own[0]).toMatchObject({ name: "SCR 55 A, your values", yours: true, changes: [] });
  expect(own.find(({ name }) => name === "SCR 25 A")?.changes).toEqual([
    [["crowbar", "holding current"], null],
    [["crowbar", "part"], "SCR 25 A"],
  ]);
});

describe("wires that take part", () => {
  const wires = (text: string, ...changes: TextChange[]) => {
    const { parsed, scenario } = line(text, ...changes);
    return wireCandidates(parsed, scenario);
  };
  const named = (list: ReturnType<typeof wires>) => list.map(({ name, yours }) => (yours ? `${name}!` : name));

  it("metric sizes beside a metric wire, gauges beside a gauge, thin ones first", () => {
    expect(named(wires(shipped(STATION)))).toEqual([
      "0.75 mm²",
      "1 mm²",
      "1.5 mm²",
      "2.5 mm²",
      "4 mm²!",
      "6 mm²",
      "10 mm²",
      "16 mm²",
    ]);
    const gauges: TextChange[] = [
      [["sources", 0, "lead", "area"], null],
      [["sources", 0, "lead", "gauge"], "10 AWG"],
    ];
    expect(named(wires(shipped(STATION), ...gauges))).toEqual([
      "18 AWG",
      "16 AWG",
      "14 AWG",
      "12 AWG",
      "10 AWG!",
      "8 AWG",
      "6 AWG",
      "4 AWG",
    ]);
  });

  it("sources with different wires have 'your wires', and every size may take the place of all", () => {
    const list = wires(FUSED_BATTERY, [["sources", 1, "lead", "area"], "6 mm2"]);
    expect(named(list)).toContain("your wires!");
    expect(named(list)).toEqual(expect.arrayContaining(["4 mm²", "6 mm²"]));
    expect(list.find(({ name }) => name === "10 mm²")?.changes).toEqual([
      [["sources", 0, "lead", "area"], "10 mm2"],
      [["sources", 1, "lead", "area"], "10 mm2"],
    ]);
  });

  it("a lead that is given by its resistance cannot be made of another wire", () => {
    const given = shipped(STATION).replace(
      /lead: \{length: 1\.5 m.*\}/,
      "lead: {resistance: 17 mohm, inductance: 1 uH, area: 4 mm2}",
    );
    expect(named(wires(given))).toEqual(["4 mm²!"]);
  });

  it("a spacing that was given gives way: it may be too small", () => {
    const spaced = wires(shipped(STATION), [["sources", 0, "lead", "spacing"], "4 mm"]);
    expect(spaced.find(({ name }) => name === "6 mm²")?.changes).toEqual([
      [["sources", 0, "lead", "spacing"], null],
      [["sources", 0, "lead", "area"], "6 mm2"],
    ]);
  });
});

it("what is written is found by its path, and nothing where none stands", () => {
  const written = { sources: [{ lead: { length: "1 m" } }] };
  expect(writtenAt(written, ["sources", 0, "lead", "length"])).toBe("1 m");
  for (const path of [
    ["sources", "lead"],
    ["sources", 0, 1],
    ["loads", 0],
  ])
    expect(writtenAt(written, path)).toBeUndefined();
});

it("a class tells what the rules of a fuse need; a name that is none tells nothing", () => {
  expect(factsOfClass("blade fuse 20 A")).toMatchObject({ ratedCurrent: 20, ratedVoltage: 32 });
  expect(factsOfClass("blade fuse 21 A")).toBeNull();
});
