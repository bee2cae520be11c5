import { readdirSync, readFileSync } from "node:fs";
import { handout, type ResetSheet, renderReset, resetSheet, runScenario } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { resetHtml } from "../../../packages/sim/src/study/talk/sheets.ts";
import { shipped } from "../../cli/launch.ts";

function answered(name: string) {
  const result = runScenario(readFileSync(shipped(name), "utf8"), name);
  if (result.kind === "refused") throw new Error(`${name} was refused`);
  return result;
}
const sheetOf = (name: string): ResetSheet => resetSheet(answered(name));

describe("a reset sheet", () => {
  test("tells the state of each part, and to find the fault before replacing the fuse", () => {
    const { states, steps, usedUp } = sheetOf("01-shorted-pass-transistor.yaml");
    expect(states.map(({ part, state }) => `${part}: ${state}`)).toEqual([
      "station supply: transistor shorted",
      "main fuse: open",
      "SCR: blocking",
    ]);
    const find = steps.indexOf("Find the fault before replacing the fuse.");
    const replace = steps.findIndex((step) => step.startsWith("Replace the main fuse"));
    expect(find).toBeGreaterThanOrEqual(0);
    expect(replace).toBeGreaterThan(find);
    expect(steps.findIndex((step) => step.includes("bench test card"))).toBeGreaterThan(replace);
    expect(usedUp[0]).toMatch(/^Main fuse, blade fuse 20 A: melted, \d+ A²s through it\.$/);
  });

  test("has a supply that trips on and on switched off first", () => {
    const { steps, goesOn, usedUp } = sheetOf("02-hiccup-supply.yaml");
    expect(goesOn[0]).toContain("every 317 ms");
    expect(steps[0]).toContain("Switch every source off");
    expect(usedUp).toEqual([]);
  });

  test("does not say twice to switch off what is held on", () => {
    const { steps } = sheetOf("15-bench-test-with-lamp.yaml");
    expect(steps.filter((step) => step.startsWith("Switch every source off"))).toHaveLength(1);
  });

  test("has every supply switched off before anything else is done, unless nothing but a battery is there", () => {
    for (const name of readdirSync(shipped("")).filter((each) => each.endsWith(".yaml"))) {
      const { scenario } = answered(name);
      const { steps } = sheetOf(name);
      if (steps[0].startsWith("Nothing tripped") || scenario.sources.every(({ kind }) => kind === "battery")) continue;
      const first = steps.find((step) => !step.startsWith("Air the room"));
      expect(first, name).toMatch(/^Switch every source off/);
      expect(
        steps.filter((step) => step.startsWith("Switch every source off")),
        name,
      ).toHaveLength(1);
    }
  });

  test("tells what still flows through a protector that failed short, and how a battery is not taken off then", () => {
    const { goesOn, steps } = sheetOf("16-fuse-on-wrong-side.yaml");
    expect(goesOn[0]).toBe("290 A flow through the failed SCR when the run ends, and nothing in the line ends that.");
    const [air, off, flow, disconnect] = steps;
    expect(air).toMatch(/^Air the room/);
    expect(off).toMatch(/^Switch every source off/);
    expect(flow).toMatch(/never by pulling a terminal/);
    expect(disconnect).toMatch(/^Disconnect the hut battery/);
    // Where nothing flows any more, and where switching off ends it.
    expect(sheetOf("26-scr-smaller-than-fuse.yaml").goesOn).toEqual([]);
    expect(sheetOf("03-constant-current-holds.yaml").steps.join(" ")).not.toContain("pulling a terminal");
  });

  test("resets a kept gate by hand, and says that a battery stays live", () => {
    expect(sheetOf("13-gate-kept-on.yaml").steps.join(" ")).toContain("Reset the crowbar");
    const battery = sheetOf("09-panel-and-battery.yaml").states.find(({ part }) => part === "hut battery");
    expect(battery?.state).toBe("live, cannot be switched off");
  });

  test("is printed with its cautions before its steps", () => {
    const sheet = sheetOf("01-shorted-pass-transistor.yaml");
    const told = renderReset(sheet);
    expect(told.indexOf("Cautions")).toBeLessThan(told.indexOf("In this order"));
    expect(resetHtml({ ...sheet, headline: "<b>x</b>" })).toContain("&lt;b&gt;x&lt;/b&gt;");
  });
});

test("a handout tells the nearest limits in order and where its values come from", () => {
  const told = handout(answered("01-shorted-pass-transistor.yaml"));
  expect(told.limits[0]).toEqual(["relay radio, voltage", "14.7 V", "15.9 V", "×1.08"]);
  expect(told.limits.length).toBeLessThanOrEqual(4);
  expect(told.origins.join(" ")).toMatch(/Part classes: .*SCR 55 A.*Assumed, with nothing published behind it/);
});

test("a handout says what to do first as the reset sheet does, and its balance as a number that somebody reads", () => {
  for (const name of ["02-hiccup-supply.yaml", "08-charger-creep.yaml", "11-series-transistor.yaml"]) {
    const { steps, origins } = handout(answered(name));
    expect(steps[0]).toBe(sheetOf(name).steps[0]);
    expect(origins[0]).toMatch(/all energy is accounted for to within 0\.00[1-9] %\.$/);
  }
});
