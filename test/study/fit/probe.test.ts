import { describe, expect, test } from "vitest";
import { type Fit, type FitAnswer, fitScenario } from "../../../packages/sim/src/index.ts";
import { channelOf } from "../../../packages/sim/src/study/fit/channels.ts";
import { LineCurve } from "../../../packages/sim/src/study/fit/curve.ts";
import { serviceScales } from "../../../packages/sim/src/study/fit/service-level.ts";
import { captureOf, scenarioWith } from "./bench.ts";

const other = scenarioWith("01-shorted-pass-transistor", {});

const fitOf = (answer: FitAnswer): Fit => {
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
};

/** A record of another fault, so that no shape gives its scale away: it comes and goes. */
function scaledBy(factor: number) {
  const time = Float64Array.from({ length: 300 }, (_, k) => k * 5e-4);
  const values = time.map((t, k) => factor * (t % 0.05 < 0.02 ? 13.8 : 0.2) * (1 + 0.003 * Math.sin(k * k)));
  return captureOf(time, [{ name: "radio", unit: "V", values }]);
}

describe("a probe's factor that is missing, where only the level in service tells it", () => {
  test("a tenth: said with the option that corrects it, and nothing is searched for", async () => {
    const found = fitOf(
      await fitScenario(other, "hut.yaml", scaledBy(0.1), { free: ["crowbar.trip voltage"], channels: [] }),
    );
    expect(found.isAnother).toBe(true);
    expect([found.scenario, found.values[0]!.state]).toEqual([null, "untold"]);
    const said = found.misfits.join(" ");
    expect(said).toMatch(/"radio" begins at 1\.3\d V, the run in service at 13\.[78] V\./);
    expect(said).toContain("a tenth of the run's: the factor of its probe may be missing.");
    expect(said).toContain('on the command line: --channel "2: radio, V, 10×".');
    expect(found.untold.join(" ")).not.toContain("trip voltage");
    expect(found.simulations).toBeLessThan(4);
  }, 20_000);
});

describe("a level in service that is a probe's factor away", () => {
  /** In service at 13.8 V for 20 ms; then an SCR holds it at 1.4 V until the fuse has opened. */
  const run = new LineCurve(
    Float64Array.of(0, 0.02, 0.0201, 0.15, 0.1501, 1),
    Float64Array.of(13.8, 13.8, 1.4, 1.4, 0, 0),
  );
  const told = (from: number, shift: number, valueAt: (t: number) => number) => {
    const time = Float64Array.from({ length: 400 }, (_, k) => from + k * 5e-4);
    const values = time.map((t, k) => valueAt(t) * (1 + 0.003 * Math.sin(k * k)));
    const capture = captureOf(time, [{ name: "radio", unit: "V", values }]);
    const channel = channelOf(capture, capture.channels[0]!, "radio_V")!;
    return serviceScales([channel], [run], shift).get("radio");
  };

  test.each([0.01, 0.1, 10, 100])("values times %f: what corrects them", (factor) => {
    const scale = told(0, 0, (t) => factor * run.at(t));
    expect(scale!.factor).toBeCloseTo(1 / factor, 9);
    expect(scale!.sentence).toMatch(/^"radio" begins at .* the run in service at 13\.8 V\./);
  });

  test("none as it was measured, nor where it is no probe's factor, nor where the fired SCR holds the line at a tenth", () => {
    expect(told(0, 0, run.at.bind(run))).toBeUndefined();
    expect(told(0, 0, (t) => 0.3 * run.at(t))).toBeUndefined();
    expect(told(0.03, 0, (t) => run.at(t))).toBeUndefined();
  });

  test("only its end is in service: told from there", () => {
    const scale = told(0, 0, (t) => (t < 0.1 ? 0.5 : 1.38));
    expect(scale!.sentence).toMatch(/^"radio" ends at 1\.38 V/);
  });
});
