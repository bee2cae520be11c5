import { changeTexts, type Scenario, type SchemeWord, type TextChange, variantLines } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText } from "../study/compare/lines.ts";

const BASE = "01-shorted-pass-transistor";

/** What becomes of a shipped line, changed so, in a ready-made scheme. */
function inScheme(word: SchemeWord, changes: readonly TextChange[], base = BASE) {
  const { schemes, issues } = variantLines(changeTexts(shippedText(base), changes), "hut.yaml", { schemes: [word] });
  expect(issues.filter(({ severity }) => severity === "error")).toEqual([]);
  const [{ changes: made, parsed }] = schemes;
  const scenario: Scenario | null = parsed.scenario;
  return { scenario, made: made.map(({ path, value }) => [path.join("."), value]), issues: parsed.issues, parsed };
}

const WITHOUT_FUSE: TextChange = [["main fuse"], "none"];
const WITHOUT_SCR: TextChange = [["crowbar"], "none"];

describe("the fuse that a scheme puts into the line", () => {
  test("is the smallest that carries the loads for hours at three quarters of its rating", () => {
    // The radio takes 21 A on transmit: 21 A / 0.75 = 28 A, and between 25 A and 30 A there is no blade fuse.
    expect(inScheme("SCR with fuse", [WITHOUT_FUSE]).made).toEqual([["main fuse", "blade fuse 30 A"]]);
  });

  test("is the largest where none carries them", () => {
    const heater =
      "{name: heater, kind: constant power, power: 900 W, input capacitance: 1 mF, esr: 10 mohm, limits: {minimum: 11 V, maximum: 20 V}, lead: {length: 1 m, area: 10 mm2}}";
    expect(inScheme("SCR with fuse", [WITHOUT_FUSE, [["loads", 0], heater]]).made).toEqual([
      ["main fuse", "blade fuse 40 A"],
    ]);
  });

  test("is not wanted where a source's lead has one", () => {
    const line = [WITHOUT_FUSE, [["sources", 0, "lead", "fuse"], "blade fuse 25 A"]] as const;
    expect(inScheme("SCR with fuse", line).made).toEqual([]);
  });
});

describe("where a scheme's protector acts on a line that has none", () => {
  test("halfway between the source and what the load stands", () => {
    // 13.8 V and 17 V.
    const line = [WITHOUT_SCR, [["loads", 0, "limits"], "{maximum: 17 V}"]] as const;
    expect(inScheme("relay", line).scenario?.seriesSwitch?.offVoltage).toBe(15.4);
  });

  test("at the usual 15 V where no tenth of a volt lies between the two", () => {
    const line = [WITHOUT_SCR, [["loads", 0, "limits"], "{maximum: 13.85 V}"]] as const;
    expect(inScheme("SCR with fuse", line).scenario?.crowbar?.tripVoltage).toBe(15);
  });

  test("at the usual 15 V on a panel alone, whose controller has no voltage of its own", () => {
    const alone = [
      [["sources", 1], null],
      [["series switch"], "none"],
    ] as const;
    const { scenario } = inScheme("relay", alone, "09-panel-and-battery");
    expect(scenario?.seriesSwitch?.offVoltage).toBe(15);
    expect(inScheme("clamp", alone, "09-panel-and-battery").scenario?.clamp?.breakdownVoltage).toBe(15.8);
  });
});

describe("the clamp diode of a scheme", () => {
  test("is the next higher one where the lowest would conduct in service", () => {
    // The most eager specimens conduct from 14.3 V and 17.1 V on.
    const higher = [WITHOUT_SCR, [["sources", 0, "set voltage"], "14.4 V"]] as const;
    expect(inScheme("clamp", higher).scenario?.clamp?.breakdownVoltage).toBe(18.9);
    expect(inScheme("clamp", []).scenario?.clamp?.breakdownVoltage).toBe(15.8);
  });

  test("is the highest on a line of 24 V, which the check then tells without a place in the file", () => {
    const line = [
      [["sources", 0, "set voltage"], "24 V"],
      [["sources", 0, "fault"], "{kind: lost feedback, ceiling voltage: 30 V}"],
      WITHOUT_SCR,
      [["loads", 0, "limits"], "{maximum: 32 V}"],
    ] as const;
    const { scenario, issues } = inScheme("clamp", line, "02-hiccup-supply");
    expect(scenario?.clamp?.breakdownVoltage).toBe(18.9);
    expect(issues).toMatchObject([{ code: "clamp-at-rest", path: "clamp", position: null }]);
    expect(issues[0].message).toBe(
      "In the variant `clamp`: The clamp already conducts in normal service, at the latest when little is drawn.",
    );
  });
});

test("with nothing, neither a supply's own shutdown nor a clamp in a load protects", () => {
  const line = [
    [["sources", 0, "own OVP"], "{voltage: 15 V, delay: 20 us}"],
    [["loads", 0, "clamp"], "clamp diode 1500 W, 15 V"],
  ] as const;
  const { scenario } = inScheme("nothing", line);
  expect(scenario?.sources[0]).toMatchObject({ shutdown: null });
  expect(scenario).toMatchObject({ crowbar: null, clamp: null, seriesSwitch: null });
  expect(scenario?.loads[0].clamp).toBeNull();
});

test("a line without a title is called by the scheme alone", () => {
  expect(inScheme("clamp", [[["title"], null]]).parsed.about.title).toBe("clamp");
  expect(inScheme("clamp", []).parsed.about.title).toBe("Shorted pass transistor: clamp");
});
