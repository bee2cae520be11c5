import { describe, expect, test } from "vitest";
import type { EventKind, Run, RunEvent } from "../../packages/sim/src/model/result.ts";
import type { Load, Scenario, SeriesSwitch, Supply } from "../../packages/sim/src/scenario/types.ts";
import { detailsOf } from "../../packages/sim/src/verdict/event-details.ts";
import { meaningOf } from "../../packages/sim/src/verdict/event-meaning.ts";
import { blown, event, fuseFound, run } from "./fixtures.ts";
import { battery, crowbar, radio, seriesSwitch, supply } from "./parts.ts";

const HICCUP: Supply = {
  ...supply,
  limit: { style: "hiccup", current: 22, detectionTime: 0.01, offTime: 0.3, rampTime: 0.02 },
  shutdown: { voltage: 16.5, delay: 0.001, worksOnLostFeedback: true },
  ownCrowbar: { ...crowbar, variant: "held" },
};
const SLEEPER: Load = {
  ...radio,
  dropOut: {
    voltage: 10,
    delay: 0.02,
    sleepCurrent: 0.05,
    returnVoltage: 11,
    returnDelay: 0.5,
    comesBack: "by itself",
  },
};
const RECLOSES: SeriesSwitch = { ...seriesSwitch, reclose: { onVoltage: 14, retryTime: 3 } };
const line: Partial<Scenario> = { sources: [HICCUP, battery], loads: [SLEEPER], seriesSwitch: RECLOSES };

type Told = [part: RunEvent["subject"]["part"], owner: string, kind: EventKind, cause: string, words: string | null];

const at = (part: Told[0], owner: string, kind: EventKind, cause: string): RunEvent =>
  event(0.1, 0.1, kind, part, cause, owner);

describe("the numbers behind an event", () => {
  test.each<Told>([
    ["line", "", "fault", "", "shorted pass transistor in the supply"],
    ["line", "", "repeats itself", "", null],
    ["crowbar", "", "fires", "", "15 V for 2 µs"],
    ["crowbar", "", "stops conducting", "", "80 mA for 60 µs"],
    ["crowbar", "", "fails short", "", "250 °C"],
    ["crowbar", "", "load changes", "", null],
    ["own crowbar", "supply", "fires", "", "15 V for 2 µs"],
    ["own crowbar", "battery", "fires", "", null],
    ["series switch", "", "starts to open", "over-voltage", "at 15 V, takes 5 ms"],
    ["series switch", "", "starts to open", "the crowbar fires", "takes 5 ms"],
    ["series switch", "", "recloses", "", "below 14 V for 3 s"],
    ["series switch", "", "clears", "", null],
    ["source", "supply", "limiter trips", "", "22 A for 10 ms"],
    ["source", "supply", "restarts", "", "after 300 ms"],
    ["source", "supply", "over-voltage shutdown", "", "above 16.5 V for 1 ms"],
    ["source", "supply", "contact opens", "", null],
    ["source", "battery", "limiter trips", "", null],
    ["source", "nobody", "limiter trips", "", null],
    ["load", "radio", "drops out", "", "below 10 V for 20 ms"],
    ["load", "radio", "comes back", "", "above 11 V for 500 ms"],
    ["load", "radio", "load changes", "", null],
    ["load", "lamp", "drops out", "", null],
    ["main fuse", "", "melts", "", null],
  ])("%s %s %s %s", (part, owner, kind, cause, words) => {
    expect(detailsOf(at(part, owner, kind, cause), run({}, line).scenario)).toBe(words);
  });

  test("are none where the line has no such part", () => {
    const { scenario } = run({}, { crowbar: null, sources: [{ ...supply, fault: { kind: "none" } }] });
    for (const [part, owner, kind] of [
      ["line", "", "fault"],
      ["crowbar", "", "fires"],
      ["own crowbar", "supply", "fires"],
      ["series switch", "", "starts to open"],
      ["source", "supply", "over-voltage shutdown"],
      ["source", "supply", "limiter trips"],
      ["load", "radio", "drops out"],
    ] as const)
      expect(detailsOf(at(part, owner, kind, ""), scenario), part).toBeNull();
  });
});

