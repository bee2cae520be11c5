import { readFileSync } from "node:fs";
import { join } from "node:path";
import { bySecondRun, parseScenario, runScenario, simulate } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { root } from "../ground/files.ts";

describe("the available short-circuit current of a melted fuse", () => {
  const text = readFileSync(join(root, "packages/sim/scenarios/01-shorted-pass-transistor.yaml"), "utf8");
  const { scenario } = parseScenario(text, "x");
  if (scenario === null) throw new Error("this file was to be right");

  test("is not known where its run gives up, nor of a fuse that there is not", () => {
    const run = simulate(scenario, { record: false });
    expect(run.fuses[0]?.meltTime).not.toBeNull();
    expect(bySecondRun(run, { maxSteps: 50 })(0)).toBeNull();
    expect(bySecondRun(run, {})(9)).toBeNull();
  });

  test("is the same where every round is integrated", () => {
    const [leaping, whole] = [{}, { leaps: false }].map((options) =>
      runScenario(text, "x", { record: false, ...options }),
    );
    const known = (answer: typeof leaping): unknown =>
      answer?.kind === "answered" && answer.verdict.kind === "verdict"
        ? answer.verdict.findings.filter(({ quantity }) => quantity === "available short-circuit current")
        : null;
    expect(known(whole)).toHaveLength(1);
    expect(known(whole)).toEqual(known(leaping));
  });
});
