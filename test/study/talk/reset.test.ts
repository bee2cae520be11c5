import { readdirSync, readFileSync } from "node:fs";
import { handout, type ResetSheet, renderReset, resetSheet, runScenario } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { resetHtml } from "../../../packages/sim/src/study/talk/sheets.ts";
import { shipped } from "../../cli/launch.ts";

function answered(name: string, change = (text: string): string => text) {
  const result = runScenario(change(readFileSync(shipped(name), "utf8")), name);
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

  test("of a run that ends before its fuse melts says that it will be found open, and not that it goes on for ever", () => {
    const before = answered("01-shorted-pass-transistor.yaml", (text) =>
      text.replace(/^run for: .*$/m, "run for: 60 ms"),
    );
    expect(before.run.fuses[0]?.meltTime).toBeNull();
    const { goesOn, steps, usedUp } = resetSheet(before);
    expect(goesOn.join(" ")).toMatch(/the main fuse is .* of the way to melting and melts .*, which ends it/);
    expect(steps.join(" ")).not.toContain("does not end by itself");
    expect(usedUp).toEqual([
      "The main fuse is about to melt when the run ends: expect to find it open, and have another one at hand.",
    ]);
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

  /** While a battery feeds a short circuit nobody comes near. */
  const beforeHand =
    /^(Air the room|Once it has ended|Keep everybody|Where anything smokes|Switch .* off only from|Break the current)/;

  test("has every supply switched off before anything else is done, unless nothing but a battery is there", () => {
    for (const name of readdirSync(shipped("")).filter((each) => each.endsWith(".yaml"))) {
      const { scenario } = answered(name);
      const { steps } = sheetOf(name);
      if (steps[0].startsWith("Nothing tripped") || scenario.sources.every(({ kind }) => kind === "battery")) continue;
      const first = steps.find((step) => !beforeHand.test(step));
      if (scenario.sources.some(({ kind }) => kind === "panel")) continue;
      expect(first, name).toMatch(/^Switch every source off/);
      expect(
        steps.filter((step) => step.startsWith("Switch every source off")),
        name,
      ).toHaveLength(1);
    }
  });

  test("tells what still flows through a protector that failed short, and how a battery is not taken off then", () => {
    const { goesOn, steps } = sheetOf("16-fuse-on-wrong-side.yaml");
    expect(goesOn[0]).toBe(
      "290 A flow through the failed SCR of the crowbar when the run ends, and nothing in the line ends that.",
    );
    const [away, far, flow, air, off, disconnect] = steps;
    expect(away).toMatch(/^Keep everybody away: the hut battery still feeds 290 A into the failed SCR/);
    expect(far).toMatch(/^Switch the float charger off only from afar/);
    expect(air).toMatch(/^Once it has ended, air the room/);
    expect(off).toMatch(/^Switch every source off/);
    expect(flow).toMatch(/only at a disconnect made to break it; this line shows none/);
    expect(disconnect).toMatch(/^Disconnect the hut battery/);
    // Where nothing flows any more, and where switching off ends it.
    expect(sheetOf("26-scr-smaller-than-fuse.yaml").goesOn).toEqual([]);
    expect(sheetOf("03-constant-current-holds.yaml").steps.join(" ")).not.toContain("pull a terminal");
  });

  test("tells a current through a supply's own SCR, and that a hiccuping supply only pauses", () => {
    expect(sheetOf("22-supplys-own-scr.yaml").goesOn[0]).toMatch(
      /^[\d.]+ A flow through the failed SCR of the own crowbar of the station supply/,
    );
    for (const name of ["02-hiccup-supply.yaml", "13-gate-kept-on.yaml", "14-crowbar-with-disconnect.yaml"]) {
      const { states, steps } = sheetOf(name);
      const paused = answered(name).run.sources.some(({ stateAtEnd }) => stateAtEnd === "off");
      expect(
        states.some(({ state }) => state === "pauses, comes back by itself"),
        name,
      ).toBe(paused);
      expect(steps[0].includes("only pauses"), name).toBe(paused);
      expect(states.map(({ state }) => state)).not.toContain("off");
    }
  });

  test("nothing is switched on before the line was dead, the fault found and the protector tried, and batteries go back", () => {
    for (const name of readdirSync(shipped("")).filter((each) => each.endsWith(".yaml"))) {
      const { scenario } = answered(name);
      const { steps } = sheetOf(name);
      if (steps[0].startsWith("Nothing tripped")) continue;
      const at = (start: RegExp): number => steps.findIndex((step) => start.test(step));
      const protector = scenario.crowbar ?? scenario.seriesSwitch ?? scenario.clamp;
      const battery = scenario.sources.some(({ kind }) => kind === "battery");
      const order = [
        at(/^Switch every (source|load) off/),
        ...(battery ? [at(/^Disconnect the /)] : []),
        at(/^Wait, and measure 0 V/),
        at(/^Find the fault/),
        ...(protector === null ? [] : [at(/^Try the protector/)]),
        ...(battery ? [at(/^Connect the .* plus first/)] : []),
        at(/the voltage without .*, then with/),
      ];
      expect(order, name).not.toContain(-1);
      expect(order, name).toEqual(order.toSorted((a, b) => a - b));
      expect(
        steps.slice(0, order.at(-1)).filter((step) => /\b(?:switch|turn)\b[^,:;]* on\b(?! again\.)/i.test(step)),
        name,
      ).toEqual([]);
    }
  });

  test("says that the protector was not enough where a load saw too much behind it", () => {
    expect(sheetOf("25-filter-too-slow.yaml").steps.join(" ")).toContain(
      "Change the protector (trip voltage, sense filter",
    );
    expect(sheetOf("01-shorted-pass-transistor.yaml").steps.join(" ")).not.toContain("Change the protector");
    expect(sheetOf("12-relay-contact.yaml").steps.join(" ")).not.toContain("Reset the series switch");
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
