import { runScenario } from "@railfault/sim";
import { figureData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { afterAll, beforeAll, describe, expect, it, vi } from "vitest";
import { applyChanges } from "../../../packages/notebooks/src/line/apply.ts";
import { Line } from "../../../packages/notebooks/src/line/line.ts";
import type { RunMap, SchemeRun } from "../../../packages/notebooks/src/line/runs.ts";
import { aroundFall, fallScheme, fallStory } from "../../../packages/notebooks/src/pages/battery/fall.ts";
import { runProgress } from "../../../packages/notebooks/src/pages/regulator-fails/run-progress.ts";

const open = (name: string, view: Record<string, string> = {}) =>
  new Line({ line: { kind: "shipped", name }, changes: [], view });

function answered(text: string) {
  const result = runScenario(text, "line.yaml");
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
  return result;
}

describe("the terminal that falls off", () => {
  const run = (view: Record<string, string>) => {
    const line = open("08-charger-creep", view);
    const { text, refused } = applyChanges(fallScheme.text ?? "", fallScheme.changes?.(line.now) ?? []);
    expect(refused).toEqual([]);
    return answered(text);
  };

  it("is told with its overshoot and how often the switch acts", () => {
    expect(fallStory(run({}))).toMatch(/overshoots to 17\.\d\sV; the radio sees 15\sV.* opens\s6\stimes/);
  });

  it("keeps to what its sliders offer, whatever an address wishes: beyond it a charger would give hundreds of volts", () => {
    const changed = (view: Record<string, string>) => fallScheme.changes?.(open("08-charger-creep", view).now);
    expect(changed({ response: "10 ms", capacitance: "470 µF", trip: "17 V" })).toEqual([]);
    expect(changed({ response: "3 ms" })).toEqual([[["sources", 0, "response time"], "3 ms"]]);
    // The worst that they offer together is what a charger may well do.
    expect(run({ response: "3 ms", capacitance: "2.2 mF", bare: "yes" }).run.sources[0].peak.value).toBeLessThan(35);
  });

  it("follows its own sliders, not the page's line", () => {
    expect(run({ trip: "16 V" }).run.loads[0].peak.value).toBeCloseTo(16, 0);
    const quick = run({ response: "100 µs" }).run.sources[0].peak.value;
    expect(quick).toBeLessThan(run({}).run.sources[0].peak.value - 1);
  });

  it("counts its times in the picture as in the verdict, from the start", () => {
    const { run: fallen, verdict } = run({});
    const data = figureData(fallen, verdict);
    expect([data.faultTime, data.zero]).toEqual([0, "start"]);
    if (verdict.kind !== "verdict") throw new Error("no verdict");
    expect(verdict.done.join(" ")).toContain("first 1 s after the start");
    // The close-up shows the terminal and the switch's first act in one.
    const [from, to] = aroundFall(fallen) ?? [0, 0];
    const switched = fallen.events.find(({ kind }) => kind === "starts to open")?.time ?? 0;
    expect([from < 1, switched > 1, to > switched, to - from < 0.01]).toEqual([true, true, true, true]);
    expect(aroundFall(run({ bare: "yes" }).run)?.[1]).toBeCloseTo(1.012, 6);
  });

  it("shows the radio bare, whatever the switch was set to", () => {
    const { run: bare, verdict } = run({ bare: "yes", trip: "16 V" });
    expect(bare.seriesSwitch).toBeNull();
    expect(verdict.kind === "verdict" && verdict.safe).toBe(false);
  });
});

describe("a run in the background", () => {
  beforeAll(() => {
    vi.useFakeTimers();
    vi.stubGlobal("document", new JSDOM("").window.document);
  });
  afterAll(() => {
    vi.useRealTimers();
    vi.unstubAllGlobals();
  });

  it("tells how far the first that is under way has come, and one button ends them all", () => {
    const told: { tell: (runs: RunMap) => void } = { tell: () => {} };
    const stopped: string[] = [];
    const { element } = runProgress(
      {
        runs: (tell) => {
          told.tell = tell;
          return () => {};
        },
        stop: (name) => stopped.push(name),
      },
      ["near", "far"],
    );
    const at = (near: Partial<SchemeRun>, far: Partial<SchemeRun>) =>
      told.tell(new Map(Object.entries({ near, far, other: { status: "running" } })) as unknown as RunMap);
    at({ status: "answered", progress: null }, { status: "running", progress: { time: 2, end: 10 } });
    vi.advanceTimersByTime(300);
    expect(element.hasAttribute("data-idle")).toBe(false);
    expect(element.textContent).toContain("2\u00a0s of 10\u00a0s computed");
    element.querySelector("button")?.click();
    expect(stopped).toEqual(["near", "far"]);
    at({ status: "answered", progress: null }, { status: "answered", progress: null });
    expect(element.hasAttribute("data-idle")).toBe(true);
  });
});
