import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { judgeCapture, renderJudgement } from "@railfault/sim";
import { expect, test } from "vitest";
import { captureFolder } from "../../packages/sim/scripts/demo-captures.ts";
import { read } from "./read.ts";

const files = readdirSync(captureFolder).map((name) => new Uint8Array(readFileSync(join(captureFolder, name))));
const marks = [..."0123456789,;\t\n\r\"'.+-eE /()[]:\0NaOL\u00b5\u00ff"].map((mark) => mark.charCodeAt(0) & 255);

/** Whole numbers below a bound, from a seed. */
function draws(seed: number): (bound: number) => number {
  let state = seed;
  return (bound) => {
    state = (Math.imul(state, 1664525) + 1013904223) >>> 0;
    return Math.floor((state / 2 ** 32) * bound);
  };
}

test("files that were cut and scribbled on are read or refused with a reason, and never judged without numbers", () => {
  const below = draws(4);
  const ends = { read: 0, refused: 0 };
  for (let round = 0; round < 200; round++) {
    const file = files[below(files.length)]!;
    const bytes = file.slice(0, 1 + below(0.3 * file.length));
    for (let k = below(6) * below(6); k > 0; k--) bytes[below(bytes.length)] = marks[below(marks.length)]!;
    const { status, capture, issues } = read(bytes, { piece: 1 + below(5000) });
    if (status === "read") {
      ends.read++;
      expect(renderJudgement(judgeCapture(capture!, { low: 11, high: 15 }), 80)).not.toMatch(/NaN|undefined|Infinity/);
    } else {
      ends.refused++;
      expect(issues.some(({ severity }) => severity === "error")).toBe(true);
    }
  }
  expect(Math.min(ends.read, ends.refused)).toBeGreaterThan(20);
});

test("a layout that was shown, changed and handed back is followed", () => {
  const text = "t,a,b\n0,1,5\n1,2,6\n2,4,7\n";
  const { layout } = read(text);
  const changed = {
    ...layout!,
    channels: [{ ...layout!.channels[1]!, name: "lead", inverted: true, amperesPerVolt: 10 }],
  };
  const again = read(text, { layout: JSON.parse(JSON.stringify(changed)) });
  expect(again.capture?.channels.map(({ name, unit, values }) => [name, unit, ...values])).toEqual([
    ["lead", "A", -50, -60, -70],
  ]);
  expect(again.layout).toEqual(changed);
});
