import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import {
  type Answered,
  bySecondRun,
  judge,
  parseScenario,
  type Refused,
  type RunOptions,
  runScenario,
  ScenarioRun,
  simulate,
} from "../../packages/sim/src/index.ts";
import { runFacts } from "../../packages/sim/src/report/run-facts.ts";
import { energyCloses } from "../../packages/sim/src/verdict/basis.ts";

const folder = join(import.meta.dirname, "../../packages/sim/scenarios");
const files = readdirSync(folder).filter((name) => name.endsWith(".yaml"));
const read = (name: string): string => readFileSync(join(folder, name), "utf8");

/** Without the waveforms, which would make a difference unreadable; they are compared on their own. */
function told(answer: Refused | Answered): unknown {
  if (answer.kind === "refused") return answer;
  const { trace, ...found } = answer.run;
  const last = trace.columns.map(({ name, values }) => [name, values.at(-1), values.length]);
  return { ...answer, run: found, last };
}

/** The job from its single pieces, without the class under test. */
function byHand(text: string, file: string): Answered {
  const parsed = parseScenario(text, file);
  const { scenario } = parsed;
  if (scenario === null) throw new Error("this file was to be right");
  let options: RunOptions = {};
  let run = simulate(scenario, options);
  if (!energyCloses(run)) {
    options = { tolerance: "tight" };
    run = simulate(scenario, options);
  }
  const verdict = judge(run, {
    warnings: parsed.issues,
    origins: parsed.origins,
    prospective: bySecondRun(run, options),
  });
  return { kind: "answered", scenario, parsed, run, verdict };
}

test.each(files)("%s: in pieces as at once as by hand", (name) => {
  const text = read(name);
  const job = new ScenarioRun(text, name);
  const stages = new Set<string>();
  let pieces = 0;
  while (job.advance(37) === "running") {
    pieces += 1;
    stages.add(job.stage);
    expect(job.time).toBeGreaterThanOrEqual(0);
    expect(job.time).toBeLessThanOrEqual(job.end);
  }
  expect(pieces).toBeGreaterThan(0);
  const expected = told(byHand(text, name));
  expect(told(job.result())).toEqual(expected);
  expect(told(runScenario(text, name))).toEqual(expected);
  const answer = job.result();
  const melted = answer.kind === "answered" && answer.run.fuses.some(({ meltTime }) => meltTime !== null);
  expect(stages.has("second run")).toBe(melted);
});

test("what a melted fuse had to break may come long after it melted: the second run goes on to the end", () => {
  const text = [
    "title: what comes later",
    "fault at: 20 ms",
    "run for: 4 s",
    "sources:",
    "  - name: station supply",
    "    part: switch-mode supply 30 A, constant current",
    "    fault: lost feedback",
    "    lead: {length: 1.5 m, area: 6 mm2}",
    "  - name: hut battery",
    "    part: AGM battery 100 Ah",
    "    emf: 12.9 V",
    "    lead:",
    "      length: 1 m",
    "      area: 6 mm2",
    "      contact: {resistance: 1 mohm, arc voltage: 15 V, extinction current: 0.1 A, initially: open, operations: [{time: 2 s, action: close}]}",
    "main fuse: blade fuse 10 A",
    "crowbar: {part: SCR 55 A, trip voltage: 15.0 V, sense filter: fast}",
    "loads:",
    "  - name: relay radio",
    "    part: repeater 50 W",
    "    limits: {withstand: parts rated 16 V}",
    "    lead: {length: 1 m, gauge: 12 AWG, spacing: 3.5 mm}",
  ].join("\n");
  const { run, verdict } = runScenario(text, "later.yaml", { record: false }) as Answered;
  const [fuse] = run.fuses;
  expect(fuse.state).toBe("open");
  const whole = bySecondRun(run, {})(0) ?? 0;
  // The battery's contact closes long after the fuse has melted.
  expect(whole).toBeGreaterThan(1.2 * fuse.peakCurrent);
  const told = verdict.kind === "verdict" ? verdict.findings : [];
  const found = told.find(({ quantity }) => quantity === "available short-circuit current")?.found ?? 0;
  expect(Math.abs(found / whole - 1)).toBeLessThan(1e-8);
});

