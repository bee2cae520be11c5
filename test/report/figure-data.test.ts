import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { checkWaveformData } from "../../packages/sim/src/report/figure/check.ts";
import { figureData } from "../../packages/sim/src/report/figure-data.ts";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { station } from "../cli/launch.ts";
import { root } from "../ground/files.ts";

const folder = join(root, "packages/sim/scenarios");

function dataOf(text: string) {
  const result = runScenario(text, "test.yaml", { secondRun: false });
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("; "));
  return { ...result, data: figureData(result.run, result.verdict) };
}

describe.each(readdirSync(folder).filter((name) => name.endsWith(".yaml")))("the figure of %s", (name) => {
  const { data, run, scenario } = dataOf(readFileSync(join(folder, name), "utf8"));
  const [start, end] = [data.time[0], data.time[data.time.length - 1]];

  test("can be drawn", () => {
    expect(() => checkWaveformData(data)).not.toThrow();
  });

  test("tells of every device at every instant", () => {
    expect(data.states.length).toBeGreaterThan(0);
    for (const { spans } of data.states) {
      expect(spans[0].from).toBe(start);
      expect(spans.at(-1)?.to).toBe(end);
      spans.forEach((span, i) => {
        expect(span.to).toBeGreaterThan(span.from);
        if (i > 0) expect(span.from).toBe(spans[i - 1].to);
        if (i > 0) expect(span.tag).not.toBe(spans[i - 1].tag);
      });
    }
  });

  test("has every load's voltage up to its true peak", () => {
    for (const { name: load, peak } of run.loads) {
      const curve = data.voltages.find(({ label, role }) => label === load && role === "load");
      expect(Math.max(...(curve?.values ?? []))).toBe(peak.value);
    }
  });

  test("marks a load that passes its maximum, and no other", () => {
    for (const { name: load, limits } of scenario.loads) {
      const found = run.loads.find((each) => each.name === load);
      const marked = data.events.filter(({ label }) => label.includes(`${load} rises above`));
      expect(marked).toHaveLength((found?.peak.value ?? 0) > limits.maximum ? 1 : 0);
    }
  });
});

describe("the states of a blown fuse's run", () => {
  const { data, run } = dataOf(station());
  const row = (label: string) => data.states.find((each) => each.label === label)?.spans ?? [];

  test("follow the fuse from intact to open", () => {
    expect(row("main fuse").map(({ tag }) => tag)).toEqual(["intact", "heating", "clearing", "open"]);
    expect(row("main fuse")[2].from).toBe(run.fuses[0].meltTime);
    expect(row("main fuse")[3].from).toBe(run.fuses[0].openTime);
  });

  test("follow the SCR from its firing to its end", () => {
    expect(row("SCR").map(({ tag }) => tag)).toEqual(["blocking", "conducting", "blocking"]);
    expect(row("SCR")[1].from).toBe(run.crowbar?.firings[0]);
    expect(row("SCR")[1].to).toBe(run.crowbar?.stops[0]);
  });

  test("say of the SCR and the fuse that they decided the outcome, and not of the supply", () => {
    const decisive = data.states.filter((each) => each.decisive === true).map(({ label }) => label);
    expect(decisive.toSorted()).toEqual(["SCR", "main fuse"]);
  });

  test("follow the supply into its fault, at the instant of the fault", () => {
    expect(row("bench supply").map(({ tag, from }) => [tag, from])).toEqual([
      ["running", 0],
      ["transistor shorted", run.scenario.faultTime],
    ]);
  });
});

test("a hiccup supply limits, goes off and comes back as often as its limiter trips", () => {
  const { data, run } = dataOf(readFileSync(join(folder, "02-hiccup-supply.yaml"), "utf8"));
  const [{ spans }] = data.states;
  const trips = run.events.filter(({ kind }) => kind === "limiter trips").length;
  expect(trips).toBeGreaterThan(10);
  expect(spans.filter(({ tag }) => tag === "off")).toHaveLength(trips);
  expect(spans.filter(({ tag }) => tag === "limiting").length).toBeGreaterThanOrEqual(trips);
});
