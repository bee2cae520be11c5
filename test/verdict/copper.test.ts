import { type Answered, runScenario } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import {
  copperAfter,
  heldRise,
  heldRiseAtOnce,
  settledCopper,
  timeToCopper,
} from "../../packages/sim/src/scenario/copper-heat.ts";

/** Copper by IEC 60949: θ' = (i/(K·A))²·(θ + β) − (θ − ambient)/τ, by small steps of the midpoint rule; written here once more. */
function integrated(density: (t: number) => number, from: number, time: number, tau: number, ambient = 25): number {
  const steps = 20_000;
  const h = time / steps;
  const rate = (t: number, theta: number) => (density(t) / 226e6) ** 2 * (theta + 234.5) - (theta - ambient) / tau;
  let theta = from;
  for (let k = 0; k < steps; k++) {
    const half = theta + (h / 2) * rate(k * h, theta);
    theta += h * rate((k + 0.5) * h, half);
  }
  return theta;
}

describe("the temperature of copper whose resistance goes with it", () => {
  test("is read back as the rise of a wire of held resistance, without loss of heat", () => {
    for (const density of [50e6, 150e6, 250e6])
      expect(
        heldRiseAtOnce(
          25,
          integrated(() => density, 25, 1, 1e12),
        ) /
          (5e-15 * density ** 2),
      ).toBeCloseTo(1, 6);
  });

  test("is that of the equation, for a while and for ever", () => {
    for (const [density, tau, time] of [
      [156e6, 60, 1],
      [32e6, 60, 40],
      [20e6, 20, 400],
      [60e6, 5, 7],
    ]) {
      const heating = { ambient: 25, rest: 5e-15 * density ** 2 * tau, timeConstant: tau };
      const found = copperAfter(heating, 30, time);
      expect(found / integrated(() => density, 30, time, tau)).toBeCloseTo(1, 5);
      expect(timeToCopper(heating, 30, found)).toBeCloseTo(time, 6);
      if (heating.rest < 255) expect(copperAfter(heating, 30, 1e6)).toBeCloseTo(settledCopper(25, heating.rest), 6);
    }
    expect(heldRise(25, settledCopper(25, 37))).toBeCloseTo(37, 10);
    expect(settledCopper(25, 300)).toBe(Number.POSITIVE_INFINITY);
    expect(timeToCopper({ ambient: 25, rest: 30, timeConstant: 60 }, 25, 70)).toBeNull();
    expect(timeToCopper({ ambient: 25, rest: 30, timeConstant: 60 }, 71, 70)).toBe(0);
  });
});

function judgedFor(runFor: string, schedule: string) {
  const text = `
title: short on a lead
fault at: 1 s
run for: ${runFor}
sources:
  - name: battery
    kind: battery
    emf: 12.8 V
    internal resistance: 5 mohm
    capacity: 100 Ah
    emf per charge: 1 V
    lead: {resistance: 2 mohm, inductance: 1 uH, area: 35 mm2}
loads:
  - name: lamp bank
    kind: resistive
    input capacitance: 10 mF
    esr: 5 mohm
    resistance: 5 ohm
    schedule: [${schedule}]
    limits: {minimum: 0 V, maximum: 20 V}
    lead: {resistance: 15 mohm, inductance: 1 uH, area: 1 mm2}
`;
  const { verdict } = runScenario(text, "lead.yaml") as Answered;
  if (verdict.kind !== "verdict") throw new Error("no verdict");
  const findings = verdict.findings.filter(({ subject }) => subject === "lead of the lamp bank");
  return { status: verdict.exitStatus, findings };
}

describe("a lead's verdict", () => {
  const once = "{time: 1 s, resistance: 60 mohm}, {time: 2 s, resistance: 5 ohm}";

  test("is the same however long the run goes on after the overcurrent, and that of the equation", () => {
    const runs = ["2.2 s", "4.9 s", "5.1 s", "10 min"].map((runFor) => judgedFor(runFor, once));
    // 2.5 A in normal service, 156 A for a second.
    const theory = integrated(() => 156.1e6, settledCopper(25, 5e-15 * 2.55e6 ** 2 * 60), 1, 60);
    for (const { status, findings } of runs) {
      expect(status).toBe(4);
      expect(findings.map(({ quantity, severity }) => [quantity, severity])).toEqual([
        ["copper, short-circuit limit", "beyond"],
        ["I²t (IEC 60949)", "beyond"],
      ]);
      expect(Math.abs(findings[0].found - theory)).toBeLessThan(1);
      expect(findings[1].found).toBeCloseTo(runs[0].findings[1].found, -1);
    }
  });

  test("of several overcurrents lies on the safe side of the equation, and not far", () => {
    const twice =
      "{time: 1 s, resistance: 90 mohm}, {time: 1.5 s, resistance: 5 ohm}, {time: 11.5 s, resistance: 90 mohm}, {time: 12 s, resistance: 5 ohm}";
    const [copper] = judgedFor("20 s", twice).findings;
    const density = (t: number) => (t < 0.5 || (t > 10.5 && t < 11) ? 114.5e6 : 2.5e6);
    const theory = integrated(density, 26.9, 11, 60);
    expect(copper.found).toBeGreaterThan(theory - 0.5);
    expect(copper.found).toBeLessThan(theory + 15);
  });
});
