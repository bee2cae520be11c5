import { parseScenario, runScenario } from "@railfault/sim";
import { describe, expect, it } from "vitest";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { shippedLines } from "../../../packages/notebooks/src/line/shipped.ts";
import { protectionOf, worthOf } from "../../../packages/notebooks/src/pages/regulator-fails/compare.ts";
import { limitText } from "../../../packages/notebooks/src/pages/regulator-fails/fault.ts";
import {
  protectorChanges,
  protectorMemory,
  protectorOf,
  protectors,
  tripPath,
  withoutProtection,
} from "../../../packages/notebooks/src/pages/regulator-fails/protector.ts";
import { whatBreaks, whyFast } from "../../../packages/notebooks/src/pages/regulator-fails/story.ts";
import { asText, wordAt } from "../../../packages/notebooks/src/pages/regulator-fails/written.ts";

const open = (name: string) => new Line({ line: { kind: "shipped", name }, changes: [], view: {} });
const errors = (line: Line) => line.now.parsed.issues.filter(({ severity }) => severity === "error");
const protectorNamed = (value: string) => {
  const found = protectors.find((each) => each.value === value);
  if (found === undefined) throw new RangeError(value);
  return found;
};
const protect = (line: Line, value: string) => line.set(value, protectorChanges(line.now, protectorNamed(value)));

function answered(text: string) {
  const result = runScenario(text, "line.yaml");
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
  return result;
}

describe("every way of protecting", () => {
  it.each(shippedLines.map(({ name }) => name))("can be put into %s and taken out again", (name) => {
    const line = open(name);
    const before = protectorOf(line.now)?.value ?? null;
    for (const { value } of [...protectors, ...[...protectors].reverse()]) {
      expect(protect(line, value)).toEqual([]);
      expect(protectorOf(line.now)?.value).toBe(value);
      expect(errors(line)).toEqual([]);
    }
    if (before === null) return;
    protect(line, before);
    expect(protectorOf(line.now)?.value).toBe(before);
  });

  it("keeps the trip voltage on its way from an SCR to a transistor and back", () => {
    const line = open("01-shorted-pass-transistor");
    line.set("trip", [[["crowbar", "trip voltage"], "15.4 V"]]);
    protect(line, "transistor");
    expect(line.now.text).toContain("series switch: {part: series transistor 30 A, off voltage: 15.4 V}");
    protect(line, "held");
    expect(line.now.parsed.scenario?.crowbar).toMatchObject({ tripVoltage: 15.4, variant: "held" });
    expect(tripPath(line.now)).toEqual(["crowbar", "trip voltage"]);
  });

  it.each(["none", "clamp"])("brings a crowbar back as it was set, after %s", (between) => {
    const line = open("01-shorted-pass-transistor");
    const memory = protectorMemory(line);
    const turn = (value: string) => line.set(value, protectorChanges(line.now, protectorNamed(value), memory));
    line.set("trip", [[["crowbar", "trip voltage"], "16.5 V"]]);
    line.set("filter", [[["crowbar", "sense filter"], "RF-filtered"]]);
    const set = line.now.parsed.scenario;
    turn(between);
    turn("scr");
    expect(line.now.parsed.scenario).toEqual(set);
    turn(between);
    turn("relay");
    expect(line.now.parsed.scenario?.seriesSwitch?.offVoltage).toBe(16.5);
    // What is taken back is not remembered either, and another line begins with nothing.
    while (line.undoLabel !== null) line.undo();
    turn(between);
    turn("scr");
    expect(line.now.parsed.scenario?.crowbar?.tripVoltage).toBe(15);
    line.set("trip", [[["crowbar", "trip voltage"], "16.5 V"]]);
    line.open({ kind: "shipped", name: "10-clamp-only" });
    turn("scr");
    expect(line.now.parsed.scenario?.crowbar?.tripVoltage).toBe(15);
    turn("clamp");
    expect(line.now.parsed.scenario?.clamp).toEqual(open("10-clamp-only").now.parsed.scenario?.clamp);
  });

  it("lets a disconnect wait above the crowbar, wherever that is set, and as it was set", () => {
    const line = open("01-shorted-pass-transistor");
    const memory = protectorMemory(line);
    const turn = (value: string) => line.set(value, protectorChanges(line.now, protectorNamed(value), memory));
    line.set("trip", [[["crowbar", "trip voltage"], "16.5 V"]]);
    turn("disconnect");
    expect(line.now.parsed.scenario?.seriesSwitch?.offVoltage).toBe(17);
    line.set("off", [[["series switch", "off voltage"], "17.6 V"]]);
    turn("scr");
    turn("disconnect");
    expect(line.now.parsed.scenario?.seriesSwitch?.offVoltage).toBe(17.6);
  });

  it("brings back what the file says of its own crowbar", () => {
    const line = open("01-shorted-pass-transistor");
    protect(line, "clamp");
    protect(line, "scr");
    expect(line.now.parsed.scenario).toEqual(open("01-shorted-pass-transistor").now.parsed.scenario);
  });
});

