import { changeTexts, parseScenario, type TextChange } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText } from "../study/compare/lines.ts";

const CROWBAR = "part: SCR 55 A, trip voltage: 15 V, sense filter: fast";
const LEAD = "length: 1 m, area: 4 mm2";

/** Of each error its place, what it says and what is allowed. */
function wrong(changes: readonly TextChange[]): readonly (readonly [string, string, string | null])[] {
  const { issues } = parseScenario(changeTexts(shippedText("01-shorted-pass-transistor"), changes), "hut.yaml");
  return issues
    .filter(({ severity }) => severity === "error")
    .map(({ path, message, allowed }) => [path, message, allowed]);
}

describe("a temperature of no such place or part is refused where it stands", () => {
  const CELSIUS = "a number with °C, C, degC or K, such as 25 °C";
  const PARTS = "-60 °C to 3000 °C";
  const lamp = (temperature: string): TextChange => [
    ["loads", 0],
    `{name: lamp, part: incandescent lamp 12 V 50 W, ${temperature}, lead: {${LEAD}}}`,
  ];

  // Copper by IEC 60949 has no resistance left at −234.5 °C; at −300 °C there is no temperature.
  test.each(["-300 °C", "-235 °C", "-234.5 °C", "-60.1 °C", "151 °C", "10 K"])("ambient: %s", (ambient) => {
    expect(wrong([[["ambient"], ambient]])).toEqual([
      ["ambient", "This must lie between -60 °C and 150 °C.", `-60 °C to 150 °C: ${CELSIUS}`],
    ]);
  });

  test.each<[path: string, change: TextChange, bounds?: string]>([
    ["main fuse.melting temperature", [["main fuse"], "{part: blade fuse 20 A, melting temperature: 1e5 °C}"]],
    ["crowbar.fail temperature", [["crowbar"], `{${CROWBAR}, fail temperature: 1e5 °C}`]],
    ["crowbar.ratings.junction temperature", [["crowbar"], `{${CROWBAR}, ratings: {junction temperature: -300 °C}}`]],
    ["clamp.ratings.temperature", [["clamp"], '{part: "clamp diode 1500 W, 15 V", ratings: {temperature: -300 °C}}']],
    [
      "loads[0].lead.insulation.continuous",
      [["loads", 0, "lead"], `{${LEAD}, insulation: {continuous: -300 °C, short circuit: 160 °C}}`],
    ],
    [
      "loads[0].lead.insulation.short circuit",
      [["loads", 0, "lead"], `{${LEAD}, insulation: {continuous: 70 °C, short circuit: -300 °C}}`],
    ],
    ["loads[0].cold temperature", lamp("cold temperature: 4 K"), "213 K to 3695 K"],
    ["loads[0].nominal temperature", lamp("nominal temperature: 1e5 K"), "213 K to 3695 K"],
  ])("%s", (path, change, bounds = PARTS) => {
    const [[where, message, allowed], ...others] = wrong([change]);
    expect(others).toEqual([]);
    expect(where).toBe(path);
    expect(message).toBe(`This must lie between ${bounds.replace(" to ", " and ")}.`);
    expect(allowed).toContain(`${bounds}: a number with `);
  });

  test("the coldest and the hottest place are places", () => {
    for (const ambient of ["-60 °C", "213.15 K", "70 °C"]) expect(wrong([[["ambient"], ambient]])).toEqual([]);
    // Class temperatures lie below it, which is told of them.
    expect(wrong([[["ambient"], "150 °C"]]).map(([path]) => path)).not.toContain("ambient");
  });
});
