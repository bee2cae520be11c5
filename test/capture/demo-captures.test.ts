import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { judgeCapture } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import {
  captureFolder,
  captureName,
  demoCaptures,
  formats,
  recordedOf,
} from "../../packages/sim/scripts/demo-captures.ts";
import { read } from "./read.ts";

const regenerate = "run: npx tsx packages/sim/scripts/demo-captures.ts";
const bytesOf = (name: string) => new Uint8Array(readFileSync(join(captureFolder, name)));

test("the folder holds these and no others", () => {
  const names = demoCaptures.flatMap((demo) => formats.map((format) => captureName(demo, format)));
  expect(readdirSync(captureFolder).toSorted()).toEqual(names.toSorted());
});

describe.each(demoCaptures.map((demo) => [demo.name, demo] as const))("%s", (_, demo) => {
  const recorded = recordedOf(demo);

  test.each(formats.map((format) => [format.name, format] as const))(
    "written as %s is read without a hand",
    (_, format) => {
      const name = captureName(demo, format);
      const bytes = bytesOf(name);
      expect(bytes.length).toBeLessThanOrEqual(60_000);
      expect(new TextDecoder().decode(bytes.subarray(0, 200))).toContain("synthetic");
      const { status, issues, capture } = read(bytes, { file: name, piece: 1000 });
      expect(issues).toEqual([]);
      expect(status).toBe("read");
      expect(capture?.channels.map(({ unit }) => unit)).toEqual(demo.instrument.channels.map(({ unit }) => unit));
      const gaps = format.name === "scientific" ? Math.ceil(demo.instrument.samples / 97) : 0;
      for (const [c, values] of recorded.values.entries()) {
        const found = capture!.channels[c]!.values;
        expect(found.length).toBe(values.length);
        expect(Math.abs(capture!.channels[c]!.gaps - gaps)).toBeLessThanOrEqual(gaps === 0 ? 0 : 1);
        const off = found.map((value, k) => (Number.isNaN(value) ? 0 : Math.abs(value - values[k]!)));
        // A tenth of a step of 8 bits.
        const [low, high] = demo.instrument.channels[c]!.range;
        expect(Math.max(...off)).toBeLessThan((high - low) / 2550);
      }
      const late = capture!.time.map((t, k) => Math.abs(t - recorded.time[k]!));
      expect(Math.max(...late)).toBeLessThan(0.01 * demo.instrument.interval);
    },
  );

  test("is what the program makes today", () => {
    for (const format of formats)
      expect(
        new TextDecoder("utf-8", { ignoreBOM: true }).decode(bytesOf(captureName(demo, format))) ===
          format.write(demo, recorded),
        regenerate,
      ).toBe(true);
  });

  test("all five are judged alike, steps of 8 bits and the noise found", () => {
    const all = formats.map((format) => {
      const { capture } = read(bytesOf(captureName(demo, format)));
      return judgeCapture(capture!, { low: null, high: 15.9 }).channels;
    });
    for (const channels of all) {
      const [radio] = channels;
      const { range, noise } = demo.instrument.channels[0]!;
      expect(radio!.resolution.quantum! / ((range[1] - range[0]) / 255)).toBeCloseTo(1, 2);
      expect(radio!.resolution.noise).toBeLessThan(
        1.5 * Math.hypot(noise, (range[1] - range[0]) / 255 / Math.sqrt(12)),
      );
      // Formats round to other digits.
      expect(Math.abs(radio!.highest.value - all[0]![0]!.highest.value)).toBeLessThan(0.01);
      expect(radio!.trips!.times.length).toBe(all[0]![0]!.trips!.times.length);
    }
  });
});
