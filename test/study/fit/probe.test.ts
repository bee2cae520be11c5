import { describe, expect, test } from "vitest";
import { type Fit, fitScenario, layCapture } from "../../../packages/sim/src/index.ts";
import { LineCurve } from "../../../packages/sim/src/study/fit/curve.ts";
import { BRIEFLY, captured, captureOf, hiccupInstrument, scenarioWith } from "./bench.ts";

const hiccup = scenarioWith("02-hiccup-supply", {});
const other = scenarioWith("01-shorted-pass-transistor", {});

const fitOf = (answer: Awaited<ReturnType<typeof layCapture>>): Fit => {
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
};

/** A record of another fault, so that no shape gives its scale away, with values times a factor. */
function scaledBy(factor: number) {
  const { time, channels } = captured(hiccup, hiccupInstrument(3, BRIEFLY));
  return captureOf(
    time,
    channels.map((channel) => ({ ...channel, values: channel.values.map((value) => factor * value) })),
  );
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
    expect(said).toContain('on the command line: --channel "2: radio, V, 10×; 3: supply, V, 10×".');
    expect(found.untold.join(" ")).not.toContain("trip voltage");
    expect(found.simulations).toBeLessThan(4);
  }, 20_000);

  test("as it was measured: not a word of it", async () => {
    const found = fitOf(await layCapture(other, "hut.yaml", scaledBy(1), { channels: [] }));
    expect(found.isAnother).toBe(true);
    expect(found.misfits.join(" ")).not.toMatch(/factor|--channel/);
  }, 20_000);

  test("a level without any event says it too", async () => {
    const time = Float64Array.from({ length: 400 }, (_, k) => k * 5e-4);
    const values = time.map((_, k) => 138 + 0.4 * Math.round(Math.sin(k * k)));
    const found = fitOf(
      await layCapture(other, "hut.yaml", captureOf(time, [{ name: "radio", unit: "V", values }]), { channels: [] }),
    );
    const said = found.misfits.join(" ");
    expect(said).toContain("ten times the run's: the factor of its probe may be in them twice.");
    expect(said).toContain('--channel "2: radio, V, 0.1×"');
  }, 20_000);

  test("a line that a fired SCR holds at a tenth is no missing factor", async () => {
    // The run itself from 1 ms after the fault on: some volts at the SCR while the reservoir empties, then none.
    const laid = fitOf(await layCapture(other, "hut.yaml", scaledBy(1), { channels: [] }));
    const [radio] = laid.channels;
    const run = new LineCurve(
      radio!.time.map((t) => t + laid.shift.value),
      radio!.simulated,
    );
    const time = Float64Array.from({ length: 1000 }, (_, k) => 0.021 + k * 2e-4);
    const capture = captureOf(time, [{ name: "radio", unit: "V", values: time.map((t) => run.at(t)) }]);
    const found = fitOf(await layCapture(other, "hut.yaml", capture, { channels: [] }));
    expect(found.misfits.join(" ")).not.toMatch(/factor|--channel/);
  }, 20_000);
});