describe("a limit of another style", () => {
  it.each(["none", "constant current", "foldback", "hiccup", "latch off"])(
    "%s stands in the file with all its figures",
    (style) => {
      const line = open("02-hiccup-supply");
      expect(line.set("limit", [[["sources", 0, "limit"], limitText(style, 20)]])).toEqual([]);
      expect(errors(line)).toEqual([]);
      expect(wordAt(line.now, ["sources", 0, "limit", "style"]) ?? "none").toBe(style);
      const source = line.now.parsed.scenario?.sources[0];
      if (source?.kind !== "supply") throw new Error("no supply");
      if (source.limit.style !== "none") expect(source.limit.current).toBe(20);
      if (source.limit.style === "foldback") expect(source.limit.shortCircuitCurrent).toBeCloseTo(6, 9);
    },
  );
});

describe("without protection", () => {
  it.each(shippedLines.map(({ name }) => name))("nothing protects %s, and its fuse stays", (name) => {
    const line = open(name);
    const { mainFuse } = line.now.parsed.scenario ?? {};
    line.set("bare", withoutProtection(line.now));
    const { scenario } = parseScenario(line.now.text, name);
    expect(scenario).not.toBeNull();
    if (scenario === null) return;
    expect(protectionOf(scenario)).toBeNull();
    expect(scenario.mainFuse).toEqual(mainFuse);
  });

  it("tells in one sentence what the protection is worth, with the numbers of both verdicts", () => {
    const line = open("01-shorted-pass-transistor");
    const guarded = answered(line.now.text);
    line.set("bare", withoutProtection(line.now));
    const bare = answered(line.now.text);
    const sentence = worthOf(guarded, bare);
    if (guarded.verdict.kind !== "verdict" || bare.verdict.kind !== "verdict") throw new Error("no verdict");
    expect(sentence).toMatch(/^Without the crowbar, the relay radio would see 23\.5 V instead of 14\.7 V, 8\.9 V more/);
    expect(bare.verdict.loads[0].peak.value - guarded.verdict.loads[0].peak.value).toBeCloseTo(8.9, 1);
    expect(sentence).toMatch(/for 580 ms instead of never\.$/);
    expect(worthOf(bare, bare)).toMatch(/^Nothing protects this line/);
  });

  it("says where it makes no difference", () => {
    const line = open("01-shorted-pass-transistor");
    line.set("no fault", [[["sources", 0, "fault"], "none"]]);
    const guarded = answered(line.now.text);
    line.set("bare", withoutProtection(line.now));
    expect(worthOf(guarded, answered(line.now.text))).toMatch(
      /^Here it makes no difference: the relay radio sees 13\.\d V/,
    );
  });
});

describe("the story", () => {
  it.each(shippedLines.map(({ name }) => name))("tells of %s without a gap", { timeout: 60_000 }, (name) => {
    const answer = answered(shippedLines.find((line) => line.name === name)?.text ?? "");
    for (const text of [whatBreaks(answer), whyFast(answer)]) expect(text).not.toMatch(/NaN|undefined|null|^$/);
  });

  it("tells of a panel's controller, of a supply without a limit and of contacts what they are", () => {
    const told = (name: string, change?: (line: Line) => void) => {
      const line = open(name);
      change?.(line);
      const answer = answered(line.now.text);
      return `${whatBreaks(answer)} ${whyFast(answer)}`;
    };
    const panel = told("09-panel-and-battery");
    expect(panel).toMatch(
      /controller keeps the roof panel.*When it shorts, the panel stands on the line itself, with up to 6 A and/,
    );
    expect(panel).not.toContain("No supply");
    expect(told("02-hiccup-supply")).toContain("Its current limit still works.");
    const unlimited = told("02-hiccup-supply", (line) => line.set("no limit", [[["sources", 0, "limit"], "none"]]));
    expect(unlimited).toContain("It has no current limit.");
    expect(unlimited).not.toContain("still works");
    const fallen = told("20-battery-terminal-falls-off");
    expect(fallen).toMatch(/1 s after the start the contact in the lead of the hut battery opens/);
    expect(fallen).toMatch(/begins to open 1\.2\d ms after the contact opens/);
    expect(fallen).not.toMatch(/after the fault|good health/);
    expect(told("24-isolated-sources")).toMatch(/own SCR fires 286 µs after the fault/);
    expect(told("08-charger-creep")).toMatch(
      /The fuse in the lead of the hut battery melts 2 h 12 min after the fault/,
    );
  });

  it("lets no supply get higher than what stands behind its pass transistor", () => {
    const fault = "fault: {kind: lost feedback, ceiling voltage: 32 V}";
    const text = open("01-shorted-pass-transistor").now.text.replace(/fault: \{kind: shorted.*\}/, fault);
    expect(whatBreaks(answered(text))).toContain("until it can give no more: the 24 V behind its pass transistor");
  });

  it("has the numbers of the run", () => {
    const answer = answered(open("01-shorted-pass-transistor").now.text);
    expect(whatBreaks(answer)).toMatch(/13\.8 V.*24 V.*50 mF.*50 mΩ/);
    expect(whyFast(answer)).toMatch(
      /fires 23\.7 µs.*melts 128 ms after the fault, 5400 times as late.*14\.7 V.*15\.9 V/,
    );
  });
});

it("writes plain data as text that reads back as the same", () => {
  const data = { part: "SCR 55 A", "trip voltage": "15 V", ratings: { current: "250 A" }, label: 'odd: "one", two' };
  const text = `crowbar: ${asText(data)}\n`;
  expect(parseScenario(text, "x").written).toEqual({ crowbar: data });
});
