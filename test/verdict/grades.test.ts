import { describe, expect, test } from "vitest";
import { judge } from "../../packages/sim/src/verdict/judge.ts";
import { barFound, blown, context, fuseFound, idle, judged, loadFound, run, trace } from "./fixtures.ts";
import { crowbar, radio, supply } from "./parts.ts";

/** Withstand curve "parts rated 16 V" of the reference data (assumed there): 16 V 1 s, 18.4 V 10 ms. */
const curve = [
  { voltage: 16, time: 1 },
  { voltage: 18.4, time: 0.01 },
];
const tough = { ...radio, limits: { ...radio.limits, withstand: curve, withstandAssumed: true } };

const above = (peak: number, total: number, at16: number, at18: number, longest = total) =>
  loadFound({
    peak: { value: peak, time: 0.01 },
    aboveMaximum: { level: 15.9, total, longest, area: total },
    withstand: [
      { level: 16, total: at16, longest: at16, area: 0, allowed: 1 },
      { level: 18.4, total: at18, longest: at18, area: 0, allowed: 0.01 },
    ],
  });

describe("grade", () => {
  test("inside: never above its maximum", () => {
    const verdict = judged(run());
    expect(verdict.grade).toBe("inside");
    expect(verdict.safe).toBe(true);
    expect(verdict.exitStatus).toBe(0);
    expect(verdict.headline).toBe("The radio never saw more than 15.1 V: inside its window (11.7 V to 15.9 V).");
  });

  test("withstood: above it for no longer than its curve allows", () => {
    const verdict = judged(run({ loads: [above(17, 0.5, 0.4, 0)] }, { loads: [tough] }));
    expect(verdict.grade).toBe("withstood");
    expect(verdict.safe).toBe(false);
    expect(verdict.exitStatus).toBe(1);
    expect(verdict.loads[0]?.smallestMargin).toEqual({ level: 16, ratio: 2.5 });
    expect(verdict.headline).toBe(
      "The radio stood at 17 V, above its maximum of 15.9 V for 500 ms: above its window, within what it stands (by a withstand curve that is assumed).",
    );
  });

  test("beyond: longer than its curve allows", () => {
    const verdict = judged(run({ loads: [above(21.9, 3.2, 3.1, 0.005)] }, { loads: [tough] }));
    expect(verdict.grade).toBe("beyond");
    expect(verdict.exitStatus).toBe(1);
    expect(verdict.headline).toContain(
      "The radio stood at 21.9 V, above its maximum of 15.9 V for 3.2 s: beyond what it stands",
    );
    expect(verdict.headline).toContain("16 V is allowed for 1 s, it lasted 3.1 s");
  });

  test("beyond: any time above the maximum without a curve", () => {
    const found = loadFound({
      peak: { value: 16.4, time: 0 },
      aboveMaximum: { level: 15.9, total: 2e-5, longest: 2e-5, area: 1e-5 },
    });
    const verdict = judged(run({ loads: [found] }));
    expect(verdict.grade).toBe("beyond");
    expect(verdict.headline).toContain("for 20 µs: beyond what it stands (it has no withstand curve");
  });

  test("tells the longest stretch where there were several", () => {
    const verdict = judged(run({ loads: [above(17, 0.5, 0.1, 0, 0.2)] }, { loads: [tough] }));
    expect(verdict.headline).toContain("for 500 ms in all, 200 ms at the longest");
  });

  test("exactly at the maximum, and exactly as long as allowed, is kept, but too close to call", () => {
    const at = judged(run({ loads: [loadFound({ peak: { value: 15.9, time: 0 } })] }));
    expect(at.grade).toBe("inside");
    expect(at.exitStatus).toBe(1);
    expect(at.headline).toMatch(/^Too close to call: The radio: voltage of 15.9 V stands on its level/);
    const long = judged(run({ loads: [above(17, 1.5, 1, 0)] }, { loads: [tough] }));
    expect(long.grade).toBe("withstood");
    expect(long.tooClose).toHaveLength(1);
  });
});

