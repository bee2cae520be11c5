import { describe, expect, test } from "vitest";
import { fuseDuties, parseScenario, regulatorDamping } from "../../packages/sim/src/scenario/index.ts";

interface Line {
  readonly sources?: string;
  readonly loads?: string;
  readonly rest?: string;
}

const SUPPLY =
  '  - {name: s, part: "switch-mode supply 30 A, hiccup", fault: lost feedback, lead: {length: 1 m, area: 6 mm2}}';
const RADIO = "  - {name: radio, part: 100 W radio, lead: {length: 1 m, area: 6 mm2}}";
const BATTERY = (lead: string): string =>
  `  - {name: b, part: AGM battery 100 Ah, lead: {length: 1 m, area: 16 mm2${lead}}}`;
const CROWBAR = "crowbar: {part: SCR 50 A, trip voltage: 15 V, sense filter: fast}";
const BIG_FUSE = "fuse: {part: blade fuse 20 A, breaking capacity: 10 kA}";

function read({ sources = SUPPLY, loads = RADIO, rest = "" }: Line): ReturnType<typeof parseScenario> {
  const text = `fault at: 1 ms\nrun for: 1 s\nsources:\n${sources}\nloads:\n${loads}\n${rest}\n`;
  const result = parseScenario(text, "line.yaml");
  expect(result.issues.filter(({ severity }) => severity === "error")).toEqual([]);
  return result;
}

const codes = (line: Line): string[] => read(line).issues.map(({ code }) => code);

test("a wire is held against what its fuse carries in these surroundings", () => {
  // 20 A blade fuse, element at 150 °C: 26.3 A at 25 °C are 26.3·sqrt(170/125) = 30.7 A at -20 °C and 26.3·sqrt(70/125) = 19.7 A at 80 °C.
  const told = (ambient: string) =>
    read({
      sources: SUPPLY.replace("6 mm2}", "1.54 mm2, fuse: blade fuse 20 A}"),
      rest: `ambient: ${ambient}`,
    }).issues.find(({ code }) => code === "wire-not-protected")?.message;
  expect(told("-20 °C")).toContain("30.7 A, which never melts it");
  expect(told("69 °C")).toContain("which never melts it");
  // 5·10⁻¹⁵·30.7²·60/(1.54 mm²)² = 119 K, the more as copper's resistance rises: 214.5·119/(255.4 − 119) − 20 °C.
  expect(told("-20 °C")).toContain("to about 167 °C.");
});

test("a wire that melts before its fuse does is told to melt, not to settle somewhere above", () => {
  const { issues } = read({ loads: RADIO.replace("6 mm2", "1 mm2"), rest: "main fuse: blade fuse 30 A" });
  expect(issues.find(({ code }) => code === "wire-not-protected")?.message).toMatch(
    /would bring the wire to its melting point\.$/,
  );
});

test("a main fuse that melts as soon as the radio transmits is warned of, one that only tires is not", () => {
  const told = (fuse: string, ambient = 25) =>
    read({ rest: `main fuse: ${fuse}\nambient: ${ambient} °C\n${CROWBAR}` })
      .issues.filter(({ code }) => code === "fuse-melts-in-service")
      .map(({ code, path, message, hint }) => [code, path, message, hint]);
  // The radio receives with 1.5 A in the file; its class tells 21 A on transmit. A 10 A blade fuse melts from 13.2 A on.
  expect(told("blade fuse 10 A")).toEqual([
    [
      "fuse-melts-in-service",
      "main fuse",
      "blade fuse 10 A would not hold on transmit (21 A): it melts from about 13.2 A on.",
      "take a larger fuse",
    ],
  ]);
  // 26.3 A at 25 °C, and at 80 °C 26.3·sqrt(70/125) = 19.7 A.
  expect(told("blade fuse 20 A")).toEqual([]);
  expect(told("blade fuse 20 A", 80)[0][2]).toBe(
    "blade fuse 20 A would not hold on transmit (21 A): it melts from about 19.7 A on at 80 °C.",
  );
  // Where no class tells of transmitting, by what the line tells: 1.6 ohm at the 13.8 V of its supply, not at the 16 V of its window.
  const heater = RADIO.replace(
    "part: 100 W radio",
    "kind: resistive, resistance: 1.6 ohm, input capacitance: 0 F, limits: {minimum: 0 V, maximum: 16 V}",
  );
  expect(read({ loads: heater, rest: "main fuse: blade fuse 5 A" }).issues.map(({ message }) => message)).toEqual([
    expect.stringMatching(
      /^blade fuse 5 A would not hold at the most that this line tells \(8\.6[23] A\): it melts from/,
    ),
  ]);
});

