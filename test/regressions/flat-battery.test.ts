import { expect, test } from "vitest";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { ran } from "../support/run.ts";

/** A charger that gives 3 A and a radio that takes 1 A, on a battery whose EMF rises by so much between 10 % and full, and steeply from there. */
function charged(rise: number): number {
  const text = [
    "title: flat battery",
    "fault at: 1 s",
    "run for: 1 h",
    "sources:",
    "  - name: charger",
    "    kind: supply",
    "    set voltage: 13.3 V",
    "    output capacitance: 4.7 mF",
    "    esr: 15 mohm",
    "    bleeder resistance: 100 kohm",
    "    limit: {style: constant current, current: 3 A}",
    "    fault: {kind: voltage turned up, end voltage: 18 V, slew: 100 V/s}",
    "    lead: {length: 1 m, area: 6 mm2}",
    "  - name: hut battery",
    "    kind: battery",
    "    capacity: 100 Ah",
    "    internal resistance: 5 mohm",
    "    initial charge: 99 %",
    `    emf table: [{charge: 0 %, emf: 10 V}, {charge: 10 %, emf: 13.3 V}, {charge: 100 %, emf: ${(13.3 + rise).toFixed(6)} V}, {charge: 102 %, emf: 17 V}]`,
    "    lead: {length: 1 m, area: 6 mm2}",
    "loads:",
    "  - name: relay radio",
    "    kind: constant current",
    "    current: 1 A",
    "    input capacitance: 1 mF",
    "    knee voltage: 6 V",
    "    limits: {minimum: 11.7 V, maximum: 15.9 V}",
    "    lead: {length: 1 m, area: 4 mm2}",
    "",
  ].join("\n");
  return chargeAtEnd(text);
}

function chargeAtEnd(text: string): number {
  const { scenario, issues } = parseScenario(text, "flat.yaml");
  if (scenario === null) throw new Error(issues.map(({ message }) => message).join("\n"));
  const { charge } = ran(scenario, { record: false }).sources[1];
  return charge?.end ?? Number.NaN;
}

// 2 A for all but the first second of an hour: 1.9994 Ah of 100 Ah. A microvolt late at the corner, it lost up to half of that.
test.each([1e-2, 1e-3, 1e-4, 1e-5])(
  "a battery keeps every coulomb, however flat its table is before a steep piece: a rise of %s V",
  (rise) => {
    expect(charged(rise)).toBeCloseTo(0.99 + 0.019994, 5);
  },
);

const LEAD = "    lead: {resistance: 10 mohm, inductance: 5 uH, area: 4 mm2, thermal time constant: 0.1 s}";

// Between two such pieces the EMF stands so still that the line is at rest, but for the charge, which reaches the steep piece all the same.
test("a battery on a piece of a millivolt is charged into the next one, however still its voltage stands", () => {
  const text = [
    "title: plateau",
    "fault at: 1 s",
    "run for: 200 s",
    "sources:",
    "  - name: charger",
    "    kind: charger",
    "    set voltage: 13.3 V",
    "    output capacitance: 4.7 mF",
    "    esr: 15 mohm",
    "    response time: 10 ms",
    "    source resistance: 50 mohm",
    "    limit: {style: constant current, current: 10 A}",
    "    fault: {kind: lost feedback, ceiling voltage: 17 V, slew: 50 V/s}",
    LEAD,
    "  - name: hut battery",
    "    kind: battery",
    "    capacity: 100 Ah",
    "    internal resistance: 5 mohm",
    "    initial charge: 94.85 %",
    "    emf table: [{charge: 10 %, emf: 13.29 V}, {charge: 95 %, emf: 13.291 V}, {charge: 96 %, emf: 17.6 V}]",
    LEAD,
    "loads:",
    "  - name: relay radio",
    "    kind: resistive",
    "    resistance: 5 ohm",
    "    limits: {minimum: 11 V, maximum: 14.2 V}",
    LEAD,
    "",
  ].join("\n");
  // 10 A less some 2.7 A of the radio for 199 s, and a little less from the corner on: 0.40 % of 100 Ah, of which 0.15 lead to the corner.
  expect(chargeAtEnd(text)).toBeGreaterThan(0.9515);
  expect(chargeAtEnd(text)).toBeLessThan(0.9526);
});
