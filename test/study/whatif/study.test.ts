import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { planeData, planeFigure, sweepData, sweepFigure } from "../../../packages/sim/src/figures.ts";
import {
  ownThread,
  parseScenario,
  runScenario,
  scenarioAt,
  type WhatIf,
  whatIf,
  whatIfHeadline,
} from "../../../packages/sim/src/index.ts";
import { readAxis } from "../../../packages/sim/src/study/whatif/axis.ts";
import { whatIfData } from "../../../packages/sim/src/study/whatif/report.ts";
import { pointAt } from "../../../packages/sim/src/study/whatif/study.ts";
import { scattered } from "../spread/scattered.ts";

const text = scattered([], "1 ms");
const X = "crowbar.trip voltage: 14…17 V";
const Y = "crowbar.sense filter: 5…500 us by decades";
const usual = { x: X, y: null, most: 1000, points: 9 };

async function asked(options: Partial<Parameters<typeof whatIf>[2]>): Promise<WhatIf> {
  const answer = await whatIf(text, "hut.yaml", { ...usual, ...options }, ownThread);
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("\n"));
  return answer.study;
}

const { document } = new JSDOM("").window;

describe("a sweep", () => {
  test("gives at each value what a run of that file gives", async () => {
    const study = await asked({});
    expect(study.points.map(({ x }) => x)).toEqual([14, 14.375, 14.75, 15.125, 15.5, 15.875, 16.25, 16.625, 17]);
    for (const point of [study.points[1], study.points[7]]) {
      const answer = runScenario(scenarioAt(study, point), "point.yaml", { record: false });
      if (answer.kind === "refused") throw new Error("refused");
      expect(answer.run.loads[0].peak.value).toBe(point.figures[0]);
      expect(answer.verdict.kind === "verdict" && answer.verdict.safe).toBe(point.outcome.startsWith("load safe"));
    }
  });

  test("is drawn with every figure that varies", async () => {
    const study = await asked({});
    const data = sweepData(study);
    expect(data.curves.map(({ title }) => title)).toContain("peak at the load, V");
    for (const options of [{}, { size: "phone", scheme: "dark" }, { size: "slide" }] as const) {
      const svg = sweepFigure(data, { document, ...options });
      expect(svg.querySelectorAll(".panel.curve")).toHaveLength(data.curves.length);
      expect(svg.querySelector("desc")?.textContent).toContain(whatIfHeadline(study));
    }
  });
});

describe("a plane", () => {
  test("finds the boundary of the endangered load with fewer than 1000 runs, the scenario itself on the safe side", async () => {
    const study = await asked({ y: Y });
    expect(study.isComplete).toBe(true);
    expect(study.points.length).toBeLessThanOrEqual(1000);
    const { kinds } = planeData(study);
    expect(kinds.map(({ tone }) => tone)).toEqual(["withstood", "held"]);
    const svg = planeFigure(planeData(study), { document });
    expect(svg.querySelectorAll(".kinds rect")).toHaveLength(2);
    expect(svg.querySelector(".nominal")).not.toBeNull();
    expect(svg.querySelector("desc")?.textContent).toContain("A: load above its maximum");
    expect(whatIfData(study)).toMatchObject({ isComplete: true, axes: [{ unit: "V" }, { byDecades: true }] });
    // Every 40th point once more, as the file it can be opened as.
    for (const point of study.points.filter((_, k) => k % 40 === 7)) {
      const answer = runScenario(scenarioAt(study, point), "point.yaml", { record: false });
      expect(answer.kind === "answered" && answer.run.loads[0].peak.value).toBe(point.figures[0]);
    }
  }, 240_000);
});

describe("what cannot be varied", () => {
  test.each([
    ["crowbar.trip voltage", "unreadable-axis"],
    ["crowbar.trip volt: 14…17 V", "no-such-value"],
    ["crowbar.trip voltage: 17…14 V", "contradictory-spread"],
    ["crowbar.trip voltage: 14…14 V", "contradictory-spread"],
    ["crowbar.trip voltage: 14…17 A", "wrong-unit"],
    ["crowbar.trip voltage: up", "unreadable-spread"],
    ["crowbar.sense filter: 0…5 us by decades", "not-positive"],
    ["relay radio.part: 1…2", "no-number"],
  ])("%s", async (x, code) => {
    const answer = await whatIf(text, "hut.yaml", { ...usual, x }, ownThread);
    expect(answer).toMatchObject({ kind: "refused", issues: [{ code, path: "x" }] });
  });

  test("a word that stands for a time varies as that time", () => {
    for (const [word, micros] of [
      ["fast", 10],
      ["RF-filtered", 100],
    ] as const) {
      const named = text.replace(/sense filter: [^,}\n]+/, `sense filter: ${word}`);
      expect(named).toContain(word);
      const parsed = parseScenario(named, "hut.yaml");
      expect(readAxis("x", "crowbar.sense filter: 5…500 us", parsed)).toMatchObject({
        nominal: micros,
        unit: "µs",
        low: 5,
        high: 500,
      });
      expect(pointAt(named, "hut.yaml", { ...usual, x: "crowbar.sense filter: 5…500 us" }, "30 us")).toContain(
        "sense filter: 30",
      );
    }
  });

  test("both axes at once, and the same value twice", async () => {
    const both = await whatIf(text, "hut.yaml", { ...usual, x: "a: 1…2", y: "b: 1…2" }, ownThread);
    expect(both.kind === "refused" && both.issues.map(({ path }) => path)).toEqual(["x", "y"]);
    const same = await whatIf(text, "hut.yaml", { ...usual, y: X }, ownThread);
    expect(same).toMatchObject({ kind: "refused", issues: [{ code: "same-value" }] });
  });

  test("a point needs a value with its unit for each axis", () => {
    const options = { ...usual, y: Y };
    expect(pointAt(text, "hut.yaml", options, "15.2 V, 30 us")).toContain("trip voltage: 15.2 V, sense filter: 30 us");
    expect(pointAt(text, "hut.yaml", options, "15.2 V")).toMatchObject([{ path: "at", received: "15.2 V" }]);
    expect(pointAt(text, "hut.yaml", options, "15.2, 30 us")).toMatchObject([{ received: "15.2" }]);
  });
});

test("values that contradict the rest of the line are a kind of their own, not the end", async () => {
  const study = await asked({ x: "crowbar.trip voltage: 13…17 V" });
  expect(study.points[0].outcome).toBe("cannot be run");
  expect(study.points[8].outcome).not.toBe("cannot be run");
  expect(study.broken[0]).toMatchObject({ index: 0, kind: "cannot be run" });
  expect(study.broken[0].message).toContain("would fire in normal service");
});
