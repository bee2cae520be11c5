import { describe, expect, test } from "vitest";
import { finding, judged, run, switchFound } from "./fixtures.ts";
import { seriesSwitch } from "./parts.ts";

/** A switch that carries 40 A for ever, and a triangle of current on 5 A: so long above a level. */
const triangle = (peak: number, half: number) => (level: number) => 2 * half * Math.max(0, (peak - level) / (peak - 5));

const carrying = (peak: number, above: (level: number) => number) => {
  const overload = { window: 1, most: above(40), mostNear: above(0.998 * 40) };
  const found = switchFound({ peakCurrent: peak, overload });
  return judged(run({ crowbar: null, seriesSwitch: found }, { crowbar: null, seriesSwitch }));
};

describe("series switch: what it carries for ever, and for a short time", () => {
  test("inside its rating: one line, no assumption", () => {
    const verdict = carrying(35, triangle(35, 0.05));
    expect(finding(verdict, "series switch", "current").severity).toBe("ok");
    expect(verdict.notes.join(" ")).not.toContain("assumed");
    expect(verdict.exitStatus).toBe(0);
  });

  test("a short peak of less than four times is no damage, and the assumption is said", () => {
    // 115 A above 5 A, the level of 40 A at 35/110 of the way: above it for 2·(1 − 35/110)·0.5 ms.
    const verdict = carrying(115, triangle(115, 0.5e-3));
    const time = finding(verdict, "series switch", "time above 40 A (assumed)");
    expect(time.found).toBeCloseTo((1 - 35 / 110) * 1e-3, 9);
    expect([time.severity, time.rating]).toEqual(["ok", 1e-3]);
    const current = finding(verdict, "series switch", "current for 1 ms (assumed)");
    expect([current.severity, current.rating]).toEqual(["ok", 160]);
    expect(verdict.exitStatus).toBe(0);
    expect(verdict.replace.join(" ")).not.toContain("Test the series switch");
    expect(verdict.notes).toContain(
      "The 40 A of the series switch are what it carries for ever; that it stands 4 times as much for 1 ms in any second is assumed.",
    );
  });

  test("for longer the outcome is unknown: test it, nobody says replace", () => {
    const verdict = carrying(115, triangle(115, 5e-3));
    const time = finding(verdict, "series switch", "time above 40 A (assumed)");
    expect(time.severity).toBe("unknown");
    expect(time.sentence).toBe(
      "The series switch carried more than 40 A, which it carries for ever, for 6.82 ms within a second: no rating for that is known, so the outcome is unknown. Its data sheet may give a pulse current.",
    );
    expect(verdict.replace).toContain(
      "Test the series switch, whether it opens and closes: it may be damaged, nobody can say how.",
    );
    expect(verdict.exitStatus).toBe(4);
  });

  test("a peak of more than four times is unknown however short", () => {
    const verdict = carrying(170, triangle(170, 1e-6));
    expect(finding(verdict, "series switch", "current for 1 ms (assumed)").sentence).toBe(
      "The series switch carried 170 A, 4.3 times the 40 A that it carries for ever: no rating for that is known, so the outcome is unknown. Its data sheet may give a pulse current.",
    );
    expect(verdict.exitStatus).toBe(4);
  });

  test("without a recorded current nobody can say for how long", () => {
    const made = run(
      { crowbar: null, seriesSwitch: switchFound({ peakCurrent: 55 }) },
      { crowbar: null, seriesSwitch },
    );
    expect(finding(judged(made), "series switch", "time above 40 A (assumed)").sentence).toContain(
      "for a time that was not recorded",
    );
    expect(judged(made).exitStatus).toBe(4);
  });

  test("at the rating for long: too close to call; at it for a moment: decided either way", () => {
    expect(carrying(40.01, () => 0.3).exitStatus).toBe(1);
    expect(carrying(40.01, triangle(40.01, 1e-4)).tooClose).toEqual([]);
  });
});
