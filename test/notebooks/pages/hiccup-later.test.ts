import { describe, expect, it } from "vitest";
import type { Change } from "../../../packages/notebooks/src/kept/state.ts";
import { returnTone, toneOf } from "../../../packages/notebooks/src/pages/hiccup/card.ts";
import type { Outcome } from "../../../packages/notebooks/src/pages/hiccup/outcome-types.ts";
import { bounds } from "../../../packages/notebooks/src/pages/hiccup/sweep.ts";
import { changed, inStyle } from "./hiccup-lines.ts";

describe("a line that trips until something gives in", () => {
  const slow = (detection: string, further: Change[] = []) => {
    const line = changed("02-hiccup-supply", [["sources", 0, "limit", "detection time"], detection], ...further);
    return inStyle(line, "hiccup");
  };

  it("lets the radio come back alone only for as long as the SCR stays below its limit", () => {
    const { answer, outcome, back } = slow("1 s");
    const { crowbar } = answer.run;
    const estimate = crowbar?.cycling?.longRun;
    const hot = (crowbar?.firings.at(-1) ?? 0) + (estimate?.timeToPeakLimit ?? Number.NaN) - 0.02;
    expect(hot).toBeGreaterThan(10);
    expect(outcome.later).toEqual({ what: "SCR", after: expect.closeTo(hot, 6), found: false });
    const span = `${Number(hot.toPrecision(2))} s`;
    expect(outcome).toMatchObject({ ending: "overheats", tag: `SCR too hot after ${span}` });
    expect(back).toMatchObject({ alone: "for a while", tag: `Back alone only within ${span}` });
    expect(back.sentence).toContain("afterwards somebody must drive up to replace the SCR");
    expect([toneOf(outcome), returnTone(back)]).toEqual(["endangered", "withstood"]);
  });

  it("is not the harmless one whose SCR stays cool", () => {
    const { outcome, back } = slow("3 ms");
    expect(outcome).toMatchObject({ ending: "trips" });
    expect(outcome.later).toBeUndefined();
    expect([toneOf(outcome), returnTone(back)]).toEqual(["withstood", "safe"]);
  });

  it("tells of a limit that was passed while it was watched", () => {
    const { answer, outcome, back } = slow("1 s", [[["crowbar", "ratings"], "{junction temperature: 60 °C}"]]);
    expect(answer.scenario.crowbar?.ratings.junctionTemperature).toBe(60);
    expect(outcome.ending).toBe("overheats");
    const { time, columns } = answer.run.trace;
    const junction = columns.find(({ name }) => name === "crowbar_junction_degC")?.values ?? [];
    const row = junction.findIndex((celsius) => celsius > 60);
    const passed = outcome.later?.after ?? Number.NaN;
    expect(passed + 0.02).toBeGreaterThan(time[row - 1]);
    expect(passed + 0.02).toBeLessThanOrEqual(time[row]);
    expect(outcome.later?.found).toBe(true);
    expect([outcome.sentence, back.sentence].join()).not.toContain("estimate");
    const [told] = answer.verdict.kind === "verdict" ? answer.verdict.tripping : [];
    expect(told.longRun.filter((each) => each.includes("its peaks pass"))).toEqual([]);
    expect(told.longRun.join()).toMatch(
      /The junction of the crowbar passed its limit of 60 °C [\d.]+ m?s after the fault\./,
    );
  });

  it("does not pass its limit the later, the longer it is watched", () => {
    const at = (run: string) =>
      slow("1 s", [
        [["crowbar", "ratings"], "{junction temperature: 60 °C}"],
        [["run for"], run],
      ]).outcome.later?.after;
    expect(at("12 s")).toBeCloseTo(at("9 s") ?? Number.NaN, 6);
  });

  it("is told apart in a sweep", () => {
    const rung = (label: string, outcome: Outcome) => ({ rung: { label, here: false, changes: [] }, outcome });
    const [cool, hot] = [slow("3 ms").outcome, slow("1 s").outcome];
    const quick = { ...cool, ending: "fuse", tag: "Fuse blown" } as const;
    expect(bounds("Detection time", [rung("3 ms", cool), rung("1 s", hot)])).toBe(
      "It trips again and again at each of these values, from 3 ms to 1 s. At 1 s the SCR gets hotter than it is rated.",
    );
    const dead = { ...cool, ending: "shorted", tag: "SCR destroyed" } as const;
    expect(bounds("Detection time", [rung("1 ms", quick), rung("1 s", hot), rung("3 s", dead)])).toBe(
      "It trips again and again at 1 s only. At 1 s the SCR gets hotter than it is rated. At 1 ms: fuse blown. At 3 s: SCR destroyed.",
    );
  });
});
