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
  ["gate V", "gate", 1],
  ["fuse 30 A", "fuse 30 A", 1],
  ["light bar", "light bar", 1],
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

test.each([
  ["lead (100 mV/A)", 10],
  ["lead [0.1 V/A]", 10],
  ["lead (0,1 V/A)", 10],
  ["lead (10A/V)", 10],
  ["lead 100 mV/A", 10],
  ["lead, 100 mV/A", 10],
  ["lead_100mV/A", 10],
  ["lead (100 mV/A), V", 10],
  ["lead (100 mV/A) [V]", 10],
  ["lead (V, 100 mV/A)", 10],
  ["lead (100 mV/A, V)", 10],
  ["lead (1 mV/mA)", 1],
  ["lead (0.5 kA/V)", 500],
])("a clamp in the heading %s makes %f A of a volt", (heading, scale) => {
  const { capture, issues, understood } = read(
    `t (s);${heading};radio (V)\n${rows(50, (k) => `${k};${k % 9};13.${k % 7}`)}\n`,
  );
  const [lead] = capture!.channels;
  expect([lead!.name, lead!.unit, lead!.layout.unit]).toEqual(["lead", "A", "V"]);
  expect(lead!.values[1]).toBeCloseTo(scale, 9);
  expect(understood.join(" ")).toContain(`the clamp that its heading names makes amperes of them, ${scale} A/V`);
  // Volts are assumed where no unit of the numbers stands there, too; whoever had amperes is told.
  const isNamed = heading.replace(/[\d.]+ ?\w+\/\w+/, "").includes("V");
  expect(issues.map(({ code }) => code)).toEqual(isNamed ? [] : ["clamp-in-heading"]);
});

test("a clamp's scale that cannot be read is asked for, not lost", () => {
  for (const written of ["1,000 mV/A", "0 mV/A", "10 V/V", "mV/A"]) {
    const { status, issues } = read(`t (s);lead (${written})\n${rows(50, (k) => `${k};${k % 9}`)}\n`);
    expect(status, written).toBe("refused");
    expect(issues, written).toMatchObject([{ code: "wrong-unit", received: written }]);
  }
});

test("numbers that are in amperes have their clamp's scale in them; what is told of it rules", () => {
  const text = `t,I_scr (100 mV/A)\ns,A\n${rows(50, (k) => `${k},${k % 9}`)}\n`;
  const { capture, issues, understood } = read(text);
  expect(issues).toEqual([]);
  expect(capture!.channels[0]).toMatchObject({ name: "I_scr", unit: "A", layout: { amperesPerVolt: null } });
  expect(understood.join(" ")).toContain("is taken to be in the numbers already");
  const bare = text.replace("s,A\n", "");
  for (const [wish, factor] of [
    [{ unit: "A" }, 1],
    [{ unit: "mV" }, 0.01],
    [{ amperesPerVolt: 3 }, 3],
  ] as const) {
    const told = read(bare, { corrections: { channels: [{ column: 2, ...wish }] } });
    expect(told.issues).toEqual([]);
    expect(told.capture!.channels[0]!.unit).toBe("A");
    expect(told.capture!.channels[0]!.values[1]).toBeCloseTo(factor, 12);
  }
});

test.each(["Temp °C", "Humidity %", "Humidity %RH", "RPM", "fan rpm", "Power W"])(
  "%s without brackets is no voltage: left out, and told",
  (heading) => {
    const { capture, issues } = read(
      `t (s),${heading},radio V\n${rows(50, (k) => `${k},${40 + (k % 9)},13.${k % 7}`)}\n`,
    );
    expect(issues).toMatchObject([{ code: "wrong-unit", severity: "warning" }]);
    expect(capture!.channels.map(({ name, unit }) => [name, unit])).toEqual([["radio", "V"]]);
  },
);

test.each([
  ["battery V,battery A", ["battery V", "battery A"]],
  ["battery A,battery B", ["battery A V", "battery B V"]],
  ["battery A (starter),battery B", ["battery A (starter) V", "battery B V"]],
  ["CH V,Probe A", ["CH V V", "Probe A V"]],
  ["CH1 V,CH1 A", ["CH1 V", "CH1 A"]],
])("a letter behind a name is a unit where it tells nothing apart: %s", (headings, shown) => {
  const { channels } = layoutOf(`Time s,${headings}\n${rows(50, (k) => `${k / 1000},${k % 9},${k % 7}`)}\n`);
  expect(channels.map(({ name, unit }) => `${name} ${unit}`)).toEqual(shown);
});
