import { describe, expect, test } from "vitest";
import type { Run } from "../../packages/sim/src/model/result.ts";
import type { RunOptions } from "../../packages/sim/src/model/run.ts";
import { type HiccupOptions, hiccupLine } from "../support/hiccup-line.ts";
import { ran, told } from "../support/run.ts";

const TRIPS = "trip voltage: 15.0 V, sense filter: fast";
const SWITCH =
  "series switch: {part: series transistor 30 A, off voltage: 14.6 V, ratings: {current: 10 A, voltage: 60 V}, reclose: {on voltage: 14.0 V, retry time: 20 ms}}";
const BATTERY = ["  - name: hut battery", "    part: AGM battery 100 Ah", "    lead: {length: 2 m, area: 6 mm2}"];
const RIPPLE =
  "    reservoir: {raw voltage: 24 V, raw resistance: 60 mohm, capacitance: 50 mF, ripple: yes, mains frequency: 50 Hz}";

const run = (options: HiccupOptions, more: RunOptions) => ran(hiccupLine(options), { record: false, ...more });

/** So exact that what is compared is the leap and not what each integration may err by itself. */
const EXACT = 1e-8;

/** A run with leaps and the same without. */
function both(options: HiccupOptions): { leapt: Run; whole: Run } {
  return {
    leapt: run(options, { leaps: true, tolerance: EXACT }),
    whole: run(options, { leaps: false, tolerance: EXACT }),
  };
}

const roundsOf = ({ repetition }: Run): number => repetition.leaps.reduce((sum, { rounds }) => sum + rounds, 0);

const barsOf = ({ crowbar, ownCrowbars }: Run) => [
  ...(crowbar === null ? [] : [crowbar]),
  ...ownCrowbars.map(({ findings }) => findings),
];

/** Alike to a share of the rise above `from`. */
function alike(a: number | undefined, b: number | undefined, share = 1e-6, from = 0): void {
  expect(Math.abs((a ?? Number.NaN) - (b ?? Number.NaN))).toBeLessThanOrEqual(share * Math.abs((b ?? 0) - from));
}

/** All that a verdict reads of the two: counts exactly, times, sums and temperatures to six digits. */
function expectAlike(leapt: Run, whole: Run): void {
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
  }
  for (const [k, source] of whole.sources.entries()) {
    for (const key of ["limiterTrips", "shutdowns", "restarts"] as const)
      expect(leapt.sources[k][key].length).toBe(source[key].length);
  }
  for (const [k, load] of whole.loads.entries()) {
    const found = leapt.loads[k];
    alike(found.peak.value, load.peak.value);
    alike(found.belowMinimum.total, load.belowMinimum.total);
    alike(found.belowMinimum.longest, load.belowMinimum.longest);
    expect(found.peakPerCycle.length).toBe(load.peakPerCycle.length);
  }
  alike(leapt.energy.fed, whole.energy.fed);
  for (const [part, heat] of Object.entries(whole.energy.byDevice)) alike(leapt.energy.byDevice[part], heat, 2e-6);
  expect(leapt.energy.relative).toBeLessThan(2 * whole.energy.relative + 1e-9);
}

