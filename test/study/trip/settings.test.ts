import {
  changeTexts,
  readTripSettings,
  TripMemory,
  type TripWishes,
  tripSettingSpecs,
  tripStudy,
} from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText, studiedText } from "./lines.ts";

describe("settings", () => {
  test("nothing written: as usual, each with its unit read", () => {
    const { settings } = readTripSettings();
    expect(settings).toMatchObject({
      threshold: "shunt reference 1 %",
      resistors: "1 %",
      coldest: -20,
      hottest: 40,
      ripple: 0.05,
      pickup: 0.1,
      bias: 1e-3,
      chargeVoltage: null,
      wanted: null,
    });
  });

  test("every spec has a name of its own and a usual value that it allows", () => {
    expect(new Set(tripSettingSpecs.map(({ name }) => name)).size).toBe(tripSettingSpecs.length);
    const usual = tripSettingSpecs.flatMap(({ key, usual }) => (usual === null ? [] : [[key, usual]]));
    expect(readTripSettings(Object.fromEntries(usual) as TripWishes).issues).toEqual([]);
  });

  test("a grade is read with and without its blank", () => {
    expect(readTripSettings({ resistors: "0.1%" }).settings?.resistors).toBe("0.1 %");
  });

  test("all that is wrong is told at once: where, what was received, what is allowed", () => {
    const { settings, issues } = readTripSettings({
      threshold: "shunt referense 1 %",
      resistors: "3 %",
      coldest: "-20 V",
      ripple: "-1 V",
      bias: "1 A",
      pickup: "0,1 V",
      wanted: "NaN V",
    });
    expect(settings).toBeNull();
    expect(issues.map(({ path }) => path)).toEqual([
      "threshold",
      "resistors",
      "coldest",
      "ripple",
      "pick-up",
      "bias",
      "wanted",
    ]);
    expect(issues[0].hint).toBe("did you mean shunt reference 1 %?");
    for (const { received, allowed } of issues) {
      expect(received).not.toBeNull();
      expect(allowed).not.toBeNull();
    }
  });

  test("temperatures that contradict each other, and keys that do not exist", () => {
    const crossed = readTripSettings({ coldest: "50 °C", hottest: "10 °C" }).issues;
    expect(crossed).toMatchObject([
      { code: "not-rising", path: "hottest", received: "10 °C", allowed: "more than 50 °C" },
    ]);
    const unknown = readTripSettings({ resistor: "1 %" } as TripWishes).issues;
    expect(unknown).toMatchObject([{ code: "unknown-key", hint: "did you mean resistors?" }]);
  });
});

describe("lines that cannot be asked", () => {
  const ask = (text: string, wishes: TripWishes = {}) => {
    const { settings } = readTripSettings(wishes);
    if (settings === null) throw new Error("no settings");
    const answer = tripStudy(text, "line.yaml", settings);
    return answer.kind === "refused" ? answer.issues : [];
  };

  test("no protector; a ramp without a supply: both at once", () => {
    const battery = changeTexts(shippedText("19-hot-plug-from-dead"), [[["crowbar"], null]]);
    expect(ask(battery, { ramp: "1 V/ms" }).map(({ code }) => code)).toEqual(["no-protector", "no-supply"]);
  });

  test("a text with errors gives these errors with their places", () => {
    const [issue] = ask("title: [");
    expect(issue.position?.line).toBe(1);
  });

  test("a normal voltage that the line cannot be run at", () => {
    const issues = ask(shippedText("02-hiccup-supply"), { supplyMaximum: "1 V" });
    expect(issues).toMatchObject([{ code: "not-run", severity: "error" }]);
    expect(issues[0].message).toMatch(/^Normal service at 1\.00 V could not be run: /);
  });
});

test("a trip point asked for is taken, and said to be out of place where it is", () => {
  const study = studiedText(shippedText("02-hiccup-supply"), { wanted: "14.5 V" });
  expect(study.trip.nominal).toBeCloseTo(14.5, 9);
  expect(study.exists).toBe(true);
  expect(study.fits).toBe(false);
  expect(study.headline).toMatch(/The 14\.50 V asked for may land outside\.$/);
});

test("what was run before is not run again", () => {
  const memory = new TripMemory();
  const runs = (wishes: TripWishes): number => {
    const { settings } = readTripSettings(wishes);
    if (settings === null) throw new Error("no settings");
    const answer = tripStudy(shippedText("02-hiccup-supply"), "line.yaml", settings, { memory });
    return answer.kind === "answered" ? answer.study.runs : Number.NaN;
  };
  expect(runs({})).toBeGreaterThan(5);
  expect(runs({ resistors: "0.5 %" })).toBe(0);
  // Another normal voltage: normal service anew, the faults from memory.
  expect(runs({ supplyMaximum: "14.1 V" })).toBeLessThanOrEqual(4);
});
