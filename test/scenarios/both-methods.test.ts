import { describe, expect, test } from "vitest";
import type { EventKind } from "../../packages/sim/src/model/result.ts";
import { simulate } from "../../packages/sim/src/model/run.ts";
import { told } from "../support/run.ts";
import { scenarioOf } from "./shipped.ts";

/**
 * Fast windows of shipped scenarios, the fault moved to 10 µs: two integrators that share no code (a Rosenbrock method with exact Jacobian,
 * an explicit extrapolation) through the same hybrid model.
 */
const WINDOWS: readonly (readonly [file: string, until: number, events: readonly EventKind[]])[] = [
  ["01-shorted-pass-transistor.yaml", 60e-6, ["fault", "fires"]],
  ["02-hiccup-supply.yaml", 4.2e-3, ["fault", "fires", "limiter trips", "stops conducting"]],
  ["03-constant-current-holds.yaml", 350e-6, ["fault", "fires"]],
  ["04-foldback.yaml", 300e-6, ["fault", "fires"]],
  ["10-clamp-only.yaml", 3e-3, ["fault", "fails short"]],
  ["11-series-transistor.yaml", 60e-6, ["fault", "starts to open", "clears", "open"]],
  ["18-arc-held.yaml", 1e-3, ["fault", "fires", "melts"]],
  ["24-isolated-sources.yaml", 320e-6, ["fault", "fires"]],
  ["26-scr-smaller-than-fuse.yaml", 750e-6, ["fault", "fires", "fails short"]],
];

const TOLERANCE = 1e-10;

describe("odex and Rodas5P agree to 1e-6", () => {
  test.each(WINDOWS)("%s, %d s", (file, until, events) => {
    const window = { ...scenarioOf(file), faultTime: 10e-6, endTime: until };
    const main = simulate(window, { tolerance: TOLERANCE });
    const other = simulate(window, { tolerance: TOLERANCE, method: "odex" });
    expect(main.events.map(({ kind }) => kind)).toEqual(events);
    expect(told(other)).toEqual(told(main));
    main.events.forEach(({ sincePrevious }, k) => {
      expect(Math.abs(other.events[k].sincePrevious - sincePrevious)).toBeLessThan(
        1e-6 * Math.max(sincePrevious, 1e-6),
      );
    });
    main.trace.columns.forEach(({ name, values }, k) => {
      const end = values.at(-1) ?? Number.NaN;
      const scale = values.reduce((most, value) => Math.max(most, Math.abs(value)), 1e-3);
      const found = other.trace.columns[k].values.at(-1) ?? Number.NaN;
      expect.soft(Math.abs(found - end), name).toBeLessThan(1e-6 * scale);
    });
    main.loads.forEach(({ peak }, k) => {
      expect(Math.abs(other.loads[k].peak.value - peak.value)).toBeLessThan(1e-6 * peak.value);
    });
    // Of its long steps the heats are summed up in pieces: with the nodes of a whole step it is 1.7e-6.
    expect(other.energy.relative).toBeLessThan(1e-7);
    expect(other.work.jacobians).toBe(0);
  });
});