test("a load's own fuse is looked at as the main fuse is", () => {
  const told = (fuse: string) =>
    read({ loads: RADIO.replace("6 mm2}", `6 mm2, fuse: ${fuse}}`), rest: CROWBAR })
      .issues.filter(({ code }) => code === "fuse-melts-in-service")
      .map(({ path, message }) => [path, message]);
  expect(told("blade fuse 10 A")).toEqual([
    [
      "loads[0].lead.fuse",
      "blade fuse 10 A of the radio would not hold on transmit (21 A): it melts from about 13.2 A on.",
    ],
  ]);
  expect(told("blade fuse 20 A")).toEqual([]);
});

test("a sound line gives no warning", () => {
  expect(codes({})).toEqual([]);
  expect(codes({ rest: `main fuse: {part: blade fuse 20 A}\n${CROWBAR}` })).toEqual([]);
});

describe("each of these changes brings its warning and only that", () => {
  test.each<[string, string, Line, Line]>([
    [
      "no fuse between a battery and the SCR",
      "no-fuse-before-crowbar",
      { sources: BATTERY(", contact: {operations: [{time: 1 ms, action: open}]}"), rest: CROWBAR },
      { sources: BATTERY(`, ${BIG_FUSE}, contact: {operations: [{time: 1 ms, action: open}]}`), rest: CROWBAR },
    ],
    [
      "a battery on the unfused side",
      "battery-on-unfused-side",
      { sources: `${SUPPLY}\n${BATTERY("")}`, rest: `main ${BIG_FUSE}\n${CROWBAR}` },
      { sources: `${SUPPLY}\n${BATTERY(`, ${BIG_FUSE}`)}`, rest: `main ${BIG_FUSE}\n${CROWBAR}` },
    ],
    [
      "a fuse on the wrong side of the crowbar",
      "fuse-on-wrong-side",
      { loads: RADIO.replace("6 mm2}", "6 mm2, fuse: blade fuse 20 A}"), rest: CROWBAR },
      { rest: `main fuse: blade fuse 20 A\n${CROWBAR}` },
    ],
    [
      "the available short-circuit current above the breaking capacity",
      "breaking-capacity",
      { sources: `${SUPPLY}\n${BATTERY(", fuse: {part: blade fuse 20 A, breaking capacity: 500 A}")}` },
      { sources: `${SUPPLY}\n${BATTERY(`, ${BIG_FUSE}`)}` },
    ],
    [
      "a fault voltage above a fuse's rated voltage",
      "fuse-voltage",
      { rest: "main fuse: {part: blade fuse 20 A, rated voltage: 20 V}" },
      { rest: "main fuse: {part: blade fuse 20 A, rated voltage: 25 V}" },
    ],
    [
      "a fuse's melting I²t above the SCR's",
      "fuse-above-scr",
      { rest: `main fuse: blade fuse 20 A\n${CROWBAR.replace("50 A", "25 A")}` },
      { rest: `main fuse: blade fuse 20 A\n${CROWBAR}` },
    ],
    [
      "a regulator that rings",
      "ringing-regulator",
      { sources: SUPPLY.replace("name: s,", "name: s, response time: 100 us,") },
      { sources: SUPPLY.replace("name: s,", "name: s, response time: 50 us,") },
    ],
    [
      "two radios on one line",
      "shield-return",
      { loads: `${RADIO}\n${RADIO.replace("name: radio", "name: other")}` },
      { loads: `${RADIO}\n  - {name: lamp, part: incandescent lamp 12 V 50 W, lead: {length: 1 m, area: 6 mm2}}` },
    ],
    [
      "a wire that its fuse does not protect",
      "wire-not-protected",
      { loads: RADIO.replace("6 mm2", "1 mm2"), rest: "main fuse: blade fuse 20 A" },
      { loads: RADIO.replace("6 mm2", "1 mm2, fuse: blade fuse 7.5 A"), rest: "main fuse: blade fuse 20 A" },
    ],
    [
      "surroundings that are hotter than a lead's insulation allows",
      "surroundings-too-hot",
      { sources: SUPPLY.replace("6 mm2", "6 mm2, insulation: XLPE"), rest: "ambient: 80 °C" },
      { sources: SUPPLY, loads: RADIO, rest: "ambient: 69 °C" },
    ],
    [
      "surroundings that are as hot as it allows, and no word of the fuse then",
      "surroundings-too-hot",
      {
        sources: SUPPLY.replace("6 mm2", "6 mm2, insulation: XLPE"),
        rest: "ambient: 70 °C\nmain fuse: blade fuse 25 A",
      },
      { rest: "main fuse: blade fuse 25 A" },
    ],
    [
      "a clamp that conducts in normal service",
      "clamp-at-rest",
      { rest: 'clamp: {part: "clamp diode 1500 W, 15 V", breakdown voltage: 13.5 V}' },
      { rest: 'clamp: {part: "clamp diode 1500 W, 15 V", breakdown voltage: 15 V}' },
    ],
    [
      "a window that ends below the line's voltage",
      "maximum-below-rest",
      { loads: RADIO.replace("name: radio,", "name: radio, limits: {maximum: 13.5 V},") },
      { loads: RADIO.replace("name: radio,", "name: radio, limits: {maximum: 13.9 V},") },
    ],
    [
      "a withstand curve that begins inside the window",
      "withstand-below-maximum",
      { loads: RADIO.replace("name: radio,", "name: radio, limits: {maximum: 16.5 V, withstand: parts rated 16 V},") },
      { loads: RADIO.replace("name: radio,", "name: radio, limits: parts rated 16 V,") },
    ],
    [
      "a contact that is closed twice",
      "operation-without-effect",
      { loads: RADIO.replace("6 mm2}", "6 mm2, contact: {operations: [{time: 1 ms, action: close}]}}") },
      { loads: RADIO.replace("6 mm2}", "6 mm2, contact: {operations: [{time: 1 ms, action: open}]}}") },
    ],
    ["nothing that happens", "nothing-happens", { sources: SUPPLY.replace("fault: lost feedback", "fault: none") }, {}],
  ])("%s", (_, code, bad, good) => {
    expect(codes(bad)).toEqual([code]);
    expect(codes(good)).not.toContain(code);
  });

  test("no fuse between a battery and a supply's own crowbar", () => {
    const own = SUPPLY.replace(
      "name: s,",
      "name: s, own crowbar: {part: SCR 25 A, trip voltage: 16 V, sense filter: fast},",
    );
    expect(codes({ sources: `${own}\n${BATTERY("")}` })).toEqual(["no-fuse-before-crowbar", "battery-on-unfused-side"]);
    expect(codes({ sources: `${own}\n${BATTERY(`, ${BIG_FUSE}`)}` })).toEqual([]);
  });
});

