import { describe, expect, test } from "vitest";
import { mostTimeAbove } from "../../packages/sim/src/verdict/look.ts";
import { finding, judged, run, switchFound, trace } from "./fixtures.ts";
import { seriesSwitch } from "./parts.ts";

/** A switch that carries 40 A for ever, and a triangle of current: up to the peak and down again. */
const triangle = (peak: number, half: number) => ({
  time: [0, 0.1, 0.1 + half, 0.1 + 2 * half, 0.3],
  amps: [5, 5, peak, 5, 5],
});

const carrying = (peak: number, { time, amps }: { time: number[]; amps: number[] }) =>
  judged(
    run(
      {
        crowbar: null,
        seriesSwitch: switchFound({ peakCurrent: peak }),
        trace: trace(time, { radio_V: time.map(() => 13.5), series_switch_A: amps }),
      },
      { crowbar: null, seriesSwitch },
    ),
  );

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
    expect(carrying(40.01, { time: [0, 0.1, 0.3], amps: [40.01, 40.01, 40.01] }).exitStatus).toBe(1);
    expect(carrying(40.01, triangle(40.01, 1e-4)).tooClose).toEqual([]);
  });
});

describe("most time above a level within a second", () => {
  const made = (time: number[], amps: number[]) =>
    run({ trace: trace(time, { radio_V: time.map(() => 13.5), series_switch_A: amps }) }, { endTime: 4 });

  test("pulses add up, those more than a second apart do not", () => {
    const steps = [0, 0, 0.2, 0.2, 0.7, 0.7, 0.9, 0.9, 2, 2, 2.3, 2.3, 4];
    const amps = [0, 50, 50, 0, 0, -50, -50, 0, 0, 50, 50, 0, 0];
    expect(mostTimeAbove(made(steps, amps), "series switch", 40, 1)).toBeCloseTo(0.4, 12);
    expect(mostTimeAbove(made(steps, amps), "series switch", 40, 0.1)).toBeCloseTo(0.1, 12);
    expect(mostTimeAbove(made(steps, amps), "series switch", 60, 1)).toBe(0);
  });

  test("at rest the last current stays", () => {
    const resting = run(
      {
        trace: trace([0, 0.1], { radio_V: [13, 13], series_switch_A: [50, 50] }),
        outcome: { status: "at rest", time: 0.1, failure: null },
      },
      { endTime: 0.6 },
    );
    expect(mostTimeAbove(resting, "series switch", 40, 1)).toBeCloseTo(0.6, 12);
  });
});
