import { describe, expect, test } from "vitest";
import type { PageState } from "../../../packages/notebooks/src/kept/state.ts";
import { textForRun, withoutSpreads } from "../../../packages/notebooks/src/line/for-run.ts";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import { Runs } from "../../../packages/notebooks/src/line/runs.ts";
import { shippedLine } from "../../../packages/notebooks/src/line/shipped.ts";
import { limitSchemes } from "../../../packages/notebooks/src/pages/hiccup/styles.ts";
import type { RunRequest } from "../../../packages/notebooks/src/run/protocol.ts";
import { parseScenario } from "../../../packages/sim/src/index.ts";

const plain = shippedLine("02-hiccup-supply").text;
const trip = ["crowbar", "trip voltage"] as const;
const limit = "sources.0.limit.current";
const text = `${plain}\ntolerances:\n  crowbar.trip voltage: ±2 % uniform\n  ${limit}: ±10 % uniform\n`;
const state: PageState = { line: { kind: "own", name: "scattered", text }, changes: [], view: {} };
const fixed = (line: Line): void => {
  line.set("trip", [[trip, "15 V"]]);
  line.set("spread", [[["tolerances", "crowbar.trip voltage"], "14.9 V to 15.1 V uniform"]]);
};

describe("tolerances on pages that take no notice of them", () => {
  test("are left out of what is run, and nothing else is", () => {
    expect(parseScenario(text, "scattered.yaml").issues.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(withoutSpreads(text).trimEnd()).toBe(plain.trimEnd());
    const run = textForRun(text, [[trip, "15.2 V"]]);
    expect([run.refused, run.text.includes("15.2 V"), run.text.includes("tolerances:")]).toEqual([[], true, false]);
    expect(textForRun("a: [\ntolerances: x\n", [])).toEqual({ text: "a: [\ntolerances: x\n", refused: [] });
  });

  test("do not stand in the way of a slider that leaves a spread: that one goes, the file is valid, and the others stay", () => {
    const line = new Line(state);
    fixed(line);
    line.set("trip", [[trip, "17 V"]]);
    expect(line.now.parsed.scenario?.crowbar?.tripVoltage).toBe(17);
    expect(line.now.lostSpreads).toEqual(["crowbar.trip voltage"]);
    expect(parseScenario(line.now.text, "saved.yaml").spreads.map(({ written }) => written)).toEqual(["±10 % uniform"]);
  });

  test("a line that is wrong otherwise is told whole, each mistake at its place", () => {
    const line = new Line({ ...state, line: { kind: "own", name: "x", text: `${text}main fuze: x\n` } });
    expect(line.now.parsed.issues.map(({ position }) => position?.line)).toContain(text.split("\n").length);
  });

  test("nor in that of a supply whose limit the page puts in another's place", () => {
    const line = new Line(state);
    const asked: RunRequest[] = [];
    const runner = {
      run: (_: string, request: RunRequest) => asked.push(request),
      stop() {},
      cancel() {},
      dispose() {},
    };
    new Runs(line, limitSchemes, runner).leave();
    expect(asked).toHaveLength(5);
    for (const request of asked) expect(parseScenario(request.text, "x").scenario).not.toBeNull();
  });
});
