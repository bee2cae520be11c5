import { expect, test } from "vitest";
import { type Answered, parseScenario, runScenario, ScenarioRun, simulate } from "../../packages/sim/src/index.ts";
import { energyCloses } from "../../packages/sim/src/verdict/basis.ts";
import { bySecondRun } from "../../packages/sim/src/verdict/second-run.ts";
import { shippedText } from "../support/charts-of-runs.ts";

test("a second run that leapt wrongly is made again, every round of it: the current a melted fuse had to break is known", () => {
  const text = [
    "title: hiccup",
    "fault at: 20 ms",
    "run for: 3 min",
    "sources:",
    "  - name: station supply",
    "    part: switch-mode supply 30 A, hiccup",
    "    limit: {style: hiccup, current: 34.5 A, detection time: 3 ms, off time: 170 ms, ramp time: 5 ms}",
    "    fault: lost feedback",
    "    lead: {length: 1.5 m, area: 6 mm2, fuse holders: 1}",
    "main fuse: blade fuse 7.5 A",
    "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}",
    "loads:",
    "  - name: relay radio",
    "    part: 100 W radio",
    "    limits: {withstand: parts rated 16 V}",
    "    lead: {length: 1 m, gauge: 12 AWG, spacing: 3.5 mm}",
  ].join("\n");
  const { run, verdict } = runScenario(text, "a.yaml", { record: false }) as Answered;
  expect(run.fuses[0].state).toBe("open");
  expect(bySecondRun(run, { record: false })(0)).toBeGreaterThan(200);
  const told = verdict.kind === "verdict" ? verdict.findings : [];
  expect(told.find(({ quantity }) => quantity === "available short-circuit current")?.sentence).toContain(
    "by a second run in which it cannot melt",
  );
});

test("a run whose energy does not close at the usual accuracy is made once more, finer", () => {
  const text = shippedText("19-hot-plug-from-dead.yaml");
  const options = { method: "odex", until: 1e-4 } as const;
  const { scenario } = parseScenario(text, "x");
  if (scenario === null) throw new Error("this file was to be right");
  expect(energyCloses(simulate(scenario, options))).toBe(false);
  const tight = simulate(scenario, { ...options, tolerance: "tight" });
  expect(tight.energy.relative).toBeLessThan(simulate(scenario, options).energy.relative);
  const job = new ScenarioRun(text, "x", options);
  const stages = new Set<string>();
  while (job.advance(1) === "running") stages.add(job.stage);
  expect([...stages]).toEqual(["run", "finer run"]);
  // At once: this integrator begins anew after a pause, so that its pieces differ in the last figures.
  expect(runScenario(text, "x", options)).toMatchObject({ run: { energy: tight.energy } });
  // A tolerance that somebody chose is kept, whatever comes of it.
  const chosen = runScenario(text, "x", { ...options, tolerance: 1e-6 });
  expect(chosen).toMatchObject({ run: { energy: simulate(scenario, options).energy } });
});