describe("stopped", () => {
  const text = read("02-hiccup-supply.yaml");
  const runTo = (time: number, options = {}): ScenarioRun => {
    const job = new ScenarioRun(text, "hiccup.yaml", options);
    while (job.time < time && job.advance(1) === "running");
    return job;
  };
  const answered = (job: ScenarioRun): Answered => {
    const answer = job.result();
    if (answer.kind === "refused") throw new Error("refused");
    return answer;
  };

  test("in the middle: judged up to there, and said", () => {
    const job = runTo(3);
    const reached = job.time;
    expect(job.status).toBe("running");
    job.stop();
    expect(job.status).toBe("done");
    const { run, verdict, scenario } = answered(job);
    expect(run.outcome).toMatchObject({ status: "stopped", time: reached });
    expect(scenario.endTime).toBe(10);
    expect(run.scenario.endTime).toBe(reached);
    expect(verdict.kind).toBe("verdict");
    const warning = verdict.warnings.find(({ code }) => code === "cut-short");
    expect(warning?.message).toMatch(/^This run was stopped at 3\.\d* s; the scenario goes on until 10 s/);
    // What a run says that was meant to end there.
    const meant = runScenario(text, "hiccup.yaml", { until: reached });
    if (meant.kind === "refused" || meant.verdict.kind !== "verdict" || verdict.kind !== "verdict")
      throw new Error("no verdict");
    expect(verdict.grade).toBe(meant.verdict.grade);
    expect(verdict.reasons).toEqual(meant.verdict.reasons);
    expect(verdict.findings.map(({ severity }) => severity)).toEqual(
      meant.verdict.findings.map(({ severity }) => severity),
    );
    expect(run.loads[0].peak.value).toBeCloseTo(meant.run.loads[0].peak.value, 9);
    expect(run.crowbar?.totalI2t).toBeCloseTo(meant.run.crowbar?.totalI2t ?? 0, 3);
  });

  test("its headline and its facts tell of the time up to there, and call no radio safe", () => {
    const job = runTo(3);
    job.stop();
    const { run, verdict } = answered(job);
    if (verdict.kind !== "verdict") throw new Error("no verdict");
    expect(verdict.stoppedAt).toBe(run.outcome.time);
    expect(verdict.headline).toMatch(/^Up to 3(\.\d+)? s: the relay radio never saw more than/);
    expect(runFacts(run, verdict)).toMatch(/^Stopped early · /);
    const whole = runScenario(text, "hiccup.yaml", { until: 3 });
    if (whole.kind === "refused" || whole.verdict.kind !== "verdict") throw new Error("no verdict");
    expect(whole.verdict.stoppedAt).toBeNull();
    expect(whole.verdict.headline).toMatch(/^The relay radio/);
  });

  test("while the crowbar is about to fire: it was on its way through its level, not close to it", () => {
    const shorted = read("01-shorted-pass-transistor.yaml");
    const whole = runScenario(shorted, "x", { secondRun: false });
    const firing = whole.kind === "refused" ? Number.NaN : (whole.run.crowbar?.firings[0] ?? Number.NaN);
    // The hold at the gate lasts 2 µs; it begins where the level is passed.
    const job = new ScenarioRun(shorted, "x");
    while (job.time < firing - 2.1e-6 && job.advance(1) === "running");
    expect(job.time).toBeLessThan(firing);
    job.stop();
    const { run, verdict } = answered(job);
    const trip = run.scenario.crowbar?.tripVoltage ?? Number.NaN;
    expect(Math.abs((run.crowbar?.peakSense.value ?? 0) / trip - 1)).toBeLessThan(1e-3);
    if (verdict.kind !== "verdict") throw new Error("no verdict");
    expect(verdict.tooClose).toEqual([]);
    expect(verdict.headline).not.toContain("Too close");
  });

  test("before anything has happened there is no verdict, and it says why", () => {
    for (const job of [new ScenarioRun(text, "x"), runTo(0.001)]) {
      expect(job.time).toBeLessThan(0.02);
      job.stop();
      const { verdict } = answered(job);
      expect(verdict.kind).toBe("not a verdict");
      expect(verdict.headline).toMatch(/stopped at .*before its end at 10 s/);
      expect(verdict.exitStatus).toBe(3);
    }
  });

  test("while the second run is going: the verdict stands, that one figure is unknown", () => {
    const shorted = read("01-shorted-pass-transistor.yaml");
    const job = new ScenarioRun(shorted, "x");
    while (job.stage !== "second run") job.advance(20);
    job.stop();
    const { verdict, run } = answered(job);
    const whole = runScenario(shorted, "x");
    if (whole.kind === "refused" || verdict.kind !== "verdict" || whole.verdict.kind !== "verdict")
      throw new Error("no verdict");
    expect(run.outcome).toEqual(whole.run.outcome);
    expect(verdict.warnings).toEqual(whole.verdict.warnings);
    const differing = verdict.findings.filter((finding, index) => {
      const other = whole.verdict.kind === "verdict" ? whole.verdict.findings[index] : null;
      return JSON.stringify(finding) !== JSON.stringify(other);
    });
    expect(differing.map(({ quantity }) => quantity)).toEqual(["available short-circuit current"]);
  });

  test("with an end of its own: the first of the two counts, and the scenario's end is named", () => {
    const job = runTo(1, { until: 5 });
    expect(job.end).toBe(5);
    job.stop();
    const { verdict } = answered(job);
    const cut = verdict.warnings.filter(({ code }) => code === "cut-short");
    expect(cut).toHaveLength(1);
    expect(cut[0].message).toMatch(/stopped at 1\.\d* s; the scenario goes on until 10 s/);
  });

  test("twice, or after the end, changes nothing", () => {
    const job = runTo(0.5);
    job.stop();
    const first = job.result();
    job.stop();
    expect(job.advance(100)).toBe("done");
    expect(job.result()).toBe(first);
    const whole = new ScenarioRun(text, "x", { until: 1 });
    while (whole.advance(1000) === "running");
    const before = whole.result();
    whole.stop();
    expect(whole.result()).toBe(before);
  });
});

