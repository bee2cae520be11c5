import { describe, expect, it } from "vitest";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import { apply, expm, type Matrix } from "../support/dense.ts";
import { heldJacobian } from "../support/derivatives.ts";
import { battery, crowbar, currentLoad, lead, line, resistor } from "../support/line.ts";
import { inside } from "../support/modes.ts";
import { ran } from "../support/run.ts";

/** Each line is run from dead: a battery is put to a series circuit at t = 0. The node between the two leads lies at the source. */
const bare = { capacitance: 1e-9, resistance: 1 };
const nodes = { supplySide: bare, protectedSide: bare, radioSide: bare };

/** Two thousandths of the resistance and next to no inductance lie before the node. */
const source = (E: number, R: number) =>
  battery({
    emf: E,
    capacityAh: 1e6,
    internalResistance: 1e-3 * R,
    lead: lead({ inductance: 1e-9, resistance: 1e-3 * R }),
  });

function series(
  parts: { E: number; R: number; L: number; C: number; load?: number },
  delays: readonly number[],
  end: number,
) {
  const { E, R, L, C, load = 1e9 } = parts;
  return ran(
    line({
      start: "dead",
      faultTime: 1e6,
      endTime: end,
      nodes,
      sources: [source(E, R)],
      loads: [
        resistor(load, { inputCapacitance: C, esr: R / 4, lead: lead({ inductance: L, resistance: 0.748 * R }) }),
      ],
    }),
    { tolerance: 1e-8, samples: delays.map((delay) => ({ event: -1, delay })) },
  );
}

describe("series circuits against closed forms (any textbook of circuit theory; Rashid, Power Electronics, chapter 2)", () => {
  // Source: Rashid, 4th ed., example 2.6: 220 V, 20 µF, 80 µH: peak 110 A, half period 125.66 µs.
  it("LC: peak 110 A at the quarter period, the current back at zero after 125.66 µs", () => {
    const run = series({ E: 220, R: 0.004, L: 80e-6, C: 20e-6 }, [125.66e-6], 130e-6);
    expect(Math.abs(run.leads[1].peakCurrent / 110 - 1)).toBeLessThan(3e-3);
    const current = run.trace.columns.find(({ name }) => name === "radio_A")?.values ?? new Float64Array(1);
    const crest = run.trace.time[current.indexOf(Math.max(...current))];
    expect(Math.abs(crest / 62.83e-6 - 1)).toBeLessThan(0.05);
    expect(Math.abs(run.samples[0].values.radio_A)).toBeLessThan(0.3);
  });

  // Source: Rashid, example 2.7: 220 V, 2 mH, 0.05 µF, 160 ohm: alpha 40 000 /s, omega_r 91 652 rad/s, zero after 34.28 µs.
  it("RLC: the current is back at zero after 34.28 µs and follows its damped sine", () => {
    const delays = [5e-6, 12e-6, 20e-6, 30e-6, 34.28e-6];
    const run = series({ E: 220, R: 160, L: 2e-3, C: 0.05e-6 }, delays, 36e-6);
    for (const { delay, values } of run.samples) {
      const exact = (220 / (91652 * 2e-3)) * Math.exp(-40000 * delay) * Math.sin(91652 * delay);
      expect(Math.abs(values.radio_A - exact)).toBeLessThan(0.02);
    }
  });

  // Source: Rashid, example 2.4: 220 V, 44 ohm, 0.1 µF: 5 A at first, 139.64 V left after 2 µs while it discharges, 2.42 mJ lost.
  it("RC: charging through the same parts leaves 220 − 139.64 V after 2 µs; half of the energy fed is lost, 2.42 mJ", () => {
    const run = series({ E: 220, R: 44, L: 4e-9, C: 0.1e-6 }, [2e-6], 60e-6);
    const { radio_V, radio_A } = run.samples[0].values;
    const inner = radio_V - 11 * radio_A;
    expect(Math.abs(inner - (220 - 139.64))).toBeLessThan(1.2);
    expect(Math.abs(run.energy.dissipated / 2.42e-3 - 1)).toBeLessThan(0.015);
    expect(Math.abs(run.energy.storedChange / 2.42e-3 - 1)).toBeLessThan(0.015);
  });

  it("RL: the current rises as 1 − exp(−t·R/L)", () => {
    const [E, L, R] = [12, 2e-3, 1];
    const run = ran(
      line({
        start: "dead",
        faultTime: 1e6,
        endTime: 0.01,
        nodes,
        sources: [source(E, R)],
        loads: [resistor(R / 4, { inputCapacitance: 0, lead: lead({ inductance: L, resistance: 0.748 * R }) })],
      }),
      { samples: [5e-4, 2e-3, 6e-3].map((delay) => ({ event: -1, delay })) },
    );
    for (const { delay, values } of run.samples)
      expect(Math.abs(values.radio_A / ((E / R) * (1 - Math.exp((-delay * R) / L))) - 1)).toBeLessThan(1e-4);
  });

  it.each([
    ["under-damped", 0.3],
    ["critically damped", 1],
    ["over-damped", 3],
  ])("RLC %s: the capacitor's voltage follows the step response", (_name, zeta) => {
    const [E, L, C] = [12, 20e-6, 1e-3];
    const w = 1 / Math.sqrt(L * C);
    const R = 2 * zeta * Math.sqrt(L / C);
    const delays = [0.5, 1, 2, 4].map((x) => x / w);
    const run = series({ E, R, L, C }, delays, 5 / w);
    const rest = (t: number): number => {
      if (zeta === 1) return Math.exp(-w * t) * (1 + w * t);
      const d = Math.sqrt(Math.abs(zeta * zeta - 1)) * w;
      const [even, odd] = zeta < 1 ? [Math.cos(d * t), Math.sin(d * t)] : [Math.cosh(d * t), Math.sinh(d * t)];
      return Math.exp(-zeta * w * t) * (even + ((zeta * w) / d) * odd);
    };
    for (const { delay, values } of run.samples) {
      const inner = values.radio_V - (R / 4) * values.radio_A;
      expect(Math.abs(inner - E * (1 - rest(delay)))).toBeLessThan(2e-3 * E);
    }
  });
});

