import { expect, it } from "vitest";
import { Simulation } from "../../packages/sim/src/model/run.ts";
import { hiccupLine } from "../support/hiccup-line.ts";

it("an hour of hiccup that is leapt over: every state that remembers as if each round had been integrated", () => {
  const scenario = hiccupLine({ endTime: 3600, offTime: "300 ms" });
  const [leapt, whole] = [true, false].map((leaps) => {
    const simulation = new Simulation(scenario, { record: false, leaps });
    while (simulation.advance(1e5) === "running");
    return simulation.result();
  });
  expect(leapt.repetition.leaps.length).toBe(1);
  expect(leapt.crowbar?.firings.length).toBe(whole.crowbar?.firings.length);
  const pairs = [
    [leapt.crowbar?.endTemperature, whole.crowbar?.endTemperature, 25],
    [leapt.crowbar?.peakTemperature.value, whole.crowbar?.peakTemperature.value, 25],
    [leapt.crowbar?.junctionEnergy, whole.crowbar?.junctionEnergy, 0],
    [leapt.fuses[0].peakTheta, whole.fuses[0].peakTheta, 0],
    [leapt.fuses[0].totalI2t, whole.fuses[0].totalI2t, 0],
    [leapt.energy.fed, whole.energy.fed, 0],
    ...whole.leads.map(({ endRise }, k) => [leapt.leads[k].endRise, endRise, 0]),
  ];
  for (const [a = Number.NaN, b = 0, from = 0] of pairs)
    expect(Math.abs(a - b) / Math.abs(b - from)).toBeLessThan(1e-6);
  expect(leapt.work.steps).toBeLessThan(whole.work.steps / 100);
});
