import { readFileSync } from "node:fs";
import { join } from "node:path";
import { judgeCapture, parseScenario, simulate } from "@railfault/sim";
import { expect, test } from "vitest";
import { captureFolder, captureName, demoCaptures, formats } from "../../packages/sim/scripts/demo-captures.ts";
import { shipped } from "../cli/launch.ts";
import { read } from "./read.ts";

/** When a curve passes a level for the first time after an instant, downwards (−1) or upwards, s. */
function crossing(time: Float64Array, values: Float64Array, level: number, sign: 1 | -1, after: number): number {
  for (let i = 1; i < time.length; i++) {
    const [a, b] = [sign * (values[i - 1]! - level), sign * (values[i]! - level)];
    if (time[i]! < after || a > 0 || b <= 0) continue;
    return time[i - 1]! + (a === b ? 0 : (-a / (b - a)) * (time[i]! - time[i - 1]!));
  }
  return Number.NaN;
}

test.each(demoCaptures.map((demo) => [demo.name, demo] as const))(
  "%s: trips are found within one sample of when they were, a channel that lags once that is said",
  (_, { scenario, instrument, ...demo }) => {
    const { scenario: complete } = parseScenario(readFileSync(shipped(scenario), "utf8"), scenario);
    const { from, interval, samples, channels } = instrument;
    const { trace } = simulate(complete!, { until: from + samples * interval });
    const format = formats[0]!;
    const bytes = new Uint8Array(
      readFileSync(join(captureFolder, captureName({ scenario, instrument, ...demo }, format))),
    );
    const recognised = read(bytes).layout!;
    const layout = {
      ...recognised,
      channels: recognised.channels.map((channel, c) => ({ ...channel, deskew: channels[c]!.skew })),
    };
    const judged = judgeCapture(read(bytes, { layout }).capture!, { low: null, high: null });
    for (const [c, { trips, unit }] of judged.channels.entries()) {
      const { values } = trace.columns.find(({ name }) => name === channels[c]!.column)!;
      const offset = channels[c]!.offset;
      expect(trips!.times.length).toBeGreaterThan(0);
      for (const found of trips!.times) {
        const before = from + found - 20 * interval;
        const truth = crossing(trace.time, values, trips!.from - offset, unit === "V" ? -1 : 1, before) - from;
        expect(Math.abs(found - truth)).toBeLessThan(interval);
      }
    }
  },
);
