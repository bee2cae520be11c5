import { describe, expect, test } from "vitest";
import type { Run } from "../../packages/sim/src/model/result.ts";
import { figureData } from "../../packages/sim/src/report/figure-data.ts";
import { surgeData } from "../../packages/sim/src/report/figure-data-surge.ts";
import { timeCurrentData } from "../../packages/sim/src/report/figure-data-time-current.ts";
import type { Scenario, Supply } from "../../packages/sim/src/scenario/types.ts";
import { barFound, blown, fuseFound, judged, run, sourceFound, trace } from "../verdict/fixtures.ts";
import { battery, fuse, lead, supply } from "../verdict/parts.ts";

/** A run and its verdict. */
function told(over: Partial<Run> = {}, scenario: Partial<Scenario> = {}) {
  const made = run(over, scenario);
  return { run: made, verdict: judged(made) };
}

describe("figures of a line with a fuse in the lead of each source", () => {
  const small = { ...fuse, label: "blade fuse 15 A", minimumMeltingCurrent: fuse.minimumMeltingCurrent / 2 };
  const charger: Supply = { ...supply, name: "charger", lead: { ...lead, copperArea: 2.5e-6, fuse: small } };
  const store = { ...battery, name: "battery", lead: { ...lead, copperArea: 6e-6, fuse } };
  const line = { mainFuse: null, sources: [charger, store] };
  const melted = fuseFound({ ...blown, subject: { part: "in-line fuse", owner: "battery" } });
  const shown = (over: Partial<Run>, scenario: Partial<Scenario> = line) => {
    const sources = (scenario.sources ?? []).map(({ name }) => sourceFound({ name }));
    const { run: made, verdict } = told({ sources, ...over }, scenario);
    return timeCurrentData(made, verdict, []);
  };

  test("the current that melted one is held against the parts of its own path, each by its place", () => {
    const data = shown({ fuses: [melted] });
    expect(data?.point?.label).toBe("this run: the fuse of the battery melted, RMS");
    // The line with the battery alone: the same current, the same fuse, the same lead.
    const alone = shown({ fuses: [melted] }, { mainFuse: null, sources: [store] })?.subtitle ?? "";
    const placed = alone
      .replace("the fuse melts", "the fuse of the battery melts")
      .replace("the wire", "the lead of the battery");
    expect(placed).toMatch(/the fuse of the battery melts after .*the lead of the battery stands/);
    expect(data?.subtitle).toBe(placed);
  });

  test("the main figure tells at which current each of them melts", () => {
    const made = run({ trace: trace([0, 0.3], { charger_A: [1, 1], battery_A: [1, 1] }) }, line);
    expect(figureData(made, judged(run())).currents.map(({ limit }) => limit?.label)).toEqual([
      "charger fuse melts above",
      "battery fuse melts above",
    ]);
  });

  test("what the SCR carried of both together is held against neither's fuse nor lead", () => {
    const data = shown({ trace: trace([0, 0.001034, 0.06526, 0.3], { crowbar_A: [0, 100, 100, 0] }) });
    expect(data?.subtitle).toMatch(/^At the 100 A RMS of this run the SCR stands [^;]*\.$/);
  });

  test("the surge bars tell whose fuse melted, and what the other sources gave once it was open", () => {
    const sources: Supply[] = ["charger", "battery"].map((name) => ({ ...supply, name, lead: { ...lead, fuse } }));
    const time = [0, 0.001, 0.05, 0.05, 0.051, 0.051, 1];
    const recorded = trace(time, {
      charger_A: time.map(() => 10),
      battery_A: [0, 90, 90, 90, 90, 0, 0],
      crowbar_A: [0, 100, 100, 100, 100, 10, 10],
    });
    const { run: made, verdict } = told(
      {
        trace: recorded,
        sources: sources.map(({ name }) => sourceFound({ name })),
        crowbar: barFound({ firings: [0.001], stops: [], conductingAtEnd: true }),
        fuses: [
          fuseFound({ ...blown, meltTime: 0.05, openTime: 0.051, subject: { part: "in-line fuse", owner: "battery" } }),
        ],
      },
      { mainFuse: null, sources },
    );
    expect(surgeData(made, verdict)?.parts).toEqual([
      { label: "what the capacitors add", i2t: 0 },
      { label: "until the fuse of the battery melts", i2t: expect.closeTo(100 ** 2 * 0.049, 6) },
      { label: "while its arc burns", i2t: expect.closeTo(100 ** 2 * 0.001, 6) },
      { label: "from the other sources after that", i2t: expect.closeTo(10 ** 2 * 0.949, 6) },
    ]);
  });
});
