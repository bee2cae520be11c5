import type { TripStudy, TripWishes } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { studiedText } from "./lines.ts";

const short = "lead: {length: 1 m, area: 4 mm2}";
const SUPPLY = `  - {name: supply, part: linear supply 20 A, set voltage: 13.8 V, ${short}}\n`;
const RADIO = `  - {name: radio, part: 100 W radio, ${short}}\n`;

/** A line that nothing breaks: what normal service shows needs two short runs, and the fault none. */
const line = ({ sources = SUPPLY, loads = RADIO }) =>
  `title: line\nfault at: 1 ms\nrun for: 20 ms\nsources:\n${sources}crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}\nloads:\n${loads}`;

/** A ripple of 5 V, so that nothing opens a band: every change stays in the list of what was tried. */
function tried(text: string, wishes: TripWishes = {}): string[] {
  const study: TripStudy = studiedText(text, { ripple: "5 V", ...wishes });
  expect(study.exists).toBe(false);
  expect(study.changes.every(({ opens }) => !opens)).toBe(true);
  return study.changes.map(({ name }) => name).sort();
}

describe("what is tried where no band exists is what the line has room for", () => {
  test("a supply turned down, finer parts, half of a pick-up, thicker leads, a warmer cabinet", () => {
    expect(tried(line({}))).toEqual(
      [
        "supply turned down to 13.5 V",
        "pick-up halved to 50 mV",
        "resistors of 0.5 %",
        "resistors of 0.1 %",
        "shunt reference 0.5 %",
        "sources' leads one size thicker",
        "loads' leads one size thicker",
        "protector kept above 0 °C",
      ].sort(),
    );
  });

  test("a battery that a panel charges: no supply to turn down; leads without a length or of the thickest copper stay", () => {
    const thick = "{length: 1 m, area: 50 mm2}";
    const sources = `  - {name: panel, part: solar panel 100 W, lead: ${thick}}\n  - {name: battery, part: AGM battery 100 Ah, lead: ${thick}}\n`;
    const loads = RADIO.replace(short, "lead: {resistance: 8 mohm, inductance: 1 uH, area: 4 mm2}");
    expect(tried(line({ sources, loads }), { coldest: "10 °C", pickup: "0 V" })).toEqual(
      [
        "battery charged to 14.1 V only",
        "battery charged to 13.8 V only",
        "charger without cold compensation",
        "resistors of 0.5 %",
        "resistors of 0.1 %",
        "shunt reference 0.5 %",
      ].sort(),
    );
  });

  test("a battery alone: nothing charges it, its leads lie too close together for thicker ones, and a sensing circuit gives way to a reference or to finer resistors", () => {
    const sources = `  - {name: battery, part: AGM battery 100 Ah, lead: {length: 1 m, area: 10 mm2, spacing: 4 mm}}\n`;
    expect(tried(line({ sources }), { threshold: "sensing IC", coldest: "0 °C" })).toEqual(
      [
        "pick-up halved to 50 mV",
        "resistors of 0.5 %",
        "resistors of 0.1 %",
        "shunt reference 1 % with resistors of 1 %",
        "shunt reference 0.5 % with resistors of 1 %",
        "loads' leads one size thicker",
      ].sort(),
    );
  });
});
