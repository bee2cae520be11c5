import { expect, test } from "vitest";
import { firstMicrosecondPeak, riseRemedy } from "../../packages/sim/src/verdict/current-rise.ts";
import { crowbar } from "./parts.ts";

/** The same branch by small steps: v' = −i/C, i' = (v − R·i)/L, 1 V on the capacitor. */
function stepped(L: number, C: number, R: number): number {
  const dt = 1e-12;
  let [v, i, most] = [1, 0, 0];
  for (let step = 0; step < 1e6; step++) {
    i += (dt * (v - R * i)) / L;
    v -= (dt * i) / C;
    most = Math.max(most, i);
  }
  return most;
}

test.each([
  ["underdamped, peak inside", 5e-8, 1e-7, 0.2],
  ["underdamped, peak later", 1e-6, 1e-5, 0.2],
  ["overdamped, peak inside", 5e-8, 1e-6, 2],
  ["overdamped, peak later", 1e-6, 1e-4, 0.5],
])("first microsecond of the branch: %s", (_, inductance, capacitance, resistance) => {
  const exact = firstMicrosecondPeak({ inductance, capacitance, resistance });
  expect(exact / stepped(inductance, capacitance, resistance)).toBeCloseTo(1, 4);
});

test("critical damping joins its two sides", () => {
  const [L, C] = [5e-8, 1e-6];
  const resistance = 2 * Math.sqrt(L / C);
  const at = (factor: number) =>
    firstMicrosecondPeak({ inductance: L, capacitance: C, resistance: resistance * factor });
  expect(at(1) / at(1 - 1e-4)).toBeCloseTo(1, 3);
  expect(at(1) / at(1 + 1e-4)).toBeCloseTo(1, 3);
});

test("the remedies meet the rating when put in", () => {
  const node = { capacitance: 1e-6, resistance: 0.2 };
  const now = { inductance: crowbar.inductance, capacitance: node.capacitance, resistance: 0.206 };
  const drive = 14;
  const found = (drive * firstMicrosecondPeak(now)) / 1e-6;
  const remedy = riseRemedy(crowbar, node, found, found / 2);
  const better = (over: object) => (drive * firstMicrosecondPeak({ ...now, ...over })) / 1e-6 / (found / 2);
  expect(better({ inductance: remedy.inductance })).toBeCloseTo(1, 6);
  expect(better({ capacitance: remedy.capacitance })).toBeCloseTo(1, 6);
});

test("no capacitance helps where the rating is out of reach", () => {
  const remedy = riseRemedy(crowbar, { capacitance: 1e-6, resistance: 0.2 }, 1e9, 1e5);
  expect(remedy).toEqual({ inductance: null, capacitance: null });
});