describe("the whole linear line against its matrix exponential (Golub & Van Loan, Matrix Computations, section 9.3)", () => {
  it("two batteries, two loads, crowbar blocking: every state over five decades of time", () => {
    const scenario = line({
      start: "dead",
      faultTime: 1e6,
      endTime: 2e-3,
      sources: [
        battery({ emf: 13.8 }),
        battery({ name: "second", emf: 12.6, internalResistance: 0.02, lead: lead({ inductance: 3e-6 }) }),
      ],
      crowbar: crowbar({ tripVoltage: 1e3 }),
      loads: [
        resistor(2),
        resistor(5, { name: "b", inputCapacitance: 2.2e-4, lead: lead({ inductance: 2e-6, resistance: 0.03 }) }),
      ],
    });
    const probe = new Simulation(scenario);
    const view = inside(probe);
    const n = view.line.size;
    // Copper temperatures and the junction follow squares of the currents: they feed nothing back and are left out.
    const linear = view.line.names.map((name, i) => (/dT/.test(name) ? -1 : i)).filter((i) => i >= 0);
    const y0 = view.y.slice();
    const rates = new Float64Array(n);
    view.line.rates(0, y0, rates);
    const J = heldJacobian(view.line, 0, y0);
    const A: Matrix = linear.map((i) => linear.map((j) => J[i][j]));
    const start = linear.map((i) => y0[i]);
    // y' = A·y + b with b from the rates at the start, as one linear system with a constant 1 as its last state.
    const augmented = A.map((row, k) => [...row, rates[linear[k]] - apply([row], start)[0]]);
    augmented.push(new Array<number>(linear.length + 1).fill(0));
    for (const delay of [1e-7, 1e-6, 1e-5, 1e-4, 2e-3]) {
      const exact = apply(expm(augmented.map((row) => row.map((value) => value * delay))), [...start, 1]);
      const simulation = new Simulation(scenario, { until: delay, tolerance: 1e-9 });
      while (simulation.advance(1000) === "running");
      const y = inside(simulation).y;
      linear.forEach((i, k) => {
        expect(Math.abs(y[i] - exact[k]), `${view.line.names[i]} at ${delay}`).toBeLessThan(
          2e-6 * Math.max(1, Math.abs(exact[k])),
        );
      });
    }
  });
});

describe("the protector in the middle of two equal leads", () => {
  // Common practice, no source: a bench reading of 14.8 V at the load with 15.0 V at the supply means 14.9 V at the protector.
  it("sees the mean of both ends", () => {
    const run = ran(
      line({
        endTime: 0.01,
        sources: [battery({ emf: 15.05, internalResistance: 0.0025, lead: lead({ resistance: 0.005 }) })],
        loads: [currentLoad(20, { lead: lead({ resistance: 0.005 }) })],
      }),
      { samples: [{ event: 0, delay: 5e-3 }] },
    );
    const { battery_V, radio_V, protected_side_V } = run.samples[0].values;
    expect(battery_V).toBeCloseTo(15, 4);
    expect(radio_V).toBeCloseTo(14.8, 4);
    expect(protected_side_V).toBeCloseTo(14.9, 4);
  });
});
