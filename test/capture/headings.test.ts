import { describe, expect, test } from "vitest";
import { read } from "./read.ts";

const rows = (count: number, row: (k: number) => string): string =>
  Array.from({ length: count }, (_, k) => row(k)).join("\n");

function layoutOf(text: string, options = {}) {
  const { capture, issues } = read(text, options);
  if (capture === null) throw new Error(JSON.stringify(issues));
  return capture;
}

describe("the sample interval", () => {
  test.each([
    ["Trigger period,5,ms\nSample interval,1,us", 1e-6],
    ["Sample interval,1,us\nTrigger period,5,ms", 1e-6],
    ["Horizontal interval,2 ms\nIncrement,4 us", 4e-6],
    ["Logging interval,2 s", 2],
  ])("%s: %f s", (above, interval) => {
    const text = `${above}\nU (V)\n${rows(50, (k) => (13 + (k % 7) / 10).toFixed(1))}\n`;
    expect(layoutOf(text).layout.interval).toBeCloseTo(interval, 12);
  });

  test("stands in a column of its own, in the row of units", () => {
    const text = `X,CH1,Start,Increment\nSequence,Volt,-6.0e-3,1.0e-6\n${rows(50, (k) => `${k},${13 + (k % 7) / 10},,`)}\n`;
    const { interval, channels, time } = layoutOf(text);
    expect(interval).toBeCloseTo(1e-6, 12);
    expect(channels.map(({ name, unit }) => [name, unit])).toEqual([["CH1", "V"]]);
    expect(time.at(-1)).toBeCloseTo(49e-6, 12);
  });
});

test.each([
  ["CH1 mV", "CH1", 0.001],
  ["mV", "mV", 0.001],
  ["U (mV DC)", "U", 0.001],
  ["U (mVolt)", "U", 0.001],
  ["U-mV", "U", 0.001],
  ["CH A", "CH A", 1],
  ["Probe 1", "Probe 1", 1],
])("a channel under the heading %s is called %s and counts %f V", (heading, name, factor) => {
  const { channels } = layoutOf(`Time (s),${heading}\n${rows(50, (k) => `${k / 1000},${13800 + (k % 9) * 10}`)}\n`);
  expect(channels[0]!.name).toBe(name);
  expect(channels[0]!.unit).toBe("V");
  expect(channels[0]!.values[0]).toBeCloseTo(13800 * factor, 9);
});

test.each(["Time ms", "ms", "t-ms"])("a time under the heading %s is in milliseconds", (heading) => {
  const { time } = layoutOf(`${heading},U (V)\n${rows(50, (k) => `${k},${13 + (k % 9) / 10}`)}\n`);
  expect(time.at(-1)).toBeCloseTo(0.049, 12);
});

test("a comma under one heading is a decimal one", () => {
  const { channels } = layoutOf(`U (V)\n${rows(50, (k) => `13,${50 + (k % 9)}`)}\n`, {
    corrections: { interval: 1e-3 },
  });
  expect(channels).toHaveLength(1);
  expect(channels[0]!.values[1]).toBeCloseTo(13.51, 9);
});
