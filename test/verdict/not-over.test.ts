import { type Answered, runScenario } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import type { Pending } from "../../packages/sim/src/verdict/types.ts";

/** One file run for a short and for a long time: what the short one says of the end is held against the long one. */
function answered(text: string, runFor: string) {
  const answer = runScenario(`title: not over yet\nrun for: ${runFor}\n${text}`, "not-over.yaml") as Answered;
  const { run, verdict } = answer;
  if (verdict?.kind !== "verdict") throw new Error(`no verdict: ${JSON.stringify(answer)}`);
  return { run, verdict };
}

function coming(text: string, runFor: string, kind: Pending["kind"]) {
  const { verdict } = answered(text, runFor);
  return { status: verdict.exitStatus, told: verdict.pending.filter((each) => each.kind === kind) };
}

const radio = `
loads:
  - name: radio
    kind: constant current
    current: 2 A
    input capacitance: 2200 uF
    knee voltage: 6 V
    limits: {minimum: 11 V, maximum: 15.9 V}
    lead: {length: 1 m, area: 4 mm2}
`;
const supply = (limit: string, ceiling: string, more = "") => `
fault at: 20 ms
sources:
  - name: supply
    kind: supply
    set voltage: 13.8 V
    output capacitance: 2200 uF
    esr: 20 mohm
    limit: {style: constant current, current: ${limit}}
    fault: {kind: lost feedback, ceiling voltage: ${ceiling}, slew: 5 V/ms}
    lead: {length: 1 m, area: 6 mm2}
${more}`;
const bar =
  "crowbar: {part: SCR 25 A, trip voltage: 15 V, sense filter: fast, case to ambient: 20 K/W, case heat capacity: 10 J/K, inductance: 1 uH}";

