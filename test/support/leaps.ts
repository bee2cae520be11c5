import { expect } from "vitest";
import type { Run } from "../../packages/sim/src/model/result.ts";
import type { RunOptions } from "../../packages/sim/src/model/run.ts";
import { type HiccupOptions, hiccupLine } from "./hiccup-line.ts";
import { ran, told } from "./run.ts";

export const TRIPS = "trip voltage: 15.0 V, sense filter: fast";

export const leapRun = (options: HiccupOptions, more: RunOptions) =>
  ran(hiccupLine(options), { record: false, ...more });

/** So exact that what is compared is the leap and not what each integration may err by itself. */
const EXACT = 1e-8;

/** A run with leaps and the same without. */
export function both(options: HiccupOptions): { leapt: Run; whole: Run } {
  return {
    leapt: leapRun(options, { leaps: true, tolerance: EXACT }),
    whole: leapRun(options, { leaps: false, tolerance: EXACT }),
  };
}

export const roundsOf = ({ repetition }: Run): number => repetition.leaps.reduce((sum, { rounds }) => sum + rounds, 0);

const barsOf = ({ crowbar, ownCrowbars }: Run) => [
  ...(crowbar === null ? [] : [crowbar]),
  ...ownCrowbars.map(({ findings }) => findings),
];

/** Alike to a share of the rise above `from`. */
export function alike(a: number | undefined, b: number | undefined, share = 1e-6, from = 0): void {
  expect(Math.abs((a ?? Number.NaN) - (b ?? Number.NaN))).toBeLessThanOrEqual(share * Math.abs((b ?? 0) - from));
}

/** All that a verdict reads of the two: counts exactly, times, sums and temperatures to six digits. */
export function expectAlike(leapt: Run, whole: Run): void {
  expect(leapt.crowbar?.firings.length).toBe(whole.crowbar?.firings.length);
  expect(leapt.crowbar?.stops.length).toBe(whole.crowbar?.stops.length);
  whole.crowbar?.firings.forEach((time, k) => {
    alike(leapt.crowbar?.firings[k], time);
  });
  for (const [k, bar] of barsOf(whole).entries()) {
    const found = barsOf(leapt)[k];
    alike(found.peakTemperature.value, bar.peakTemperature.value, 1e-6, 25);
    alike(found.endTemperature, bar.endTemperature, 1e-6, 25);
    for (const key of ["totalI2t", "junctionEnergy", "worst10msI2t"] as const) alike(found[key], bar[key]);
    for (const [each, { i2t }] of bar.worstWindows.entries()) alike(found.worstWindows[each].i2t, i2t);
  }
  for (const [k, fuse] of whole.fuses.entries()) {
    alike(leapt.fuses[k].peakTheta, fuse.peakTheta);
    alike(leapt.fuses[k].totalI2t, fuse.totalI2t);
    expect(leapt.fuses[k].state).toBe(fuse.state);
  }
  for (const [k, { i2t, peakRise, endRise }] of whole.leads.entries()) {
    alike(leapt.leads[k].i2t, i2t);
    alike(leapt.leads[k].peakRise, peakRise);
    alike(leapt.leads[k].endRise, endRise);
    alike(leapt.leads[k].overcurrent.total, whole.leads[k].overcurrent.total);
    alike(leapt.leads[k].overcurrentI2t, whole.leads[k].overcurrentI2t);
  }
  for (const [k, source] of whole.sources.entries()) {
    for (const key of ["limiterTrips", "shutdowns", "restarts"] as const)
      expect(leapt.sources[k][key].length).toBe(source[key].length);
  }
  for (const [k, load] of whole.loads.entries()) {
    const found = leapt.loads[k];
    alike(found.peak.value, load.peak.value);
    alike(found.aboveMaximum.total, load.aboveMaximum.total);
    alike(found.aboveMaximum.area, load.aboveMaximum.area);
    alike(found.belowMinimum.total, load.belowMinimum.total);
    alike(found.belowMinimum.area, load.belowMinimum.area);
    alike(found.belowMinimum.longest, load.belowMinimum.longest);
    expect(found.peakPerCycle.length).toBe(load.peakPerCycle.length);
  }
  alike(leapt.energy.fed, whole.energy.fed);
  for (const [part, heat] of Object.entries(whole.energy.byDevice)) alike(leapt.energy.byDevice[part], heat, 2e-6);
  expect(leapt.energy.relative).toBeLessThan(2 * whole.energy.relative + 1e-9);
}

/** Windows that a round fills, that end within a pulse some rounds later, that no integrated rounds would fill. */
const windows = ["10 ms", "330.5 ms", "331 ms", "1 s", "20 s"].map((duration) => `{duration: ${duration}, rms: 100 A}`);

/** An SCR with surge windows of every kind. */
export const WINDOWED = `{part: SCR 55 A, ${TRIPS}, ratings: {surge windows: [${windows.join(", ")}]}}`;

/** Every surge window holds as much as where each round was integrated, also the one that spans a hundred rounds. */
export function expectWindowsFilled(options: HiccupOptions): void {
  const { leapt, whole } = both({ endTime: 36, ...options });
  expect(roundsOf(leapt)).toBeGreaterThan(200);
  expectAlike(leapt, whole);
  const [bar] = barsOf(whole);
  expect(bar.worstWindows[4].i2t / bar.worstWindows[0].i2t).toBeGreaterThan(100);
}

/** Times at which a radio is keyed or let go, s. */
export const KEYED: readonly number[] = [12, 15, 20];

/** A radio that is keyed at these times, as lines of a scenario. */
export const keyed = (times: readonly number[]): string[] => [
  "    schedule:",
  ...times.map((time, k) => `      - {time: ${time} s, current: ${k % 2 ? 3 : 20} A}`),
];

/** Leapt, but never past one of the times at which the load changes. */
export function expectNonePassed(leapt: Run, times: readonly number[]): void {
  expect(roundsOf(leapt)).toBeGreaterThan(30);
  const changes = leapt.events.filter(({ kind }) => kind === "load changes").map(({ time }) => time);
  expect(changes.map((time) => Math.round(time * 1e9) / 1e9)).toEqual(times);
  for (const { from, to } of leapt.repetition.leaps) {
    expect(changes.filter((time) => time > from && time <= to)).toEqual([]);
  }
}

/** A battery on the same line, which every round leaves fuller or emptier. */
export const BESIDE_A_BATTERY: HiccupOptions = {
  crowbar: null,
  supply: ["    own OVP: {voltage: 15 V, delay: 100 us, works on lost feedback: yes}"],
  sources: ["  - name: hut battery", "    part: AGM battery 100 Ah", "    lead: {length: 2 m, area: 6 mm2}"],
};

/** That every round is integrated, with the reason why. What is compared is the same integration twice, at whatever tolerance. */
export function expectNone(options: HiccupOptions, reason: RegExp): void {
  const [leapt, whole] = [true, false].map((leaps) => leapRun(options, { leaps }));
  expect(leapt.repetition.leaps).toEqual([]);
  expect(leapt.repetition.refusal).toMatch(reason);
  expect(told(leapt)).toEqual(told(whole));
  expect(leapt.energy).toEqual(whole.energy);
  expect(whole.repetition.refusal).toBeNull();
}
