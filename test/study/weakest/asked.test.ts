import { describe, expect, it } from "vitest";
import { InvalidInput } from "../../../packages/sim/src/issue/issue.ts";
import { parseScenario } from "../../../packages/sim/src/scenario/index.ts";
import { fileWith } from "../../../packages/sim/src/study/weakest/line-alone.ts";
import { readOptions } from "../../../packages/sim/src/study/weakest/options.ts";
import { MatchStudy } from "../../../packages/sim/src/study/weakest/study.ts";
import type { MatchOptions, SavedMatch } from "../../../packages/sim/src/study/weakest/types.ts";
import { FUSED_BATTERY, STATION, shipped } from "./lines.ts";

describe("what is asked of a study", () => {
  function refusals(options: MatchOptions) {
    try {
      readOptions(options);
    } catch (error) {
      if (error instanceof InvalidInput) return error.issues;
      throw error;
    }
    return [];
  }

  it("wires by area or by gauge, of which there are whole numbers", () => {
    const { wires } = readOptions({ wires: ["4 mm2", "12 AWG"] });
    expect(wires?.map(({ name }) => name)).toEqual(["4 mm²", "12 AWG"]);
    // 12 AWG by its definition: 0.127 mm · 92^((36 − 12)/39) across.
    expect((wires?.[1].area ?? 0) * 1e6).toBeCloseTo((Math.PI / 4) * (0.127 * 92 ** (24 / 39)) ** 2, 9);
    for (const wire of ["12.5 AWG", "40 AWG", "thick"])
      expect(refusals({ wires: [wire] })).toMatchObject([
        { path: "wires", received: wire, hint: "write `4 mm2` or `12 AWG`" },
      ]);
  });

  it("classes by their names: where none is like what was written, none is proposed", () => {
    expect(refusals({ fuses: ["blade fuze 20 A"] })).toMatchObject([{ hint: "did you mean `blade fuse 20 A`?" }]);
    expect(refusals({ scrs: ["zzzzzzzzzzzz"] })).toMatchObject([
      { message: "There is no SCR class of this name.", hint: null },
    ]);
  });
});

describe("a study that is stopped before anything was run", () => {
  const stopped = (text: string, options: MatchOptions = {}) => {
    const study = new MatchStudy(text, "x.yaml", options);
    study.stop();
    return study;
  };

  it("of a file that cannot be read tells why", () => {
    const study = stopped("title: [");
    expect(study.result()).toMatchObject({ kind: "refused", issues: [{ severity: "error" }] });
    expect(study.next()).toEqual({ kind: "done" });
    expect(study.progress).toEqual({ stage: "done", runs: 0, of: 0 });
  });

  it("of a line without a fuse, with none to choose from, tells that no part takes part", () => {
    const text = FUSED_BATTERY.replace(", fuse: blade fuse 30 A", "");
    const found = stopped(text, { fuses: [], scrs: [] }).result();
    expect(found.kind === "answered" && found.headline).toBe(
      "Stopped early: Of 0 combinations none is sound: no part takes part.",
    );
  });

  it("takes nothing up again that no study kept", () => {
    const kept = stopped(shipped(STATION), { fuses: [], scrs: [] }).saved();
    for (const outcomes of [[null], ["sound"], [{ id: 1 }]]) {
      const resume = { ...kept, outcomes } as unknown as SavedMatch;
      expect(new MatchStudy(shipped(STATION), "x.yaml", { fuses: [], scrs: [], resume }).result()).toMatchObject({
        kind: "refused",
        issues: [{ code: "cannot-resume", message: "This is not what an earlier study kept." }],
      });
    }
  });
});

describe("a file with other parts", () => {
  const spread = "tolerances:\n  main fuse.cold resistance: 3…6 mohm\n";

  it("is without spreads where none of them holds for these", () => {
    const text = `${shipped(STATION)}${spread}`;
    expect(parseScenario(text, "x").scenario).not.toBeNull();
    const found = fileWith(text, [[["main fuse"], "blade fuse 30 A"]]);
    expect(found.leftOut).toEqual(["tolerances: main fuse.cold resistance"]);
    expect(found.text).not.toContain("tolerances");
  });
});