describe("what the line is left in, held against a longer run of the same file", () => {
  test("a supply's own SCR that is held on, as the line's", () => {
    const text = supply("25 A", "20 V", `    own ${bar}`) + radio;
    const { status, told } = coming(text, "2 s", "held on");
    expect([status, told.map(({ subject, passesRating }) => [subject, passesRating])]).toEqual([
      4,
      [["own crowbar of the supply", true]],
    ]);
    const longer = answered(text, "2 min").run.ownCrowbars[0].findings;
    // The estimate takes the junction's own stages as settled.
    expect(Math.abs((longer.junctionLimitTime ?? 0) - 0.02 - 28)).toBeLessThan(1);
    expect(told[0].sentence).toContain(
      "passes its limit of 125 °C 28 s (0.47 min) after the fault and counts as failed 89 s",
    );
    expect(longer.failedShort).toBe(true);
    expect(coming(supply("25 A", "20 V", bar) + radio, "2 s", "held on").told).toHaveLength(1);
  });

  const clamp = (fails: string) =>
    `clamp: {part: "clamp diode 1500 W, 15 V", breakdown voltage: 15.5 V, slope resistance: 20 mohm, fails short: ${fails}, ratings: {energy: 300 J, peak current: 60 A, temperature: 175 °C}, thermal resistance: 3 K/W, thermal time constant: 100 s}`;

  test("a clamp that conducts: when it has taken what it stands", () => {
    const text = supply("3 A", "20 V", clamp("yes")) + radio;
    const { status, told } = coming(text, "1 s", "clamp conducting");
    expect(status).toBe(4);
    expect(told[0].sentence).toContain(
      "fails short at its energy rating of 300 J about 20 s (0.33 min) after the fault",
    );
    const longer = answered(text, "30 s");
    expect(longer.run.clamp?.failTime).toBeCloseTo(19.66, 2);
    const stays = coming(supply("3 A", "20 V", clamp("no")) + radio, "1 s", "clamp conducting");
    expect([stays.status, stays.told[0].sentence]).toEqual([4, expect.stringContaining("passes its energy rating")]);
  });

  test("a clamp in repeated tripping", () => {
    const text = `
fault at: 20 ms
ambient: 35 °C
sources:
  - name: station supply
    part: switch-mode supply 30 A, hiccup
    fault: lost feedback
    lead: {length: 1.5 m, area: 6 mm2, fuse holders: 1}
main fuse: blade fuse 15 A
crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast, case to ambient: 20 K/W, case heat capacity: 10 J/K}
loads:
  - name: relay radio
    part: 100 W radio
    lead: {length: 1 m, gauge: 12 AWG, spacing: 3.5 mm}
clamp: {part: "clamp diode 1500 W, 15 V", breakdown voltage: 14.2 V, slope resistance: 400 mohm, ratings: {energy: 0.4 J, peak current: 60 A, temperature: 175 °C}}
`;
    const { status, told } = coming(text, "2 s", "repeated tripping");
    expect(status).toBe(4);
    const [, at] = /fails short at its energy rating of 400 mJ about ([\d.]+) s/.exec(told[0].sentence) ?? [];
    const failed = answered(text, "13 s").run.clamp?.failTime ?? 0;
    expect(Math.abs(failed - 0.02 - Number(at))).toBeLessThan(1);
  });

  const wire = (fuse: string) => `
fault at: 1 s
sources:
  - name: supply
    kind: supply
    set voltage: 13.8 V
    output capacitance: 2200 uF
    esr: 20 mohm
    limit: {style: constant current, current: 40 A}
    fault: none
    lead: {length: 1 m, area: 10 mm2}
loads:
  - name: heater
    kind: resistive
    resistance: 50 ohm
    input capacitance: 10 mF
    esr: 5 mohm
    schedule: [{time: 1 s, resistance: 0.5 ohm}]
    limits: {minimum: 0 V, maximum: 15.9 V}
    lead: {length: 1 m, area: 0.75 mm2${fuse}}
`;

  test("a lead that carries more than it is able to for ever", () => {
    for (const runFor of ["3 s", "5.9 s"]) {
      const { status, told } = coming(wire(""), runFor, "overcurrent in a lead");
      expect([status, told.map(({ subject }) => subject)]).toEqual([4, ["lead of the heater"]]);
      const [, at] = /continuously about ([\d.]+) s after the start/.exec(told[0].sentence) ?? [];
      const passes = Number(at);
      expect(
        answered(wire(""), `${passes - 0.3} s`).verdict.findings.filter(({ severity }) => severity !== "ok"),
      ).toEqual([]);
      expect(answered(wire(""), `${passes + 0.3} s`).verdict.findings.map(({ severity }) => severity)).toContain(
        "beyond",
      );
    }
    const spared = coming(wire(", fuse: blade fuse 15 A"), "3 s", "overcurrent in a lead");
    expect([spared.status, spared.told[0].passesRating]).toEqual([0, false]);
    expect(spared.told[0].sentence).toContain("the in-line fuse of the heater melts about");
  });

  test("a battery that is charged: overcharged, or a load's maximum passed on the way, only where what charges it gets so far", () => {
    const charged = (ceiling: string, table: string) => `
fault at: 1 min
sources:
  - name: charger
    kind: charger
    set voltage: 13.3 V
    output capacitance: 4700 uF
    esr: 15 mohm
    limit: {style: constant current, current: 10 A}
    fault: {kind: lost feedback, ceiling voltage: ${ceiling}, slew: 50 V/s}
    lead: {length: 1.5 m, area: 4 mm2}
  - name: house battery
    kind: battery
    internal resistance: 5 mohm
    capacity: 100 Ah
    initial charge: 50 %
    emf table: [{charge: 10 %, emf: 13.29 V}, {charge: 95 %, emf: 13.2900001 V}, {charge: ${table}, emf: 16.6 V}]
    emf: 13.29000005 V
    lead: {length: 2 m, area: 6 mm2}
loads:
  - name: radio
    kind: resistive
    resistance: 5 ohm
    limits: {minimum: 11 V, maximum: 15.9 V}
    lead: {length: 1 m, area: 4 mm2}
`;
    const early = answered(charged("17 V", "100 %"), "6 h").verdict;
    expect(early.exitStatus).toBe(1);
    expect(early.pending.map(({ kind, passesRating }) => [kind, passesRating])).toEqual([
      ["charging", false],
      ["voltage rising with charge", true],
    ]);
    expect(early.pending[1].sentence).toContain("passes its maximum of 15.9 V about 6 h 21 min after the fault");
    const { aboveMaximum } = answered(charged("17 V", "100 %"), "6.5 h").run.loads[0];
    expect((6.5 * 3600 - aboveMaximum.total - 60) / 3600).toBeCloseTo(6 + 21.5 / 60, 1);
    // Full at 104 %: it is overcharged before the voltage rises.
    const full = answered(charged("17 V", "104 %"), "6 h").verdict;
    expect([full.exitStatus, full.pending[0].passesRating]).toEqual([1, true]);
    const harmless = answered(charged("15 V", "100 %"), "6 h").verdict;
    expect([harmless.exitStatus, harmless.pending.map(({ passesRating }) => passesRating)]).toEqual([0, [false]]);
  });

  test("a load above its maximum: when its withstand curve ends", () => {
    const text = supply("25 A", "17 V") + radio.replace("15.9 V}", "15.9 V, withstand: parts rated 16 V}");
    const { status, told } = coming(text, "0.9 s", "above its maximum");
    expect([status, told.map(({ passesRating }) => passesRating)]).toEqual([1, [true]]);
    expect(told[0].sentence).toContain("it is beyond what it stands about 1 s after the fault");
    const { headline, loads } = answered(text, "0.9 s").verdict;
    expect(headline).toContain("so far within what it stands");
    expect(headline).toMatch(/by estimate it is beyond that about 1 s after the fault, unless somebody acts before\.$/);
    expect(loads[0].sentence).toBe(headline);
    expect(answered(text, "1.05 s").verdict.grade).toBe("beyond");
    expect(answered(text, "1 s").verdict.grade).toBe("withstood");
  });
});