describe("rounds that are leapt over", () => {
  test("of a plain hiccup give what integrating each of them gives", () => {
    const { leapt, whole } = both({});
    expect(roundsOf(leapt)).toBeGreaterThan(200);
    expectAlike(leapt, whole);
    expect(leapt.work.steps).toBeLessThan(whole.work.steps / 3);
  });

  test("of an hour cost no more than twenty times ten rounds, and the energy closes", () => {
    const hour = run({ endTime: 3600, offTime: "300 ms" }, { leaps: true });
    const [first, ...later] = hour.repetition.leaps;
    expect(later).toEqual([]);
    expect(first.rounds).toBeGreaterThan(11_000);
    const tenRounds = run({ endTime: 3.5, offTime: "300 ms" }, { leaps: true });
    expect(tenRounds.crowbar?.firings.length).toBe(11);
    expect(hour.work.steps).toBeLessThan(20 * tenRounds.work.steps);
    expect(hour.crowbar?.firings.length).toBe(11_366);
    expect(hour.energy.relative).toBeLessThan(1e-7);
  });

  test("end before a fuse melts, at the time at which it melts", () => {
    const { leapt, whole } = both({ offTime: "145 ms", fuse: "blade fuse 7.5 A", endTime: 60 });
    expect(roundsOf(leapt)).toBeGreaterThan(100);
    const [a, b] = [leapt, whole].map(({ fuses }) => fuses[0].meltTime ?? Number.NaN);
    expect(b).toBeGreaterThan(40);
    expect(Math.abs(a - b)).toBeLessThan(2e-6);
    // It ends where the fuse melts, a few tenths of a microsecond sooner or later.
    alike(leapt.fuses[0].meltingI2t ?? undefined, whole.fuses[0].meltingI2t ?? undefined, 1e-5);
    expect(leapt.repetition.leaps.at(-1)?.to).toBeLessThan(b);
    expectAlike(leapt, whole);
  });

  test("end before a junction's peaks pass its limit, and before its mean does", () => {
    const hot = `{part: SCR 55 A, ${TRIPS}, case to ambient: 30 K/W, case heat capacity: 0.5 J/K}`;
    const { leapt, whole } = both({ crowbar: hot });
    expectAlike(leapt, whole);
    expect(leapt.crowbar?.peakTemperature.value).toBeGreaterThan(125);
    const { leaps } = leapt.repetition;
    expect(leaps.length).toBeGreaterThanOrEqual(3);
    // Between two leaps the junction has passed its limit: before it a run that ends there stays below, after it not.
    const at = (time: number) => run({ crowbar: hot, endTime: time }, { leaps: false }).crowbar?.peakTemperature.value;
    expect(at(leaps[0].to)).toBeLessThan(125);
    expect(at(leaps[1].from)).toBeGreaterThan(125);
  });

  // Windows that a round fills, that end within a pulse some rounds later, that no integrated rounds would fill.
  const windows = ["10 ms", "330.5 ms", "331 ms", "1 s", "20 s"].map(
    (duration) => `{duration: ${duration}, rms: 100 A}`,
  );
  const ratings = `ratings: {surge windows: [${windows.join(", ")}]}`;
  test.each<[string, HiccupOptions]>([
    ["the crowbar", { crowbar: `{part: SCR 55 A, ${TRIPS}, ${ratings}}` }],
    ["a supply's own crowbar", { crowbar: null, supply: [`    own crowbar: {part: SCR 55 A, ${TRIPS}, ${ratings}}`] }],
    [
      "the crowbar beside a radio that is keyed",
      { crowbar: `{part: SCR 55 A, ${TRIPS}, ${ratings}}`, load: ["    schedule: [{time: 34 s, current: 3 A}]"] },
    ],
  ])("fill every surge window of %s, however many of them it spans", (_, options) => {
    const { leapt, whole } = both({ endTime: 36, ...options });
    expect(roundsOf(leapt)).toBeGreaterThan(200);
    expectAlike(leapt, whole);
    const [bar] = barsOf(whole);
    expect(bar.worstWindows[4].i2t / bar.worstWindows[0].i2t).toBeGreaterThan(100);
  });

  test("of two protectors that trip together give what integrating gives", () => {
    const { leapt, whole } = both({ line: [SWITCH], endTime: 32 });
    expect(roundsOf(leapt)).toBeGreaterThan(150);
    expectAlike(leapt, whole);
    for (const key of ["starts", "opens", "recloses"] as const) {
      expect(leapt.seriesSwitch?.[key].length).toBe(whole.seriesSwitch?.[key].length);
      whole.seriesSwitch?.[key].forEach((time, k) => {
        alike(leapt.seriesSwitch?.[key][k], time);
      });
    }
    const [a, b] = [leapt, whole].map(({ seriesSwitch }) => seriesSwitch);
    expect(b?.overload?.most).toBeGreaterThan(0);
    for (const key of ["most", "mostNear"] as const) alike(a?.overload?.[key], b?.overload?.[key]);
    alike(a?.openVoltage ?? undefined, b?.openVoltage ?? undefined);
  });

  test("never pass what is due at a time of its own: a radio that is keyed", () => {
    const load = [
      "    schedule:",
      ...[12, 15, 20].map((t, k) => `      - {time: ${t} s, current: ${k % 2 ? 3 : 20} A}`),
    ];
    const { leapt, whole } = both({ load, endTime: 34 });
    expect(roundsOf(leapt)).toBeGreaterThan(30);
    const changes = leapt.events.filter(({ kind }) => kind === "load changes").map(({ time }) => time);
    expect(changes.map((time) => Math.round(time * 1e9) / 1e9)).toEqual([12, 15, 20]);
    for (const { from, to } of leapt.repetition.leaps) {
      expect(changes.filter((time) => time > from && time <= to)).toEqual([]);
    }
    expect(leapt.crowbar?.firings.length).toBe(whole.crowbar?.firings.length);
    alike(leapt.crowbar?.endTemperature, whole.crowbar?.endTemperature, 5e-6, 25);
  });

  test("are told as one event, at its end", () => {
    const { events, repetition } = run({}, { leaps: true });
    const [{ from, to, rounds }] = repetition.leaps;
    const index = events.findIndex(({ kind }) => kind === "repeats itself");
    expect(events[index]).toMatchObject({ time: to, subject: { part: "line" } });
    expect(events[index].cause).toContain(`${rounds} rounds`);
    expect(events[index - 1].time).toBe(from);
    expect(events[index].sincePrevious).toBeCloseTo(to - from, 9);
  });

  test.each<[string, HiccupOptions, RegExp]>([
    [
      "a set voltage that creeps",
      {
        fault: "{kind: lost feedback, ceiling voltage: 40 V, slew: 1 V/min}",
        crowbar: "{part: SCR 55 A, trip voltage: 14.0 V, sense filter: fast}",
        endTime: 50,
      },
      /the voltage that station supply aims at moves on/,
    ],
    [
      "a battery that is charged or emptied",
      {
        crowbar: null,
        supply: ["    own OVP: {voltage: 15 V, delay: 100 us, works on lost feedback: yes}"],
        sources: BATTERY,
      },
      /hut battery\.vb does not return/,
    ],
    [
      "mains that do not keep step",
      { supply: [RIPPLE], endTime: 27 },
      /the phase of the mains of station supply moves on/,
    ],
  ])("are none for %s: every round is integrated, and the run says why", (_, options, reason) => {
    const { leapt, whole } = both(options);
    expect(leapt.repetition.leaps).toEqual([]);
    expect(leapt.repetition.refusal).toMatch(reason);
    expect(told(leapt)).toEqual(told(whole));
    expect(leapt.energy).toEqual(whole.energy);
    expect(whole.repetition.refusal).toBeNull();
  });

  test("are none by default where waveforms are kept, nor where few rounds lie ahead", () => {
    const kept = ran(hiccupLine({ endTime: 32 }), { record: { most: 2000 } });
    expect(kept.repetition).toEqual({ leaps: [], refusal: null });
    expect(run({ endTime: 20 }, {}).repetition).toEqual({ leaps: [], refusal: null });
    expect(run({ endTime: 32 }, {}).repetition.leaps.length).toBe(1);
  });

  test("leave the run where it stands when it is looked at or stopped while they are worked out", async () => {
    const { Simulation } = await import("../../packages/sim/src/model/run.ts");
    const scenario = hiccupLine({ endTime: 31 });
    const simulation = new Simulation(scenario, { record: false, leaps: true });
    while (simulation.advance(150) === "running") simulation.result();
    const whole = ran(scenario, { record: false, leaps: false });
    expect(simulation.result().crowbar?.firings).toEqual(whole.crowbar?.firings);
  });
});
