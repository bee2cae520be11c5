import { describe, expect, test } from "vitest";
import { resistorGrade } from "../../../packages/sim/src/study/trip/resistors.ts";
import { gateOf, type ReferenceDevice, thresholdDevice } from "../../../packages/sim/src/study/trip/thresholds.ts";
import {
  dividerTolerance,
  dividerTrip,
  exactDivider,
  zenerTolerance,
} from "../../../packages/sim/src/study/trip/tolerance.ts";
import { seeded } from "./seeded.ts";

const reference = thresholdDevice("shunt reference 1 %") as ReferenceDevice;
const room = { coldest: 25, hottest: 25 };
const outside = { coldest: -20, hottest: 40 };
/** The same reference with an ideal input. */
const ideal: ReferenceDevice = {
  ...reference,
  current: { ...reference.current, value: 0 },
  currentSpread: { ...reference.currentSpread, value: 0 },
};

// The 431-class sheet (TI SLVS543, formula from memory): V = V_ref·(1 + R1/R2) + I_ref·R1.
describe("the sheet's formula, by hand", () => {
  test("10 kΩ over 10 kΩ: 2.495 V × 2 + 2 µA × 10 kΩ = 5.010 V", () => {
    expect(dividerTrip(2.495, { upper: 10e3, lower: 10e3 }, 2e-6)).toBeCloseTo(5.01, 12);
  });

  test("10 kΩ over 2 kΩ of 1 % with a reference of 1 %: 14.576 to 15.374 V, and 1.546 % by root-sum-square", () => {
    const found = dividerTolerance(ideal, { upper: 10e3, lower: 2e3 }, "1 %", room);
    expect(found.nominal).toBeCloseTo(14.97, 12);
    // 2.47005 V × (1 + 9.9/2.02) and 2.51995 V × (1 + 10.1/1.98)
    expect(found.low).toBeCloseTo(14.57574, 5);
    expect(found.high).toBeCloseTo(15.37424, 5);
    // √(0.01² + 2 × 0.01² × (10/12)²) = 0.0154560
    expect((found.rss.high - found.nominal) / found.nominal).toBeCloseTo(0.015456, 6);
    expect(found.nominal - found.rss.low).toBeCloseTo(found.rss.high - found.nominal, 12);
  });

  test("at 25 °C nothing drifts; from −20 to 40 °C the sheet's 14 mV and 45 K of the resistors' drift are added", () => {
    const rows = (range: typeof room) => dividerTolerance(ideal, { upper: 10e3, lower: 2e3 }, "1 %", range).above;
    expect(rows(room).map(({ value }) => value)[1]).toBe(0);
    const [, drift, , resistors] = rows(outside);
    expect(drift.value).toBeCloseTo(0.014 * 6, 12);
    // 100 ppm/K × 45 K = 0.45 % each way beyond the 1 %.
    const before = (2.495 * 1.01 + 0.014) * (1 + (10 * 1.01) / (2 * 0.99));
    const after = (2.495 * 1.01 + 0.014) * (1 + (10 * 1.0145) / (2 * 0.9855));
    expect(resistors.value).toBeCloseTo(after - before, 9);
  });
});

describe("worst case", () => {
  test("is what the worst of all corners gives, whatever the divider", () => {
    const random = seeded(5);
    for (let count = 0; count < 50; count++) {
      const divider = { upper: 5e3 + 30e3 * random(), lower: 1e3 + 5e3 * random() };
      const grade = ["5 %", "1 %", "0.1 %"][count % 3];
      const found = dividerTolerance(reference, divider, grade, outside);
      const { tolerance, drift } = resistorGrade(grade);
      const off = tolerance + drift.value * 45;
      const trips = [-1, 1].flatMap((a) =>
        [-1, 1].flatMap((b) =>
          [-1, 1].flatMap((c) =>
            [0, 4e-6].map((current) =>
              dividerTrip(
                2.495 + a * (0.02495 + 0.014),
                { upper: divider.upper * (1 + b * off), lower: divider.lower * (1 + c * off) },
                current,
              ),
            ),
          ),
        ),
      );
      expect(found.high).toBeCloseTo(Math.max(...trips), 9);
      expect(found.low).toBeCloseTo(Math.min(...trips), 9);
      const sum = (rows: typeof found.below) => rows.reduce((total, { value }) => total + value, 0);
      expect(found.nominal + sum(found.below)).toBeCloseTo(found.low, 9);
      expect(found.nominal + sum(found.above)).toBeCloseTo(found.high, 9);
    }
  });

  test("has the nominal value that was asked for", () => {
    for (const wanted of [5, 14.9, 30])
      expect(dividerTrip(2.495, exactDivider(reference, wanted, 1e-3), 2e-6)).toBeCloseTo(wanted, 9);
  });
});

test("root-sum-square is three standard deviations where each value has a third of its tolerance as its own", () => {
  const random = seeded(11);
  const normal = (): number => Math.sqrt(-2 * Math.log(1 - random())) * Math.cos(2 * Math.PI * random());
  const divider = { upper: 12.1e3, lower: 2.37e3 };
  const found = dividerTolerance(reference, divider, "1 %", outside);
  const spread = (tolerance: number): number => (tolerance / 3) * normal();
  const trips = Array.from({ length: 40_000 }, () =>
    dividerTrip(
      2.495 + spread(0.02495) + spread(0.014),
      {
        upper: divider.upper * (1 + spread(0.01) + spread(0.0045)),
        lower: divider.lower * (1 + spread(0.01) + spread(0.0045)),
      },
      2e-6 + spread(2e-6),
    ),
  );
  const mean = trips.reduce((sum, each) => sum + each, 0) / trips.length;
  const variance = trips.reduce((sum, each) => sum + (each - mean) ** 2, 0) / (trips.length - 1);
  const wide = found.rss.high - found.nominal;
  // 40 000 samples tell a standard deviation to 0.4 % (1 σ); the formula leaves out products of tolerances.
  expect(Math.abs((3 * Math.sqrt(variance)) / wide - 1)).toBeLessThan(0.015);
});

describe("a zener into the gate", () => {
  const device = thresholdDevice("zener 15 V");

  test("fires 20 to 40 % above its nominal voltage in the worst case, as the trade says", () => {
    if (device.kind !== "zener") throw new Error("no zener");
    const { high } = zenerTolerance(device, gateOf("SCR 55 A"), outside);
    expect(high / 15).toBeGreaterThan(1.2);
    expect(high / 15).toBeLessThan(1.4);
  });

  test("asks for more in the cold: 40 mA at 25 °C become 75 mA at −20 °C", () => {
    if (device.kind !== "zener") throw new Error("no zener");
    const row = (coldest: number) =>
      zenerTolerance(device, gateOf("SCR 55 A"), { coldest, hottest: 40 }).above.find(({ name }) =>
        name.startsWith("trigger current"),
      )?.value;
    // 15 Ω × (40 mA × (1 + 1.25 × 45/65) − 15 mA) and 15 Ω × (40 − 15) mA
    expect(row(-20)).toBeCloseTo(15 * (0.04 * (1 + (1.25 * 45) / 65) - 0.015), 9);
    expect(row(25)).toBeCloseTo(15 * 0.025, 9);
  });
});
