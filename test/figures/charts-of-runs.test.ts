import { figures, surgeData, timeCurrentData, withstandData } from "@railfault/sim/figures";
import { describe, expect, it } from "vitest";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { meltingTime } from "../../packages/sim/src/scenario/parts/fuse-fit.ts";
import { largestDraws } from "../../packages/sim/src/study/weakest/service.ts";
import { answered, describeCharts, shippedText } from "../support/charts-of-runs.ts";

/** Every one stands in test/deep. */
describeCharts({ every: 3 });

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

  it("draws what the loads draw at their most as the current in service, as the study of fuses says it, not what flowed by chance", () => {
    const service = (told?: number) =>
      timeCurrentData(run, verdict, parsed.fits, told)?.currents.find(({ role }) => role === "operating")?.value;
    const largest = largestDraws(parsed).reduce((sum, { current }) => sum + current, 0);
    expect(largest).toBe(21);
    expect(service(largest)).toBe(21);
    expect(service()).toBeCloseTo(1.5, 1);
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

describe("a run of which rows were left out", () => {
  const text = shippedText("12-relay-contact.yaml");
  const whole = answered("12-relay-contact.yaml");
  const result = runScenario(text, "12-relay-contact.yaml", { secondRun: false, record: { most: 200 } });
  if (result.kind === "refused" || result.verdict.kind !== "verdict") throw new Error("no verdict");
  const { run, verdict } = result;

  it("draws only the times that were watched during it", () => {
    expect(run.trace.thinned).toBeDefined();
    const [found, watched] = [withstandData(run, verdict)?.loads[0].found, whole.run.loads[0]];
    const levels = [watched.aboveMaximum, ...watched.withstand].filter(({ longest }) => longest > 0);
    expect(found).toEqual(levels.map(({ level, longest }) => ({ voltage: level, time: longest })));
  });

  it("has no surge that would have to be summed up from its rows", () => {
    const bars = shippedText("02-hiccup-supply.yaml");
    const thin = runScenario(bars, "hiccup", { secondRun: false, record: { most: 400 } });
    if (thin.kind === "refused" || thin.verdict.kind !== "verdict") throw new Error("no verdict");
    expect(surgeData(thin.run, thin.verdict)).toBeNull();
    const figure = figures.find(({ name }) => name === "surge")?.of({ ...thin, fits: thin.parsed.fits });
    expect(figure).toEqual({ missing: expect.stringContaining("rows of this long run were left out") });
  });
});
