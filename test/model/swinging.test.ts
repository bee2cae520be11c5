import { readFileSync } from "node:fs";
import { join } from "node:path";
import { expect, test } from "vitest";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { battery, lead, line, powerLoad, supply } from "../support/line.ts";
import { ran } from "../support/run.ts";

interface Values {
  readonly eigenvalue: readonly [number, number];
  readonly peak: number;
  readonly lowest: number;
}

/** Made by swinging-values.py beside it. */
const scipy: Values = JSON.parse(readFileSync(join(import.meta.dirname, "swinging-values.json"), "utf8"));

const thin = lead({ resistance: 5e-3, inductance: 1e-6 });
const swings = {
  sources: [
    supply({
      lead: thin,
      outputCapacitance: 2.2e-3,
      esr: 0.01,
      limit: { style: "constant current", current: 60 },
      fault: { kind: "voltage turned up", endVoltage: 14.2, slew: 5 },
    }),
  ],
  nodes: {
    supplySide: { capacitance: 1e-7, resistance: 1 },
    protectedSide: { capacitance: 1e-6, resistance: 0.2 },
    radioSide: { capacitance: 1e-7, resistance: 1 },
  },
  loads: [{ ...powerLoad(40, { lead: thin, inputCapacitance: 10e-6, esr: 1e-3 }), kneeVoltage: 6 }],
  mainFuse: null,
  crowbar: null,
  seriesSwitch: null,
  clamp: null,
  faultTime: 0.1e-3,
  endTime: 3.5e-3,
} as const;

test.each(["rodas5p", "rodas4"] as const)(
  "%s follows a line that swings by itself to the same peak as SciPy",
  (method) => {
    const run = ran(line(swings), { method, record: false });
    expect(Math.abs(run.loads[0].peak.value / scipy.peak - 1)).toBeLessThan(1e-3);
  },
);

test("a line that swings by itself is not at rest at a point where nothing moves", () => {
  const quiet = { ...swings, sources: [supply({ ...swings.sources[0], fault: { kind: "none" } })] };
  const { time } = ran(line(quiet), { record: false }).outcome;
  // From there on no disturbance grows to e times its size before the end.
  expect(time).toBeGreaterThan(0.99 * (swings.endTime - 1 / scipy.eigenvalue[0]));
});

test("the warning names frequency and growth, as SciPy has them, and which capacitance helps", () => {
  const [warning] = new Simulation(line(swings)).warnings();
  expect(warning.code).toBe("swings-by-itself");
  expect(warning.path).toBe("loads[0]");
  const [rate, swing] = scipy.eigenvalue;
  expect(warning.message).toContain(`about ${(swing / (2e3 * Math.PI)).toFixed(0)} kHz`);
  expect(warning.message).toContain(`every ${Math.round(1e5 / rate)}0 µs`);
  const least = Number(/at least (\d+) µF at the input of radio/.exec(warning.hint ?? "")?.[1]) * 1e-6;
  const holding = (inputCapacitance: number) =>
    new Simulation(line({ ...swings, loads: [{ ...swings.loads[0], inputCapacitance }] })).warnings();
  expect(holding(0.9 * least)).toHaveLength(1);
  expect(holding(least)).toEqual([]);
});

/**
 * A stiff EMF E through R and L to C with its series resistance r, where P is drawn: linearized, with g = P/V², it holds still where
 * g/C < (R + r)/L and g·R < 1 (trace and determinant of the two equations).
 */
test.each([
  { R: 0.05, L: 2e-6, r: 0.01, P: 60 },
  { R: 0.2, L: 10e-6, r: 0.002, P: 100 },
  { R: 0.02, L: 1e-6, r: 0.05, P: 20 },
])("the boundary is that of the closed form: $P W behind $R ohm", ({ R, L, r, P }) => {
  const E = 13.8;
  const V = 0.5 * (E + Math.sqrt(E * E - 4 * R * P));
  const least = ((P / V ** 2) * L) / (R + r);
  const warned = (inputCapacitance: number) => {
    const source = battery({
      emf: E,
      capacityAh: 1e6,
      internalResistance: 1e-3,
      lead: lead({ inductance: 1e-9, resistance: 1e-3 }),
    });
    const load = {
      ...powerLoad(P, { lead: lead({ inductance: L - 1e-9, resistance: R - 2e-3 }) }),
      inputCapacitance,
      esr: r,
    };
    const bare = { capacitance: 1e-9, resistance: 1 };
    const nodes = { supplySide: bare, protectedSide: bare, radioSide: bare };
    const quiet = line({ ...swings, nodes, sources: [source], loads: [load], endTime: 1 });
    return new Simulation(quiet).warnings().length;
  };
  expect([warned(0.98 * least), warned(1.02 * least)]).toEqual([1, 0]);
});

test("what would take too many steps to follow ends without a verdict", () => {
  const yaml = `
fault at: 1 s
run for: 1 h
sources:
  - {name: supply, part: linear supply 20 A, fault: none, lead: {length: 3 m, area: 6 mm2}}
loads:
  - name: radio
    kind: constant power
    power: 60 W
    input capacitance: 10 uF
    esr: 5 mohm
    limits: {minimum: 10 V, maximum: 15.9 V}
    lead: {length: 3 m, area: 6 mm2}
`;
  const answer = runScenario(yaml, "hut.yaml", { record: false, maxSteps: 1000 });
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  expect(answer.run.outcome.failure?.reason).toBe("the work exceeded its bound");
  expect(answer.verdict.headline).toContain("No verdict");
  expect(answer.verdict.warnings.map(({ code }) => code)).toContain("swings-by-itself");
});
