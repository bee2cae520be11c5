import { figureTimeAxis, sharedAxes } from "@railfault/sim/figures";
import { describe, expect, it } from "vitest";
import { formatTime } from "../../packages/sim/src/report/figure/time-format.ts";
import { capacitorDump, creep, hiccup, shortedPass, twoRadios } from "./synthetic.ts";

const labels = (...args: Parameters<typeof figureTimeAxis>) => figureTimeAxis(...args).ticks.map((tick) => tick.label);

describe("the choice of scale", () => {
  it.each([
    ["events over more than three decades", twoRadios(), "logarithmic"],
    ["a firing that a linear axis would hide", shortedPass(), "logarithmic"],
    ["minutes after microseconds", capacitorDump(), "logarithmic"],
    ["repeated tripping", hiccup(), "linear"],
    ["one slow event", creep(), "linear"],
  ] as const)("%s", (_name, data, kind) => {
    expect(figureTimeAxis(data, {}).kind).toBe(kind);
  });
});

describe("a logarithmic axis", () => {
  const data = capacitorDump();
  const axis = figureTimeAxis(data, { timeScale: "logarithmic" });

  it("gives each decade the same room", () => {
    const at = (delay: number) => axis.position(data.faultTime + delay);
    expect(at(1e-2) - at(1e-3)).toBeCloseTo(at(10) - at(1), 6);
    expect(at(1e-2) - at(1e-3)).toBeGreaterThan(50);
  });

  it("shows the time before the fault as a short lead-in", () => {
    expect(axis.position(0)).toBe(axis.left);
    expect(axis.position(data.faultTime)).toBeLessThan(axis.left + 0.15 * (axis.right - axis.left));
    expect(axis.gap).not.toBeNull();
  });

  it("is monotone and invertible", () => {
    for (let x = axis.left; x <= axis.right; x += 3) {
      if (axis.gap && x > axis.gap.left && x < axis.gap.right) continue;
      expect(axis.position(axis.invert(x))).toBeCloseTo(x, 6);
    }
    const times = Array.from({ length: 400 }, (_, i) => 1e-6 * 1.06 ** i).filter((time) => time < 180);
    for (const [i, time] of times.entries()) {
      if (i > 0) expect(axis.position(time)).toBeGreaterThanOrEqual(axis.position(times[i - 1]));
    }
  });

  it("names decades up to a minute and steps of the clock beyond", () => {
    expect(labels(data, {})).toEqual(["before", "100 µs", "1 ms", "10 ms", "100 ms", "1 s", "10 s", "1 min"]);
    expect(labels(creep(), { timeScale: "logarithmic" })).toEqual(["before", "20 min", "30 min", "1 h", "2 h"]);
  });
});

describe("hours before a trip and microseconds after it", () => {
  const data = { ...creep(), faultTime: creep().events[1].time, zero: "trip" as const };
  const shared = { ...sharedAxes([data]), firstDelay: 1e-6, leadIn: 0.3 };
  const axis = figureTimeAxis(data, { timeScale: "logarithmic", axes: shared });

  it("stand on one axis, each with ticks of its own", () => {
    expect(axis.title).toBe("Time after trip");
    const words = axis.ticks.map(({ label }) => label);
    expect(words.filter((label) => /^−\d+ min$/.test(label)).length).toBeGreaterThan(1);
    expect(words).toContain("10 µs");
    const share = (axis.position(data.faultTime) - axis.left) / (axis.right - axis.left);
    expect(share).toBeCloseTo(0.3, 6);
  });

  it("keep equal steps for equal times before the trip", () => {
    const at = (hours: number) => axis.position(data.faultTime - 3600 * hours);
    expect(at(0.5) - at(1)).toBeCloseTo(at(1) - at(1.5), 6);
  });
});

describe("a linear axis", () => {
  it("chooses its unit", () => {
    expect(labels(creep(), {})).toEqual(["0", "0.5 h", "1 h", "1.5 h", "2 h"]);
    expect(labels(hiccup(), {})).toEqual(["0", "2 s", "4 s", "6 s", "8 s"]);
    expect(labels(shortedPass(), { range: [0.01, 0.0102] }).at(-1)).toBe("200 µs");
  });

  it("counts from its own start where the digits would grow too many", () => {
    const data = shortedPass(20);
    const axis = figureTimeAxis(data, { range: [15, 15.000021] });
    expect(axis.title).toMatch(/^Time from 14\.99\d* s on$/);
    expect(axis.ticks.at(-1)?.label).toBe("20 µs");
  });
});

it("says times as people do", () => {
  const said = [0, 1.03e-3, 2.5e-7, 4e-5, 0.62, 12.34, 60, 90, 600, 3600, 5400, 7200, 86400].map((t) => formatTime(t));
  expect(said).toEqual([
    "0 s",
    "1.03 ms",
    "250 ns",
    "40 µs",
    "620 ms",
    "12.3 s",
    "1 min",
    "90 s",
    "10 min",
    "1 h",
    "90 min",
    "2 h",
    "24 h",
  ]);
});