describe("within 0.1 % of a decisive level", () => {
  const peak = (value: number) =>
    judged(
      run({
        loads: [loadFound({ peak: { value, time: 0 }, aboveMaximum: { level: 15.9, total: 1, longest: 1, area: 0 } })],
      }),
    );

  test.each([
    [15.9 * (1 - 0.0011), 0, "inside", 0],
    [15.9 * (1 - 0.0009), 1, "inside", 1],
    [15.9 * (1 + 0.0009), 1, "beyond", 1],
    [15.9 * (1 + 0.0011), 0, "beyond", 1],
  ] as const)("the peak at %f V", (value, close, grade, exit) => {
    const verdict = peak(value);
    expect(verdict.tooClose).toHaveLength(close);
    expect(verdict.grade).toBe(grade);
    expect(verdict.exitStatus).toBe(exit);
    expect(verdict.headline.startsWith("Too close to call: ")).toBe(close === 1);
  });

  test("says by how much, with digits that keep the two apart", () => {
    expect(peak(15.9 * 1.0005).tooClose[0]?.sentence).toBe(
      "The radio: voltage of 15.91 V passes its level of 15.9 V by 0.05 %.",
    );
  });

  test.each([
    [0.9989, 0],
    [0.9991, 1],
    [1.0009, 1],
    [1.0011, 0],
  ])("the time above a withstand voltage, %f of what is allowed", (share, close) => {
    expect(judged(run({ loads: [above(17, 1.2, share, 0)] }, { loads: [tough] })).tooClose).toHaveLength(close);
  });

  test("a flat top just below a withstand voltage counts only where it lasts longer than that allows", () => {
    const close = (at16: number) =>
      judged(run({ loads: [above(18.39, 0.5, at16, 0)] }, { loads: [tough] })).tooClose.length;
    expect(close(0.5)).toBe(1);
    expect(close(0.009)).toBe(0);
  });

  test("the sensed voltage where the crowbar never fired", () => {
    const sense = (value: number) => judged(run({ crowbar: barFound({ ...idle, peakSense: { value, time: 0 } }) }));
    expect(sense(15 * 0.9991).tooClose[0]?.sentence).toContain(
      "filtered sense voltage of 14.99 V misses its level of 15 V by 0.09 %",
    );
    expect(sense(15 * 0.9991).exitStatus).toBe(1);
    expect(sense(15 * 0.9989).tooClose).toEqual([]);
    expect(judged(run({ crowbar: barFound({ peakSense: { value: 15.001, time: 0 } }) })).tooClose).toEqual([]);
  });

  test("a fuse that nearly melted", () => {
    const theta = (peakTheta: number) => judged(run({ fuses: [fuseFound({ peakTheta })] }));
    expect(theta(0.9991).tooClose[0]?.subject).toBe("main fuse");
    expect(theta(0.9989).tooClose).toEqual([]);
    expect(judged(run({ fuses: [fuseFound(blown)] })).tooClose).toEqual([]);
  });

  test("the junction beside the temperature at which it fails, as rises above ambient", () => {
    const junction = (value: number) =>
      judged(run({ crowbar: barFound({ peakTemperature: { value, time: 0.06 } }) })).tooClose.length;
    expect(junction(25 + 225 * 0.9991)).toBe(1);
    expect(junction(25 + 225 * 0.9989)).toBe(0);
  });

  test("a rating whose other side changes nothing is not decisive", () => {
    const verdict = judged(run({ crowbar: barFound({ peakTemperature: { value: 125.05, time: 0.06 } }) }));
    expect(verdict.tooClose).toEqual([]);
    expect(verdict.exitStatus).toBe(0);
  });
});

test("a load clearly beyond what it stands keeps its answer first, whatever else is close", () => {
  const found = loadFound({
    peak: { value: 20, time: 0 },
    aboveMaximum: { level: 15.9, total: 1, longest: 1, area: 4 },
  });
  const verdict = judged(run({ loads: [found], fuses: [fuseFound({ peakTheta: 0.9995 })] }));
  expect(verdict.headline).toMatch(/^The radio stood at 20 V/);
  expect(verdict.tooClose.map(({ subject }) => subject)).toEqual(["main fuse"]);
});

describe("several loads", () => {
  const loads = [radio, { ...radio, name: "radio 2" }];
  const found = [
    loadFound(),
    loadFound({
      name: "radio 2",
      peak: { value: 17, time: 0 },
      aboveMaximum: { level: 15.9, total: 1, longest: 1, area: 1 },
    }),
  ];

  test("the worst one makes the headline, every one has its sentence", () => {
    const verdict = judged(run({ loads: found }, { loads }));
    expect(verdict.grade).toBe("beyond");
    expect(verdict.headline).toMatch(/^Radio 2 stood at .*Of the 2 loads it fares worst\.$/);
    expect(verdict.loads.map(({ grade }) => grade)).toEqual(["inside", "beyond"]);
  });

  test("of equal grades the one nearest its maximum makes the headline, wherever it stands", () => {
    const near = [loadFound({ peak: { value: 15.5, time: 0 } }), loadFound({ name: "radio 2" })];
    expect(judged(run({ loads: near }, { loads })).headline).toContain("The radio never saw more than 15.5 V");
    expect(judged(run({ loads: [...near].reverse() }, { loads: [...loads].reverse() })).headline).toContain("15.5 V");
  });
});

