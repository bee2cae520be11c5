import { describe, expect, test } from "vitest";
import { parseScenario, type Run, type RunEvent } from "../../../packages/sim/src/index.ts";
import { channelOf } from "../../../packages/sim/src/study/fit/channels.ts";
import { LineCurve } from "../../../packages/sim/src/study/fit/curve.ts";
import { runFor, type Simulated } from "../../../packages/sim/src/study/fit/simulated.ts";
import { Warp } from "../../../packages/sim/src/study/fit/warp.ts";
import { captured, captureOf, hiccupInstrument, scenarioWith } from "./bench.ts";

const UNTIL = 0.7;

function runAt(trip: number, offTime: number): Simulated {
  const text = scenarioWith("02-hiccup-supply", {
    "crowbar.trip voltage": `${trip} V`,
    "sources[0].limit.off time": `${offTime} ms`,
  });
  const run = runFor(parseScenario(text, "run.yaml"), UNTIL);
  if (run === null) throw new Error("there is no run");
  const { values } = run.trace.columns.find(({ name }) => name === "relay_radio_V")!;
  return { run, lines: [new LineCurve(run.trace.time, values)], edges: [[]] };
}

test("a warped run is the run at other values, through its steps, and with instants that move by a good part of a sample", () => {
  const capture = captured(scenarioWith("02-hiccup-supply", {}), hiccupInstrument(1, { samples: 2600 }));
  const channel = channelOf(capture, capture.channels[0]!, "relay_radio_V")!;
  const base = runAt(15, 300);
  const sides = [
    { up: runAt(15.02, 300), down: runAt(14.98, 300), over: 0.04 },
    { up: runAt(15, 300.05), down: runAt(15, 299.95), over: 0.1 },
  ];
  const warp = new Warp(base, sides, [channel], channel.interval);
  const change = [0.05, 0.09];
  const knots = Float64Array.from(warp.knots);
  warp.moved(change, knots);
  const truth = runAt(15.05, 300.09);
  const other = Float64Array.from(truth.run.events, ({ time }) => time);
  let [worst, straight] = [0, 0];
  for (const knot of knots) {
    // The event happens when it does in the run at these values.
    expect(Math.min(...other.map((time) => Math.abs(time - knot)))).toBeLessThan(0.01 * channel.interval);
    for (let k = -5; k <= 5; k++) {
      const t = knot + (k + 0.5) * 0.2 * channel.interval;
      const real = truth.lines[0]!.at(t);
      worst = Math.max(worst, Math.abs(warp.at(0, t, change, knots, 0) - real));
      const [a, b] = sides.map(({ up, down, over }) => (up.lines[0]!.at(t) - down.lines[0]!.at(t)) / over);
      straight = Math.max(straight, Math.abs(base.lines[0]!.at(t) + change[0]! * a! + change[1]! * b! - real));
    }
  }
  process.stderr.write(
    `MEASURED  warped run off by ${(1e3 * worst).toFixed(1)} mV at most, straight lines by ${straight.toFixed(2)} V\n`,
  );
  expect(knots.length).toBeGreaterThanOrEqual(6);
  expect(worst).toBeLessThan(0.02);
  expect(straight).toBeGreaterThan(1);
});

describe("which events curves are warped by", () => {
  const channel = (() => {
    const time = Float64Array.from({ length: 40 }, (_, k) => 0.1 * k);
    const capture = captureOf(time, [{ name: "radio", unit: "V", values: new Float64Array(40).fill(13.8) }]);
    return channelOf(capture, capture.channels[0]!, "radio_V")!;
  })();

  /** A run that falls by a volt at its first event and by two at its second, each told by when and what it is. */
  function made(...happened: readonly (readonly [time: number, kind: RunEvent["kind"]])[]): Simulated {
    const events = happened.map(([time, kind]) => ({ time, kind, subject: { part: "crowbar", owner: "" } }));
    const [first = 5, second = 6] = happened.map(([time]) => time);
    const line = new LineCurve(
      Float64Array.of(0, first, first, second, second, 9),
      Float64Array.of(14, 14, 13, 13, 11, 11),
    );
    return { run: { events } as unknown as Run, lines: [line], edges: [[]] };
  }
  const knotsOf = (base: Simulated, up: Simulated) =>
    Array.from(new Warp(base, [{ up, down: base, over: 1 }], [channel], 0.1).knots);

  test("those that all runs have, up to the first that is another", () => {
    const base = made([1, "fires"], [2, "melts"]);
    expect(knotsOf(base, made([1.01, "fires"], [2.01, "melts"]))).toEqual([1, 2]);
    expect(knotsOf(base, made([1.01, "fires"], [2.01, "fails short"]))).toEqual([1]);
    expect(knotsOf(base, made([1.01, "fails short"], [2.01, "melts"]))).toEqual([]);
  });

  test("of two that fall together in one of the runs the first", () => {
    const base = made([1, "fires"], [1.5, "melts"]);
    expect(knotsOf(base, made([1.5, "fires"], [1.5, "melts"]))).toEqual([1]);
  });

  test("without any, curves change as the difference of two runs says", () => {
    const [base, up] = [made(), made()];
    const line = new LineCurve(Float64Array.of(0, 9), Float64Array.of(14.5, 14.5));
    const warp = new Warp(base, [{ up: { ...up, lines: [line] }, down: base, over: 0.5 }, null], [channel], 0.1);
    const knots = Float64Array.from(warp.knots);
    warp.moved([0.1, 0], knots);
    expect(knots).toHaveLength(0);
    expect(warp.slopeAt(0, 0, 3, 0, -1)).toBeCloseTo((14.5 - 14) / 0.5, 12);
    expect(warp.slopeAt(1, 0, 3, 0, -1)).toBe(0);
    // It keeps curves around events alone.
    expect(warp.at(0, 3, [0.1, 0], knots, -1)).toBeNaN();
  });
});
