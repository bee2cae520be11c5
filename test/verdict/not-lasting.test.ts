import { describe, expect, test } from "vitest";
import { type Answered, runScenario } from "../../packages/sim/src/index.ts";
import { shippedText } from "../support/charts-of-runs.ts";

function told(text: string, until?: number) {
  const answer = runScenario(text, "line.yaml", { record: false, ...(until === undefined ? {} : { until }) });
  const { verdict } = answer as Answered;
  if (verdict.kind !== "verdict") throw new Error("no verdict");
  return verdict;
}

const RADIO = ["loads:", "  - name: relay radio", "    part: repeater 50 W", "    lead: {length: 1 m, area: 4 mm2}"];
const HUT = ["  - name: hut battery", "    part: AGM battery 100 Ah", "    lead: {length: 2 m, area: 6 mm2}"];
const HICCUP = [
  "  - name: station supply",
  "    part: switch-mode supply 30 A, hiccup",
  "    lead: {length: 1.5 m, area: 6 mm2}",
];
const line = (...rows: readonly (string | readonly string[])[]): string =>
  ["title: line", "fault at: 20 ms", ...rows.flat()].join("\n");

test("a full battery that only discharges is not too close to anything", () => {
  const text = line(
    "run for: 4 s",
    "sources:",
    HUT,
    "    initial charge: 100 %",
    "    emf: 12.9 V",
    RADIO,
    "    schedule: [{time: 2 s, current: 5 A}]",
    "    limits: {withstand: parts rated 16 V}",
  );
  const { safe, findings } = told(text);
  expect(safe).toBe(true);
  expect(findings.find(({ quantity }) => quantity === "state of charge")).toMatchObject({
    found: 1,
    severity: "ok",
    close: false,
  });
});

test("between what goes on and off a battery is not told to fill by the current of a moment", () => {
  const text = line(
    "run for: 1 s",
    "sources:",
    HICCUP,
    "    fault: {kind: voltage turned up, end voltage: 16 V, slew: 1 V/ms}",
    HUT,
    "    initial charge: 80 %",
    RADIO,
    "    limits: {withstand: parts rated 16 V, maximum: 20 V}",
  );
  const charging = told(text).pending.filter(({ kind }) => kind === "charging");
  expect(charging.map(({ sentence, passesRating }) => [sentence.split(".")[0], passesRating])).toEqual([
    ["What charges the hut battery goes on and off when the run ends", false],
  ]);
});

test("a radio behind a crowbar is not told to pass its maximum as a battery fills: the crowbar comes first", () => {
  const text = shippedText("08-charger-creep.yaml").replace(/run for: .*/, "run for: 1 h");
  const rising = told(text).pending.filter(({ kind }) => kind === "voltage rising with charge");
  expect(rising).toHaveLength(1);
  expect(rising[0]).toMatchObject({ passesRating: false });
  expect(rising[0]?.sentence).toContain("the crowbar reaches its trip point of 15 V, before it passes its maximum");
});

describe("a supply that hiccups into a crowbar", () => {
  test("a radio's own fuse ends nothing of it", () => {
    const text = shippedText("02-hiccup-supply.yaml")
      .replace(/loads:[\s\S]*$/, "")
      .concat(
        [
          "loads:",
          "  - name: relay radio",
          "    part: 100 W radio",
          "    current: 0.3 A",
          "    input capacitance: 5 mF",
          "    limits: {withstand: parts rated 16 V}",
          "    lead: {length: 1 m, gauge: 12 AWG, spacing: 3.5 mm, insulation: XLPE, fuse: blade fuse 3 A}",
        ].join("\n"),
      );
    const { pending, tripping } = told(text.replace(/run for: .*/, "run for: 1.95 s"));
    expect(JSON.stringify(tripping)).not.toContain("It ended when");
    expect(pending.map(({ kind }) => kind)).toContain("repeated tripping");
  });

  test("restarts that go on after the crowbar failed short are told", () => {
    const text = line(
      "run for: 12 s",
      "sources:",
      "  - name: station supply",
      "    part: switch-mode supply 30 A, hiccup",
      "    limit: {off time: 60 ms}",
      "    fault: lost feedback",
      "    lead: {length: 1.5 m, area: 0.5 mm2, fuse holders: 1}",
      "main fuse: blade fuse 30 A",
      "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast, case to ambient: 200 K/W, case heat capacity: 0.2 J/K}",
      "loads:",
      "  - name: relay radio",
      "    part: 100 W radio",
      "    current: 2 A",
      "    limits: {withstand: parts rated 16 V}",
      "    lead: {length: 1 m, gauge: 12 AWG, spacing: 3.5 mm}",
    );
    const { pending, tripping } = told(text);
    expect(JSON.stringify(tripping)).toContain("It ended when the crowbar failed short");
    expect(pending.map(({ kind }) => kind)).toContain("going on and off");
  });
});