test("available short-circuit current is voltage over resistance, by hand", () => {
  const battery =
    "  - {name: b, part: AGM battery 100 Ah, emf: 12.8 V, lead: {resistance: 5 mohm, inductance: 1 uH, area: 16 mm2, fuse: {part: blade fuse 20 A, cold resistance: 3 mohm}, contact: {operations: [{time: 1 ms, action: open}]}}}";
  const { scenario } = read({ sources: battery, rest: "main fuse: blade fuse 30 A" });
  const [main, inline] = fuseDuties(scenario!);
  // AGM 100 Ah: 4.9 mohm.
  const current = 12.8 / (4.9e-3 + 5e-3 + 3e-3);
  expect(main.path).toEqual(["main fuse"]);
  expect(main.available).toEqual({ voltage: 12.8, current: expect.closeTo(current, 6) });
  expect(inline.path).toEqual(["sources", 0, "lead", "fuse"]);
  expect(inline.available.current).toBeCloseTo(current, 6);
});

test("a shorted pass transistor gives the raw voltage over its resistance, a working limit bounds the rest", () => {
  const linear =
    "  - {name: s, part: linear supply 20 A, fault: {kind: shorted pass transistor, pass resistance: 50 mohm}, lead: {resistance: 10 mohm, inductance: 1 uH, area: 6 mm2}}";
  const shorted = fuseDuties(read({ sources: linear, rest: "main fuse: blade fuse 20 A" }).scenario!)[0];
  expect(shorted.available.voltage).toBe(24);
  expect(shorted.available.current).toBeCloseTo(24 / 0.06, 9);
  const limited = fuseDuties(read({ rest: "main fuse: blade fuse 20 A" }).scenario!)[0];
  expect(limited.available.current).toBeCloseTo(34.5, 9);
});

test("damping of a regulator, by hand", () => {
  expect(regulatorDamping({ sourceResistance: 0.01, outputCapacitance: 4.7e-3, responseTime: 20e-6 })).toBeCloseTo(
    0.7665,
    4,
  );
});
