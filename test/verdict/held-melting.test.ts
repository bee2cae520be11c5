import { describe, expect, test } from "vitest";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { textOf } from "../scenarios/shipped.ts";
import { barFound, fuseFound, judged, run, trace } from "./fixtures.ts";

interface Outcome {
  readonly melted: number | null;
  readonly held: string;
}

function outcome(text: string, until?: number): Outcome {
  const result = runScenario(text, "held.yaml", { record: false, ...(until === undefined ? {} : { until }) });
  if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
  const { verdict, run: found } = result;
  if (verdict.kind !== "verdict") throw new Error(verdict.headline);
  const held = verdict.pending.find(({ kind }) => kind === "held on")?.sentence ?? "";
  return { melted: found.fuses[0].meltTime, held };
}

/** Seconds after the fault at which a sentence lets the main fuse melt. */
const melting = (sentence: string): number => Number(/melts by that about ([\d.]+) s/.exec(sentence)?.[1]);

describe("a crowbar that is held on while a fuse on its way melts", () => {
  test("is told so, with a time at which a longer run melts it", () => {
    const text = textOf("06-voltage-turned-up-slowly.yaml");
    const { melted, held } = outcome(text, 5);
    expect(melted).toBeNull();
    expect(held).not.toContain("nothing in it ends that");
    expect(held).toMatch(/the main fuse is 71.1 % of the way to melting and melts by that about .*, which ends it\./);
    const long = outcome(text);
    expect(Math.abs(melting(held) - ((long.melted ?? Number.NaN) - 1))).toBeLessThan(0.06);
    expect(long.held).toBe("");
  });

  test("through a supply that goes off and on again: by the peaks of its rounds", () => {
    const text = textOf("13-gate-kept-on.yaml")
      .replace("    fault:", "    limit: {detection time: 2 s, off time: 0.3 s}\n    fault:")
      .replace("blade fuse 30 A", "blade fuse 25 A")
      .replace(/run for: .*/, "run for: 100 s");
    const { held } = outcome(text, 12);
    expect(held).toContain("melts by that about");
    const { melted } = outcome(text);
    expect(melted).toBeGreaterThan(30);
    expect(Math.abs(melting(held) / (melted ?? Number.NaN) - 1)).toBeLessThan(0.15);
  });

  const holding = (amperes: number, meltsAfter: number | null, endTemperature = 60) => {
    const found = barFound({
      conductingAtEnd: true,
      stops: [],
      peakTemperature: { value: 60, time: 60 },
      endTemperature,
    });
    const columns = trace([0, 60], { radio_V: [13.5, 1.2], crowbar_A: [0, 30], main_fuse_A: [0, amperes] });
    const made = run({ crowbar: found, fuses: [fuseFound({ meltsAfter })], trace: columns }, { endTime: 60 });
    return judged(made).pending[0]?.sentence ?? "";
  };

  test("the junction's limit is told where it comes before, and not where the fuse is sooner", () => {
    const never = holding(30, null);
    expect(never).toMatch(/nothing in it ends that\. Estimate: its junction passes its limit of 125 °C .* min/);
    const soon = holding(30, 1);
    expect(soon).toContain("which ends it. Estimate: until then its junction stays below its limit of 125 °C.");
    const late = holding(30, 1000);
    expect(late).toMatch(/which ends it\. Estimate: its junction passes its limit of 125 °C/);
    expect(late).not.toContain("settles");
  });

  test("a fuse that carries only a part of it leaves the rest", () => {
    expect(holding(20, 1)).toMatch(
      /which leaves it 10 A that nothing in it ends\. Estimate: with what is left its junction settles at/,
    );
  });
});
