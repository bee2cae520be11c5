import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { figureData } from "@railfault/sim/figures";
import { describe, expect, it } from "vitest";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { root } from "../ground/files.ts";

const folder = join(root, "packages/sim/scenarios");

function dataOf(file: string) {
  const result = runScenario(readFileSync(join(folder, file), "utf8"), file, { secondRun: false });
  if (result.kind === "refused") throw new Error(`${file} was refused`);
  return { ...result, data: figureData(result.run, result.verdict) };
}

const explained = (file: string, label: string) =>
  dataOf(file).data.events.find((event) => event.label.includes(label))?.explanation;

describe("what an event means", () => {
  it.each(readdirSync(folder).filter((name) => name.endsWith(".yaml")))(
    "%s: is told for each, in sentences",
    (file) => {
      for (const { label, explanation } of dataOf(file).data.events) {
        expect(explanation, label).toMatch(/^[A-Z].*\.$/);
        expect(explanation, label).not.toMatch(/null|undefined|NaN|\.\.|\s\s/);
      }
    },
  );

  it("names the cause and the scenario's own numbers", () => {
    expect(explained("01-shorted-pass-transistor.yaml", "crowbar fires")).toBe(
      "The crowbar fires: the sensed voltage has stayed above the trip point for the turn-on delay (15 V for 2 µs). It shorts the protected side until its current stays below 60 mA for 60 µs.",
    );
  });

  it("tells what the run found of a fuse", () => {
    const { run } = dataOf("01-shorted-pass-transistor.yaml");
    const took = Math.round(run.fuses[0].meltingI2t ?? 0);
    expect(explained("01-shorted-pass-transistor.yaml", "fuse melts")).toContain(`It took ${took} A²s to melt.`);
    expect(explained("01-shorted-pass-transistor.yaml", "fuse is open")).toContain("until somebody replaces it");
  });

  it("tells apart a supply that tries again, one that stays off, and an SCR whose gate is kept on", () => {
    expect(explained("02-hiccup-supply.yaml", "limiter")).toContain("It gives nothing for 300 ms, then tries again.");
    expect(explained("05-latch-off.yaml", "limiter")).toContain("stays off until somebody resets it");
    expect(explained("13-gate-kept-on.yaml", "crowbar fires")).toContain(
      "its gate is kept on until somebody resets it",
    );
    expect(explained("14-crowbar-with-disconnect.yaml", "crowbar fires")).toContain("The series switch opens too");
  });

  it("gives the load's own verdict where it first passes its maximum", () => {
    const { data, verdict } = dataOf("12-relay-contact.yaml");
    const passed = data.events.find(({ label }) => label.includes("rises above"));
    expect(verdict.kind === "verdict" && passed?.explanation === verdict.loads[0].sentence).toBe(true);
  });
});
