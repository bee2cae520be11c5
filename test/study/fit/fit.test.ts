import { JSDOM } from "jsdom";
import { beforeAll, describe, expect, test } from "vitest";
import { normals } from "../../../packages/sim/scripts/instrument.ts";
import { fitData, fitFigure } from "../../../packages/sim/src/figures.ts";
import {
  Cancelled,
  type Fit,
  fitHeadline,
  fitScenario,
  fitStatus,
  parseScenario,
  renderFit,
} from "../../../packages/sim/src/index.ts";
import { captured, captureOf, hiccupInstrument, scenarioWith } from "./bench.ts";
import { INDUCTANCES, inductanceIsTold } from "./claims.ts";
import { expectFour, fittedFour, realLine } from "./four-values.ts";

const base = scenarioWith("02-hiccup-supply", {});
const OFF = "sources[0].limit.off time";
const RAMP = "sources[0].limit.ramp time";
const TRIP = "crowbar.trip voltage";

async function fitted(
  ...[capture, free, channels = []]: [Parameters<typeof fitScenario>[2], readonly string[], (readonly string[])?]
): Promise<Fit> {
  const answer = await fitScenario(base, "hut.yaml", capture, { free, channels });
  if (answer.kind === "refused") throw new Error(answer.issues.map(({ message }) => message).join("; "));
  return answer;
}

describe("a hiccup capture with a known truth", () => {
  let found: Fit;
  beforeAll(async () => {
    found = await fittedFour(1);
  }, 120_000);

  /** Further seeds stand in test/deep. */
  test("intervals of four values hold it, events lie within a sample, in few simulations", () => {
    expectFour(found, 1);
  });

  test("the new scenario reads, keeps its remarks, carries spreads and origin, and its verdict is told", () => {
    const parsed = parseScenario(found.scenario!, "fitted.yaml");
    expect(parsed.issues.filter(({ severity }) => severity === "error")).toEqual([]);
    expect(parsed.spreads.map(({ label }) => label)).toEqual(found.values.map(({ label }) => label));
    const trip = found.values.find(({ label }) => label === "crowbar: trip voltage");
    expect(parsed.scenario?.crowbar?.tripVoltage).toBeCloseTo(trip!.value, 4);
    expect(found.scenario).toContain("# Fitted to the capture bench.csv:\n#   station supply: limit, off time: 33");
    expect(found.scenario).toContain("\n#   crowbar: trip voltage: 15.");
    expect(found.scenario).toContain("# By hand: one round = 300 ms off");
    expect(found.answer).toMatchObject({ kind: "answered", verdict: { kind: "verdict" } });
    const text = renderFit(found, 100);
    expect(text).toContain("crowbar: trip voltage: 15.");
    expect(text).toContain("With these values");
    expect(text).toContain("Hundreds of amperes");
  });

  test("capture, run and what is left are drawn, with the same told in words", () => {
    const { document } = new JSDOM("").window;
    for (const options of [{}, { size: "phone", scheme: "dark" }, { size: "slide" }] as const) {
      const svg = fitFigure(fitData(found), { document, ...options });
      expect(svg.querySelectorAll(".panel")).toHaveLength(2);
      expect(svg.querySelectorAll(".curve")).toHaveLength(6);
      expect(svg.querySelector("desc")?.textContent).toContain(fitHeadline(found));
    }
    expect(() => fitFigure({ title: "", subtitle: "", channels: [] }, { document })).toThrow("there is no channel");
  });
});

describe("what the model lacks is told, not swallowed", () => {
  /** In another place of the line: test/deep. */
  test(`an inductance: ${INDUCTANCES[0][0]}`, () => inductanceIsTold(...INDUCTANCES[0]), 120_000);
});

describe("bad input", () => {
  const capture = captured(realLine, hiccupInstrument(8, { samples: 1000 }));
  const refusal = async (free: readonly string[], channels: readonly string[] = [], zero?: number) => {
    const answer = await fitScenario(base, "hut.yaml", capture, {
      free,
      channels,
      ...(zero === undefined ? {} : { zero }),
    });
    return answer.kind === "refused" ? answer.issues.map(({ code, path }) => `${path}: ${code}`) : [];
  };

  test("all problems at once", async () => {
    expect(
      await refusal(
        ["crowbar.trip volt", `${OFF} = 400…200 ms`, `${TRIP} = 20…30 V`, RAMP, RAMP],
        ["nobody = relay_radio_V", "radio = crowbar_A"],
        3,
      ),
    ).toEqual([
      "zero: out-of-range",
      "free[0]: no-such-value",
      "free[1]: contradictory-spread",
      "free[2]: start-outside",
      "free[4]: same-value",
      "channels[0]: no-such-channel",
      "channels[1]: wrong-unit",
    ]);
    expect(await refusal([])).toEqual(["free: free-count"]);
  });

  test("channels of another line are told with what there is", async () => {
    const { time, channels } = capture;
    const other = captureOf(time, [{ name: "boiler", unit: "V", values: channels[0]!.values }]);
    const answer = await fitScenario(base, "hut.yaml", other, { free: [TRIP], channels: [] });
    expect(answer).toMatchObject({ kind: "refused", issues: [{ code: "another-line", received: "boiler (V)" }] });
    expect(answer.kind === "refused" && answer.issues[0]!.allowed).toContain("relay_radio_V");
  });

  test("curves that are nothing like the run's make no scenario", async () => {
    const gauss = normals(9);
    const time = Float64Array.from({ length: 800 }, (_, k) => k * 1e-3);
    const values = time.map((t) => 6 + 5 * Math.sin(2 * Math.PI * 7 * t) + 0.1 * gauss());
    const found = await fitted(captureOf(time, [{ name: "radio", unit: "V", values }]), [TRIP]);
    expect(found).toMatchObject({ isAnother: true, scenario: null });
    expect(found.misfits[0]).toContain("capture of another line or another fault");
    expect(fitStatus(found)).toBe(1);
  }, 120_000);
});

test("it can be ended, and tells how far it is", async () => {
  const controller = new AbortController();
  let told = 0;
  const run = fitScenario(
    base,
    "hut.yaml",
    captured(realLine, hiccupInstrument(1)),
    { free: [OFF, TRIP], channels: [] },
    {
      signal: controller.signal,
      progress: ({ done }) => {
        told = done;
        if (done >= 4) controller.abort();
      },
    },
  );
  await expect(run).rejects.toThrow(Cancelled);
  expect(told).toBeLessThan(8);
}, 60_000);
