import { expect, test } from "vitest";
import { parseScenario, simulate } from "../../../packages/sim/src/index.ts";
import { LineCurve } from "../../../packages/sim/src/study/fit/curve.ts";
import { scenarioWith } from "./bench.ts";
import { fastInstrument, fittedTwo } from "./two-quantities.ts";

test("what bends within the run's steps moves no value: a trip voltage is found to half a millivolt by a voltage and a current", async () => {
  const instrument = fastInstrument(1, { bits: 14, bandwidth: 2e7 }, 0.02);
  const { found, truth } = await fittedTwo(instrument, [15.12, 52]);
  const offs = found.values.map(({ value }, k) => value - truth[k]!);
  process.stderr.write(`MEASURED  voltage and current without noise: off by ${offs.join(" V and ")} mΩ\n`);
  expect(Math.abs(offs[0]!)).toBeLessThan(0.0005);
  expect(Math.abs(offs[1]!)).toBeLessThan(0.005);
}, 60_000);

test("a trace whose columns are to be followed does so, and has rows only where it takes them", () => {
  const { scenario } = parseScenario(scenarioWith("01-shorted-pass-transistor", {}), "hut.yaml");
  const times = Array.from({ length: 1500 }, (_, k) => 0.01995 + 0.17e-6 * k);
  const samples = times.map((delay) => ({ event: -1, delay }));
  const within = { relay_radio_V: 1e-4, crowbar_A: 0.01 };
  const until = 0.0203;
  const run = simulate(scenario!, { until, samples, record: { within } });
  const plain = simulate(scenario!, { until });
  for (const [column, most] of Object.entries(within)) {
    const { values } = run.trace.columns.find(({ name }) => name === column)!;
    const line = new LineCurve(run.trace.time, values);
    const off = Math.max(...run.samples.map((sample) => Math.abs(line.at(sample.time) - sample.values[column]!)));
    expect(off).toBeLessThan(1.2 * most);
    expect(off).toBeGreaterThan(0.2 * most);
  }
  expect(run.work).toEqual(plain.work);
  expect(run.trace.time.length).toBeLessThan(12 * plain.trace.time.length);
});
