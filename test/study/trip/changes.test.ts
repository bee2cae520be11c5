import { COST_ORDER, changeTexts, readTripSettings, tripStudy } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText, studiedText } from "./lines.ts";

describe("where no band exists", () => {
  const study = studiedText(shippedText("08-charger-creep"));

  test("it is said, with the reason and what takes most", () => {
    expect(study.exists).toBe(false);
    expect(study.headline).toMatch(/^No trip point is right in the worst case\. The cheapest change that opens one: /);
    expect(study.reasons[0]).toMatch(/lie 0\.28 V; this threshold device needs 1\.3\d V/);
    expect(study.reasons[1]).toMatch(/^Cold compensation at −20 °C: lifts the lower edge by 900 mV/);
  });

  test("what opens it comes first, the cheapest of it first; the rest by what it gains", () => {
    const opening = study.changes.filter(({ opens }) => opens);
    const rest = study.changes.slice(opening.length);
    expect(opening.length).toBeGreaterThan(0);
    expect(rest.every(({ opens }) => !opens)).toBe(true);
    const costs = opening.map(({ cost }) => cost);
    expect(costs).toEqual([...costs].sort((a, b) => a - b));
    const gains = rest.map(({ gain }) => gain);
    expect(gains).toEqual([...gains].sort((a, b) => b - a));
    for (const { cost, name } of study.changes) expect(cost, name).toBeGreaterThanOrEqual(COST_ORDER[0].cost);
  });

  test("the first of them does open it when it is made", () => {
    const [first] = study.changes;
    expect(first.name).toBe("battery charged to 13.8 V only and charger without cold compensation");
    const mended = studiedText(shippedText("08-charger-creep"), { chargeVoltage: "13.8 V", compensation: "0 V" });
    expect(mended.exists).toBe(true);
    expect(mended.window.high - mended.window.low).toBeCloseTo(first.width, 6);
  });
});

test("a filter that is too slow is mended by a faster one, and the file with it says so too", () => {
  const line = "25-filter-too-slow";
  const study = studiedText(shippedText(line));
  expect(study.exists).toBe(false);
  expect(study.changes[0]).toMatchObject({ name: "sense filter of 10 µs", cost: 2, opens: true });
  const faster = studiedText(changeTexts(shippedText(line), [[["crowbar", "sense filter"], "fast"]]));
  expect(faster.exists).toBe(true);
  // Nothing that costs less was left out: the supply turned down does not do it alone.
  expect(study.changes.find(({ name }) => name.startsWith("supply turned down"))?.opens).toBe(false);
});

test("a relay is too slow for a shorted pass transistor, whatever its trip point; a transistor is not", () => {
  const study = studiedText(shippedText("12-relay-contact"));
  expect(study.band.high).toBeLessThan(13.8);
  expect(study.verified.fault).toBeNull();
  expect(study.changes[0]).toMatchObject({ name: "series transistor in place of the relay", opens: true });
});

test("a zener into the gate gives way to a reference", () => {
  const study = studiedText(shippedText("02-hiccup-supply"), { threshold: "zener 15 V" });
  expect(study.exists).toBe(false);
  expect(study.dividers).toEqual([]);
  expect(study.changes[0].name).toBe("shunt reference 1 % with resistors of 1 %");
});

test("changes may be left for later", () => {
  const { settings } = readTripSettings();
  if (settings === null) throw new Error("no settings");
  const answer = tripStudy(shippedText("08-charger-creep"), "line.yaml", settings, { changes: false });
  expect(answer.kind === "answered" && answer.study.changes).toEqual([]);
  expect(answer.kind === "answered" && answer.study.headline).toBe("No trip point is right in the worst case.");
});
