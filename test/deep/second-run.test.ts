import { expect, test } from "vitest";
import { type Answered, runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { bySecondRun } from "../../packages/sim/src/verdict/second-run.ts";

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
