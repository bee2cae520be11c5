import { describe, expect, test } from "vitest";
import { hiccupLine } from "../support/hiccup-line.ts";
import {
  alike,
  BESIDE_A_BATTERY,
  both,
  expectAlike,
  expectNone,
  expectNonePassed,
  KEYED,
  keyed,
  leapRun,
  roundsOf,
} from "../support/leaps.ts";
import { ran } from "../support/run.ts";

// Further lines, each against whole integration: test/deep/leaps.test.ts.

describe("rounds that are leapt over", () => {
  test("of an hour cost no more than twenty times ten rounds, and the energy closes", () => {
    const hour = leapRun({ endTime: 3600, offTime: "300 ms" }, { leaps: true });
    const [first, ...later] = hour.repetition.leaps;
    expect(later).toEqual([]);
    expect(first.rounds).toBeGreaterThan(11_000);
    const tenRounds = leapRun({ endTime: 3.5, offTime: "300 ms" }, { leaps: true });
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

  test("never pass what is due at a time of its own: a radio that is keyed", () => {
    const load = keyed(KEYED);
    const leapt = leapRun({ load, endTime: 34 }, { leaps: true });
    expectNonePassed(leapt, KEYED);
  });

  test("are learnt anew once a load has changed for good", () => {
    const load = ["    schedule: [{time: 20 s, current: 60 A}]"];
    const { repetition } = leapRun({ load, endTime: 60 }, { leaps: true });
    expect(repetition.leaps).toHaveLength(2);
    const [first, second] = repetition.leaps;
    expect(first.to).toBeLessThan(20);
    // With slopes of the rounds before it no leap was made for half of the time.
    expect(second.from).toBeLessThan(27);
    expect(second.to).toBeGreaterThan(58);
  });

  test("are told as one event, at its end", () => {
    const { events, repetition } = leapRun({}, { leaps: true });
    const [{ from, to, rounds }] = repetition.leaps;
    const index = events.findIndex(({ kind }) => kind === "repeats itself");
    expect(events[index]).toMatchObject({ time: to, subject: { part: "line" } });
    expect(events[index].cause).toContain(`${rounds} rounds`);
    expect(events[index - 1].time).toBe(from);
    expect(events[index].sincePrevious).toBeCloseTo(to - from, 9);
  });

  test("are none for a battery that is charged or emptied: every round is integrated, and the run says why", () => {
    expectNone({ ...BESIDE_A_BATTERY, endTime: 32 }, /hut battery\.vb does not return/);
  });

  test("are none by default where waveforms are kept, nor where few rounds lie ahead", () => {
    const kept = ran(hiccupLine({ endTime: 32 }), { record: { most: 2000 } });
    expect(kept.repetition).toEqual({ leaps: [], refusal: null });
    expect(leapRun({ endTime: 20 }, {}).repetition).toEqual({ leaps: [], refusal: null });
    expect(leapRun({ endTime: 32 }, {}).repetition.leaps.length).toBe(1);
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
