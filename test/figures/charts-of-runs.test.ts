import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import {
  headroomData,
  headroomFigure,
  surgeBarsFigure,
  surgeData,
  timeCurrentData,
  timeCurrentFigure,
} from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { meltingTime } from "../../packages/sim/src/scenario/parts/fuse-fit.ts";
import { root } from "../ground/source.ts";
import { overlaps, textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;
const folder = join(root, "packages/sim/scenarios");

function answered(file: string) {
  const result = runScenario(readFileSync(join(folder, file), "utf8"), file, { secondRun: false });
  if (result.kind === "refused" || result.verdict.kind !== "verdict") throw new Error(`${file} has no verdict`);
  return { ...result, verdict: result.verdict };
}

describe.each(readdirSync(folder).filter((name) => name.endsWith(".yaml")))("%s", (file) => {
  const { run, verdict, parsed } = answered(file);
  const [surge, times] = [surgeData(run, verdict), timeCurrentData(run, verdict, parsed.fits)];

  it("is drawn without a word over another, wide and narrow", () => {
    for (const width of [960, 390]) {
      const options = { document, width };
      const figures = [
        headroomFigure(headroomData(verdict), options),
        ...(surge === null ? [] : [surgeBarsFigure(surge, options)]),
        ...(times === null ? [] : [timeCurrentFigure(times, options)]),
      ];
      for (const svg of figures) {
        const boxes = textBoxes(svg);
        expect(overlaps(boxes)).toEqual([]);
        expect(Math.max(...boxes.map(({ right }) => right))).toBeLessThanOrEqual(width);
      }
    }
  });

  it("draws a surge where an SCR fired, and only there", () => {
    const fired = [run.crowbar, ...run.ownCrowbars.map(({ findings }) => findings)].some(
      (scr) => (scr?.firings.length ?? 0) > 0,
    );
    expect(surge !== null).toBe(fired);
  });

  it("draws every limit of the verdict once", () => {
    const limits = [...verdict.loads.flatMap((load) => load.limits), ...verdict.findings];
    expect(headroomData(verdict).limits.map(({ quantity }) => quantity)).toEqual(
      limits.map(({ quantity }) => quantity),
    );
  });
});

describe("the shorted pass transistor", () => {
  const { run, verdict, parsed } = answered("01-shorted-pass-transistor.yaml");

  it("splits the SCR's I²t into parts that sum to the run's own integral", () => {
    const sum = surgeData(run, verdict)?.parts.reduce((total, { i2t }) => total + i2t, 0) ?? 0;
    // The trace's rows are joined by straight lines; the run integrates along its steps.
    expect(Math.abs(sum / (run.crowbar?.totalI2t ?? 0) - 1)).toBeLessThan(0.01);
  });

  it("puts the fuse's part near its melting I²t", () => {
    const part = surgeData(run, verdict)?.parts.find(({ label }) => label === "until the fuse melts");
    expect(Math.abs((part?.i2t ?? 0) / (run.fuses[0].meltingI2t ?? 1) - 1)).toBeLessThan(0.02);
  });

  it("draws the melting curve that the model melts by, inside the published gates", () => {
    const curve = timeCurrentData(run, verdict, parsed.fits)?.curves[0];
    const { mainFuse } = run.scenario;
    if (curve === undefined || mainFuse === null) throw new Error("no fuse");
    for (const { current, time } of curve.points) expect(time).toBeCloseTo(meltingTime(mainFuse, current), 9);
    for (const gate of curve.gates) {
      const time = meltingTime(mainFuse, gate.current);
      expect(time).toBeGreaterThanOrEqual(gate.minimum ?? 0);
      expect(time).toBeLessThanOrEqual(gate.maximum ?? Number.POSITIVE_INFINITY);
    }
    expect(curve.gates.length).toBeGreaterThan(3);
  });

  it("says what goes first", () => {
    expect(timeCurrentData(run, verdict, parsed.fits)?.subtitle).toMatch(
      /^At the [\d.]+ A RMS of this run the fuse melts after \d+ ms; the SCR stands/,
    );
  });
});

it("says that the small SCR goes before the large fuse", () => {
  const { run, verdict, parsed } = answered("26-scr-smaller-than-fuse.yaml");
  expect(timeCurrentData(run, verdict, parsed.fits)?.subtitle).toMatch(
    / the SCR stands less than .*; the fuse melts after/,
  );
  expect(surgeData(run, verdict)?.windows.every(({ i2t, allowed }) => i2t > allowed)).toBe(true);
});

it("does not hold what a supply's own SCR carries against the fuses and leads of the line", () => {
  const { run, verdict, parsed } = answered("22-supplys-own-scr.yaml");
  const subtitle = timeCurrentData(run, verdict, parsed.fits)?.subtitle ?? "";
  expect(subtitle).toContain("the SCR stands");
  expect(subtitle).not.toMatch(/fuse|wire/);
});

it("does not praise the surge of an SCR that overheats in the end", () => {
  const { run, verdict, parsed } = answered("22-supplys-own-scr.yaml");
  expect(run.ownCrowbars[0].findings.failedShort).toBe(true);
  expect(surgeData(run, verdict)?.subtitle).toContain("but in the end it overheated and failed");
  expect(timeCurrentData(run, verdict, parsed.fits)?.subtitle).toContain("In the end the SCR overheated and failed.");
});
