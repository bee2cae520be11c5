import type { TripStudy, TripWishes } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { resistorGrade } from "../../../packages/sim/src/study/trip/resistors.ts";
import { dividerTrip } from "../../../packages/sim/src/study/trip/tolerance.ts";
import { shippedText, studiedText } from "./lines.ts";

const studied = (line: string, wishes: TripWishes = {}): TripStudy => studiedText(shippedText(line), wishes);

/** Every sum of a side's shares with what varies at either end. */
function corners(rows: TripStudy["bottom"]["rows"]): number[] {
  return rows.reduce<number[]>(
    (sums, { value, spread }) => sums.flatMap((sum) => (spread ? [sum + value, sum - value] : [sum + value])),
    [0],
  );
}

/** Where a reference of 2.495 V ± share with a divider of this grade may trip, −20 to 40 °C: all corners. */
function tripCorners(nominal: number, share: number, grade: string): number[] {
  const { tolerance, drift } = resistorGrade(grade);
  const off = tolerance + drift.value * 45;
  const lower = 2495;
  const upper = (nominal - 2.495) / (1e-3 + 2e-6);
  return [-1, 1].flatMap((a) =>
    [-1, 1].flatMap((b) =>
      [-1, 1].flatMap((c) =>
        [0, 4e-6].map((current) =>
          dividerTrip(
            2.495 * (1 + a * share) + a * 14e-3,
            { upper: upper * (1 + b * off), lower: lower * (1 + c * off) },
            current,
          ),
        ),
      ),
    ),
  );
}

describe("the window for the nominal trip point", () => {
  test.each([
    ["01-shorted-pass-transistor", "shunt reference 1 %", 0.01, "1 %"],
    ["02-hiccup-supply", "shunt reference 0.5 %", 0.005, "0.1 %"],
    ["17-two-radios", "shunt reference 1 %", 0.01, "0.5 %"],
    ["17-two-radios", "shunt reference 2 %", 0.02, "1 %"],
  ])("of %s with a %s is what trying every corner gives", (line, threshold, share, resistors) => {
    const study = studied(line, { threshold, resistors });
    const most = Math.max(...corners(study.bottom.rows));
    const least = Math.min(...corners(study.top.rows));
    expect(most).toBeCloseTo(study.band.low, 9);
    expect(least).toBeCloseTo(study.band.high, 9);
    const step = 1e-3;
    const good: number[] = [];
    for (let nominal = 13; nominal < 17; nominal += step) {
      const trips = tripCorners(nominal, share, resistors);
      // Never at what normal service shows, always at what the load stands.
      if (trips.every((trip) => trip >= most && trip <= least)) good.push(nominal);
    }
    expect(study.exists).toBe(good.length > 0);
    if (good.length === 0) {
      expect(study.window.low).toBeGreaterThan(study.window.high);
      return;
    }
    expect(Math.abs(good[0] - study.window.low)).toBeLessThan(2 * step);
    expect(Math.abs(good[good.length - 1] - study.window.high)).toBeLessThan(2 * step);
  });
});

describe("what makes the edges", () => {
  test("a charger with cold compensation: 14.4 V and 20 mV/K over 45 K", () => {
    const { bottom } = studied("08-charger-creep");
    const value = (name: RegExp) => bottom.rows.find((row) => name.test(row.name))?.value;
    expect(value(/^raised to charge/)).toBeCloseTo(0.6, 9);
    expect(value(/^cold compensation/)).toBeCloseTo(0.9, 9);
  });

  test("of a steady rise the filter misses slope × time constant, and the delay slope × delay", () => {
    // The set voltage moves away at once; what limits the rise is the supply's current into its capacitor.
    const { tops, ramp } = studied("02-hiccup-supply");
    const value = (name: RegExp) => tops.fast?.rows.find((row) => name.test(row.name))?.value ?? Number.NaN;
    expect(ramp).not.toBeNull();
    expect(-value(/filter follows/) / ((ramp ?? 0) * 10e-6)).toBeCloseTo(1, 1);
    expect(-value(/protector acts/) / ((ramp ?? 0) * 2e-6)).toBeCloseTo(1, 1);
  });

  test("a voltage that creeps rules where a fast fault leaves more room, and the other way round", () => {
    const creeping = studied("01-shorted-pass-transistor");
    expect(creeping.rules).toBe("slow");
    expect(creeping.tops.fast?.worst).toBeGreaterThan(creeping.tops.slow.worst);
    const slow = studied("25-filter-too-slow");
    expect(slow.rules).toBe("fast");
    expect(slow.top.worst).toBe(slow.tops.fast?.worst);
  });

  test("a fault that endangers nobody leaves the creeping voltage to decide, and says so", () => {
    const { tops, noFault, ramp } = studied("19-hot-plug-from-dead");
    expect(tops.fast).toBeNull();
    expect(noFault).toMatch(/no source of this line has a fault/);
    expect(ramp).toBeNull();
  });

  test("what is given takes the place of what is usual", () => {
    const { bottom } = studied("02-hiccup-supply", { supplyMaximum: "14.2 V", pickup: "0 V", ripple: "20 mV" });
    const normal = bottom.rows.filter(({ name }) => /set voltage|maximum|accuracy/.test(name));
    expect(normal.map(({ name }) => name)).toEqual(["set voltage of station supply", "normal maximum of the supply"]);
    expect(normal.reduce((sum, { value }) => sum + value, 0)).toBeCloseTo(14.2, 9);
    expect(bottom.rows.find(({ name }) => name.startsWith("ripple"))?.value).toBe(0.02);
  });

  // Common practice: 14.8 V at the load and 15.0 V at the supply mean 14.9 V at a protector in the middle of two equal leads.
  test("with the protector in the middle of two equal leads, source and load stand half the drop above and below it", () => {
    const study = studiedText(HALVES, { transmit: "5 A" });
    const transmit = study.drops.find(({ state }) => state === "transmit");
    expect(14.9 + (transmit?.sourceSide ?? 0)).toBeCloseTo(15.0, 3);
    expect(14.9 - (transmit?.loadSide ?? 0)).toBeCloseTo(14.8, 3);
  });
});

/** 20 mohm on either side: of the source side 10 are the supply's own. */
const HALVES = `title: Halves
fault at: 1 ms
run for: 50 ms
sources:
  - name: supply
    part: linear supply 20 A
    source resistance: 10 mohm
    fault: {kind: lost feedback}
    lead: {resistance: 10 mohm, inductance: 1 uH, area: 4 mm2}
crowbar: {part: SCR 55 A, trip voltage: 15 V, sense filter: fast}
loads:
  - name: radio
    part: 100 W radio
    lead: {resistance: 20 mohm, inductance: 1 uH, area: 4 mm2}
`;