test("a job that is not done has no result; a dropped one leaves the next alone", () => {
  const text = read("02-hiccup-supply.yaml");
  const dropped = new ScenarioRun(text, "x");
  dropped.advance(500);
  expect(() => dropped.result()).toThrow(RangeError);
  expect(told(runScenario(text, "x", { until: 0.1 }))).toEqual(told(runScenario(text, "x", { until: 0.1 })));
});

test("a file that is refused is done at once, and says the same as at once", () => {
  for (const [text, until] of [
    ["run for: soon\n", undefined],
    [read("01-shorted-pass-transistor.yaml"), 0.01],
    [read("01-shorted-pass-transistor.yaml"), 7],
    [read("01-shorted-pass-transistor.yaml").replace("part: 100 W radio", "part: 100 W radio\n    power: 90 kW"), 0.1],
  ] as const) {
    const options = until === undefined ? {} : { until };
    const job = new ScenarioRun(text, "x", options);
    expect(job.status).toBe("done");
    expect(job.advance(10)).toBe("done");
    expect(job.result()).toMatchObject({ kind: "refused" });
    expect(job.result()).toEqual(runScenario(text, "x", options));
  }
});

test("a file that is refused has run for no time and ends at none", () => {
  const job = new ScenarioRun("run for: soon\n", "x");
  expect([job.time, job.end]).toEqual([0, 0]);
});
