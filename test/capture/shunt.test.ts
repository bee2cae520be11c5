import { captureHeadline, judgeCapture } from "@railfault/sim";
import { expect, test } from "vitest";
import { read } from "./read.ts";

const limits = { low: 11.7, high: 15.9 };
const rows = Array.from({ length: 200 }, (_, k) => `${k},${k % 9},${13.8 + (k % 5) / 100}`).join("\n");

test.each(["Supply Current (mV)", "I", "I1 (V)", "shunt_mV", "supply_current [mV]"])(
  "%s is no voltage of a line: it is told, and held against no limit",
  (name) => {
    const { capture, issues } = read(`t (s),${name},radio (V)\n${rows}\n`);
    expect(issues).toMatchObject([
      { code: "current-in-volts", severity: "warning", hint: expect.stringContaining('--channel "2: ') },
    ]);
    const judgement = judgeCapture(capture!, limits);
    expect(judgement.channels.map(({ findings, beyond }) => [findings.length, beyond.length])).toEqual([
      [0, 0],
      [1, 2],
    ]);
    expect(judgement.exitStatus).toBe(0);
    expect(captureHeadline(judgement)).toContain('"radio"');
    expect(captureHeadline(judgeCapture(capture!, { low: null, high: null }))).toContain('"radio"');
  },
);

test.each(["clamp (V)", "shunt regulator voltage (V)", "input (V)", "currently (V)"])("%s is one", (name) => {
  const { issues } = read(`t (s),${name},radio (V)\n${rows}\n`);
  expect(issues).toEqual([]);
});

test("with its shunt it is a current, and nothing is told", () => {
  const corrections = { channels: [{ column: 2, amperesPerVolt: 1000 }, { column: 3 }] };
  const { capture, issues } = read(`t (s),Supply Current (mV),radio (V)\n${rows}\n`, { corrections });
  expect(issues).toEqual([]);
  expect(capture?.channels.map(({ unit }) => unit)).toEqual(["A", "V"]);
});
