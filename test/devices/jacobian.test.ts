import { describe, expect, it } from "vitest";
import { solveDense } from "../support/dense.ts";
import { differences, heldJacobian, timeDifferences } from "../support/derivatives.ts";
import { modeScenarios } from "../support/mode-scenarios.ts";
import { type Inside, imbalance, visitModes } from "../support/modes.ts";

/** Exact partial derivatives are what keeps an implicit method's order: one wrong entry costs steps silently. */
function checkDerivatives({ line, y, local }: Inside, modes: string[]): void {
  const J = heldJacobian(line, local, y);
  const { J: D, noise } = differences(line, local, y);
  const wrong: string[] = [];
  J.forEach((row, i) => {
    const largest = Math.max(...row.map(Math.abs), ...D[i].map(Math.abs));
    row.forEach((value, j) => {
      if (!(Math.abs(value - D[i][j]) <= 3e-6 * largest + noise[i]))
        wrong.push(`d(${line.names[i]})'/d(${line.names[j]}) is ${value}, by differences ${D[i][j]}`);
    });
  });
  expect(wrong, modes.join("; ")).toEqual([]);

  // The structured solver solves with that matrix.
  const shift = 1e5;
  const b = Float64Array.from(y, (_, i) => Math.sin(3 * i + 1));
  const matrix = J.map((row, i) => row.map((value, j) => (i === j ? shift : 0) - value));
  const dense = solveDense(matrix, b);
  expect(line.factor(shift)).toBe(true);
  line.solve(b);
  for (let i = 0; i < b.length; i++) expect(Math.abs(b[i] - dense[i])).toBeLessThan(1e-8 * (Math.abs(dense[i]) + 1e-6));
}

function checkTimeDerivative({ line, y, local }: Inside, modes: string[]): void {
  const h = 1e-6;
  const t = local + 2 * h;
  const D = timeDifferences(line, t, y, h);
  const out = new Float64Array(line.size);
  line.rates(t, y, out);
  const size = out.map(Math.abs);
  line.timeRates(t, y, out);
  out.forEach((value, i) => {
    const noise = (1e-14 * (size[i] + 1)) / h;
    expect(Math.abs(value - D[i]), `${line.names[i]} in ${modes.join("; ")}`).toBeLessThanOrEqual(
      1e-5 * Math.abs(value) + 10 * noise,
    );
  });
}

/** Every mode of every device; a mode that no scenario reaches any more fails here. */
const EVERY_MODE = [
  ...["zero", "demand", "limit", "drop-out", "pass", "running", "off", "latched", "waiting"].map((m) => `supply: ${m}`),
  "supply: ramp, demand",
  "supply: moving, demand",
  "foldback: limit",
  ...["charging", "idle", "ripple, charging", "ripple, idle"].map((m) => `reservoir: ${m}`),
  ...["off", "delivering", "above open circuit"].map((m) => `panel: ${m}`),
  ...[0, 1, 2].map((k) => `battery: segment ${k}`),
  ...["intact", "clearing", "open"].map((m) => `lead fuse: ${m}`),
  ...["closed", "clearing", "open"].map((m) => `contact: ${m}`),
  ...["conducting", "blocked"].map((m) => `diode: ${m}`),
  ...["closed", "clearing on", "clearing blocked", "open"].map((m) => `main fuse: ${m}`),
  ...["closed", "clearing on", "open"].map((m) => `switch path: ${m}`),
  ...["closed", "opening", "clearing", "open"].map((m) => `switch: ${m}`),
  ...["blocking", "forward", "at zero", "forward, failed short"].map((m) => `crowbar: ${m}`),
  ...["blocking", "forward"].map((m) => `own crowbar: ${m}`),
  ...["off", "on", "short"].flatMap((m) => [`clamp: ${m}`, `load clamp: ${m}`]),
  ...["above", "below", "asleep above", "asleep below"].flatMap((m) => [
    `load: constant current ${m}`,
    `load: constant power ${m}`,
  ]),
  "load: resistive",
  "load: resistive without capacitor",
  "load: resistive asleep above",
  "load: resistive asleep below",
  "lamp: with capacitor",
  "lamp: without capacitor",
];

describe("derivatives and node currents in every mode", () => {
  const reached = new Set<string>();

  it.each(Object.entries(modeScenarios))("%s", (_name, scenario) => {
    const visited = visitModes(scenario, (view, modes) => {
      checkDerivatives(view, modes);
      checkTimeDerivative(view, modes);
      expect(imbalance(view), modes.join("; ")).toBeLessThan(1e-9);
    });
    for (const mode of visited) reached.add(mode);
  });

  it("no mode is left out", () => {
    expect(EVERY_MODE.filter((mode) => !reached.has(mode))).toEqual([]);
  });
});