describe("a starved load is said, not graded", () => {
  const low = { level: 11.7, total: 0.298, longest: 0.298, area: 1 };

  test("came back", () => {
    const verdict = judged(run({ loads: [loadFound({ belowMinimum: low })] }));
    expect(verdict.loads[0]?.starved?.sentence).toBe(
      "The radio was below its minimum of 11.7 V for 298 ms; it came back by itself.",
    );
    expect(verdict.exitStatus).toBe(0);
  });

  test("stays without supply until a fuse is replaced", () => {
    const dead = { loads: [loadFound({ belowMinimum: low })], trace: trace([0, 0.3], { radio_V: [13.5, 0.2] }) };
    expect(judged(run({ ...dead, fuses: [fuseFound(blown)] })).loads[0]?.starved?.comesBack).toBe("by hand");
    expect(judged(run(dead)).loads[0]?.starved?.comesBack).toBe("by itself");
  });

  test("and never called inside a window that it fell out of downwards", () => {
    expect(judged(run({ loads: [loadFound({ belowMinimum: low })] })).headline).toBe(
      "The radio never saw more than 15.1 V: within its limit of 15.9 V.",
    );
  });

  test("a supply's own SCR that failed short keeps the line dead, behind a diode only that supply", () => {
    const dead = (diode: typeof supply.diode) =>
      judged(
        run(
          {
            loads: [loadFound({ belowMinimum: low })],
            trace: trace([0, 0.3], { radio_V: [13.5, 0.2] }),
            crowbar: null,
            ownCrowbars: [{ source: "supply", findings: barFound({ failedShort: true }) }],
          },
          { crowbar: null, sources: [{ ...supply, ownCrowbar: crowbar, diode }] },
        ),
      ).loads[0]?.starved?.comesBack;
    expect(dead(null)).toBe("by hand");
    expect(dead({ forwardVoltage: 0.4, resistance: 0.01 })).toBe("by itself");
  });

  test("dropped out and waits for somebody", () => {
    const dropOut = {
      voltage: 10.5,
      delay: 0.01,
      sleepCurrent: 0.01,
      returnVoltage: 12,
      returnDelay: 1,
      comesBack: "by hand",
    } as const;
    const verdict = judged(
      run(
        { loads: [loadFound({ belowMinimum: low, drops: 1, sleepingAtEnd: true })] },
        { loads: [{ ...radio, dropOut }] },
      ),
    );
    expect(verdict.loads[0]?.starved?.sentence).toContain(
      "and dropped out once; at the end it is still so, and stays so until somebody goes there",
    );
    expect(verdict.replace.at(-1)).toBe("Switch the radio on again at its place: it does not come back by itself.");
  });

  test("where the trace does not tell its end, nothing is claimed", () => {
    const verdict = judged(run({ loads: [loadFound({ belowMinimum: low })], trace: trace([0], {}) }));
    expect(verdict.loads[0]?.starved?.comesBack).toBe("not told");
  });
});

describe("no basis, no verdict", () => {
  const failure = { reason: "the step size fell below 1e-15 s", device: "clamp", remedy: "Try a looser tolerance." };

  test.each([
    ["failed", run({ outcome: { status: "failed", time: 0.01, failure } }), "the step size fell below 1e-15 s (clamp)"],
    [
      "stopped",
      run({ outcome: { status: "stopped", time: 0.01, failure: null } }),
      "stopped at 10 ms, before its end at 300 ms",
    ],
    [
      "open energy balance",
      run({ energy: { ...run().energy, relative: 1.1e-6 } }),
      "the energy balance does not close: 1.1e-6",
    ],
    ["energy that is no number", run({ energy: { ...run().energy, relative: Number.NaN } }), "does not close"],
    [
      "a voltage that is no number",
      run({ loads: [loadFound({ peak: { value: Number.NaN, time: 0 } })] }),
      "is not a number",
    ],
    ["no load", run({ loads: [] }), "tells of no load"],
  ])("%s", (_, made, reason) => {
    const verdict = judge(made, context);
    expect(verdict.kind).toBe("not a verdict");
    expect(verdict.exitStatus).toBe(3);
    expect(verdict.headline).toContain("No verdict: ");
    expect(verdict.headline).toContain(reason);
    expect(Object.keys(verdict)).not.toContain("grade");
    expect(Object.keys(verdict)).not.toContain("safe");
    expect(JSON.stringify(verdict)).not.toMatch(/inside its window|beyond what it stands|within what it stands/);
  });

  test("a balance of exactly 1e-6 and a run that came to rest carry one", () => {
    expect(judge(run({ energy: { ...run().energy, relative: 1e-6 } }), context).kind).toBe("verdict");
    const rest = judged(run({ outcome: { status: "at rest", time: 0.1, failure: null } }));
    expect(rest.notes).toContain("The line came to rest at 100 ms; totals are continued to 300 ms.");
  });
});
