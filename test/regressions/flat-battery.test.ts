import { expect, test } from "vitest";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";
import { ran } from "../support/run.ts";

/** A charger that gives 3 A and a radio that takes 1 A, on a battery whose EMF rises by so much between 10 % and full, and steeply from there. */
function charged(rise: number) {
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