describe("what an event means from then on", () => {
  const melted: Partial<Run> = { fuses: [fuseFound(blown)] };
  const meaning = (part: Told[0], owner: string, kind: EventKind, over: Partial<Run> = melted, scenario = line) =>
    meaningOf(at(part, owner, kind, ""), run(over, scenario));

  test.each<[Told[0], string, EventKind, string | null]>([
    ["line", "", "fault", "All times are counted from here."],
    ["line", "", "repeats itself", null],
    ["crowbar", "", "fires", "It shorts the protected side until its current stays below 80 mA for 60 µs."],
    ["crowbar", "", "stops conducting", "It no longer holds the protected side down, and may fire again."],
    [
      "crowbar",
      "",
      "fails short",
      "It shorts the protected side for good: no current is small enough to let go of it.",
    ],
    ["crowbar", "", "load changes", null],
    [
      "own crowbar",
      "supply",
      "fires",
      "It shorts the terminals of the supply; its gate is kept on until somebody resets it.",
    ],
    ["own crowbar", "battery", "fires", null],
    [
      "main fuse",
      "",
      "melts",
      "An arc carries the current on until it can no longer be held. It took 971 A²s to melt.",
    ],
    ["main fuse", "", "open", "Nothing flows through it until somebody replaces it. It let 973 A²s through in all."],
    ["main fuse", "", "clears", null],
    ["in-line fuse", "battery", "melts", null],
    ["series switch", "", "starts to open", "Until it is open the loads still see the line."],
    ["series switch", "", "recloses", "The loads are fed again."],
    ["series switch", "", "open", "The loads are cut off until the sensed voltage stays below 14 V."],
    ["series switch", "", "clears", null],
    ["source", "supply", "restarts", "It feeds the line again."],
    ["source", "supply", "limiter trips", "It gives nothing for 300 ms, then tries again."],
    ["source", "supply", "contact opens", null],
    ["source", "battery", "limiter trips", null],
    ["load", "radio", "drops out", "It comes back by itself once the voltage is there again."],
    ["load", "radio", "comes back", "It works again."],
    ["load", "radio", "load changes", null],
    ["load", "lamp", "drops out", null],
    ["clamp", "", "fails short", "The clamp counts as destroyed from here on."],
    ["load clamp", "radio", "fails short", "The clamp at the radio counts as destroyed from here on."],
    ["clamp", "", "load changes", null],
  ])("%s %s %s", (part, owner, kind, words) => {
    expect(meaning(part, owner, kind)).toBe(words);
  });

  test("of a fuse leaves out what was not found", () => {
    const found = { fuses: [fuseFound({ ...blown, meltingI2t: null, letThroughI2t: null })] };
    expect(meaning("main fuse", "", "melts", found)).toBe(
      "An arc carries the current on until it can no longer be held.",
    );
    expect(meaning("main fuse", "", "open", found)).toBe("Nothing flows through it until somebody replaces it.");
  });

  test("of a switch that a latched crowbar opened is that somebody has to reset it, whether or not it recloses by itself", () => {
    const latched = { ...line, crowbar: { ...crowbar, variant: "latched" as const } };
    const reset = "The loads are cut off until somebody resets it.";
    expect(meaning("series switch", "", "open", { events: [at("crowbar", "", "fires", "")] }, latched)).toBe(reset);
    expect(meaning("series switch", "", "open", { events: [] }, latched)).toMatch(/stays below 14 V\.$/);
    expect(meaning("series switch", "", "open", {}, { ...line, seriesSwitch })).toBe(reset);
    expect(meaning("crowbar", "", "fires", {}, latched)).toBe(
      "It shorts the protected side; its gate is kept on until somebody resets it. The series switch opens too and stays open.",
    );
  });

  test("of a supply that latches off is that it stays off, of a load by hand that somebody must switch it on", () => {
    const stays = { ...line, sources: [{ ...HICCUP, limit: { style: "none" } }] as Scenario["sources"] };
    expect(meaning("source", "supply", "over-voltage shutdown", {}, stays)).toBe(
      "It gives nothing more and stays off until somebody resets it.",
    );
    const byHand = { ...SLEEPER, dropOut: { ...SLEEPER.dropOut, comesBack: "by hand" } } as Load;
    expect(meaning("load", "radio", "drops out", {}, { ...line, loads: [byHand] })).toBe(
      "It stays off until somebody switches it on again.",
    );
  });

  test("is nothing of parts that the line does not have", () => {
    const none = { crowbar: null, seriesSwitch: null };
    expect(meaning("crowbar", "", "fires", {}, none)).toBeNull();
    expect(meaning("series switch", "", "open", {}, none)).toBeNull();
  });
});
