import { readFileSync } from "node:fs";
import { join } from "node:path";
import { beforeAll, describe, expect, test } from "vitest";
import type { Run } from "../../packages/sim/src/model/result.ts";
import { parseQuantity } from "../../packages/sim/src/units/index.ts";
import { EXPECTED } from "./expected.ts";
import { column, FILES, openingOf, type Shown, show, textOf } from "./shipped.ts";

test("the guide to the scenarios names every file", () => {
  const guide = readFileSync(join(import.meta.dirname, "../../packages/sim/docs/scenarios.md"), "utf8");
  expect(FILES.filter((file) => !guide.includes(`\`${file.replace(".yaml", "")}\``))).toEqual([]);
});

test("the table names every shipped file and no other", () => {
  expect(Object.keys(EXPECTED).sort()).toEqual(FILES);
  expect(FILES.length).toBeGreaterThanOrEqual(20);
});

describe.each(FILES)("%s", (file) => {
  let shown: Shown;
  beforeAll(() => {
    shown = show(file);
  });

  test("opens with its question, the answer and the marks of what is invented", () => {
    const opening = openingOf(file);
    const { question } = shown.parsed.about;
    expect(question).toMatch(/\?$/);
    expect(opening).toContain(`Question: ${question}`);
    expect(opening).toContain("Answer: ");
    expect(opening).toContain("demo values");
    expect(textOf(file)).toMatch(/^title: /m);
  });

  test("what the opening promises is what the run shows", () => {
    const { run, verdict } = shown;
    const expected = EXPECTED[file];
    const found = {
      grade: verdict.grade,
      exitStatus: verdict.exitStatus,
      firings: (run.crowbar ?? run.ownCrowbars.at(0)?.findings)?.firings.length ?? null,
      fuses: run.fuses.map(({ state }) => state),
      trips: verdict.tripping.length > 0 ? "again and again" : "once or never",
    };
    expect({ ...found, says: expected.says }).toEqual(expected);
    expect(verdict.tooClose).toEqual([]);
    const opening = openingOf(file);
    for (const [written, dimension, value] of expected.says) {
      expect(opening).toContain(written);
      const parsed = parseQuantity(written, dimension);
      if (!parsed.ok) throw new Error(parsed.message);
      const off = Math.abs(value(run) - parsed.value);
      expect.soft(off, `${written}, found ${value(run)}`).toBeLessThanOrEqual(0.501 * lastDigit(written, parsed.value));
    }
  });

  test("its fuses protect its wires: an example to copy", () => {
    expect(shown.parsed.issues.filter(({ code }) => code === "wire-not-protected")).toEqual([]);
  });

  test("energyIn_eq_dissipated_plus_stored", () => {
    const { run } = shown;
    expect(["finished", "at rest"]).toContain(run.outcome.status);
    const { fed, dissipated, storedChange, relative } = run.energy;
    expect(Math.abs(fed - dissipated - storedChange)).toBeLessThanOrEqual(1e-6 * Math.abs(fed));
    expect(relative).toBeLessThanOrEqual(1e-6);
  });

  test("heat_geq_0", () => {
    const { fed, byDevice } = shown.run.energy;
    for (const [name, heat] of Object.entries(byDevice)) {
      expect.soft(heat, name).toBeGreaterThanOrEqual(-1e-7 * Math.abs(fed));
    }
    expect(Object.keys(byDevice).length).toBeGreaterThan(3);
  });

  test("everything recorded is a number, in order of time", () => {
    const { time, columns } = shown.run.trace;
    expect(time.length).toBeGreaterThan(10);
    expect(columns.filter(({ values }) => values.length !== time.length || !values.every(Number.isFinite))).toEqual([]);
    expect(time.every((t, k) => k === 0 || t >= time[k - 1])).toBe(true);
    expect(time[0]).toBe(0);
    expect(time[time.length - 1]).toBeLessThanOrEqual(shown.scenario.endTime);
  });

  test("events_are_ordered and each tells the time since the one before", () => {
    const { events } = shown.run;
    let before = 0;
    for (const { time, sincePrevious } of events) {
      expect(time).toBeGreaterThanOrEqual(before);
      expect(sincePrevious).toBeGreaterThanOrEqual(0);
      // Local time is the exact one; the difference of two times since the start loses digits.
      expect(Math.abs(time - before - sincePrevious)).toBeLessThanOrEqual(1e-12 * time + 1e-15);
      before = time;
    }
    expect(events.length).toBeGreaterThan(0);
  });

  test("states_never_run_backwards: a fuse melts before it opens, an SCR fires before it stops", () => {
    const { run } = shown;
    for (const { overloadTime, meltTime, openTime, peakTheta } of run.fuses) {
      expect(peakTheta >= 1).toBe(meltTime !== null);
      if (meltTime !== null) expect(overloadTime ?? Number.NaN).toBeLessThanOrEqual(meltTime);
      if (openTime !== null) expect(meltTime ?? Number.NaN).toBeLessThanOrEqual(openTime);
    }
    for (const { firings, stops } of [
      ...(run.crowbar ? [run.crowbar] : []),
      ...run.ownCrowbars.map((o) => o.findings),
    ]) {
      expect([firings.length, firings.length - 1]).toContain(Math.max(stops.length, firings.length - 1));
      stops.forEach((stop, k) => {
        expect(stop).toBeGreaterThan(firings[k]);
        expect(stop).toBeLessThan(firings[k + 1] ?? Number.POSITIVE_INFINITY);
      });
    }
    // The end of a conduction is seen within the band of the current's zero, 1e-7 of 100 A.
    if (run.crowbar) expect(column(run, "crowbar_A").reduce((a, b) => Math.min(a, b))).toBeGreaterThan(-2e-5);
  });

  test("currents_into_the_line_eq_currents_out at the operating point", () => {
    const { run, scenario } = shown;
    if (scenario.start === "dead") {
      expect(currents(run, scenario.loads)).toBeLessThan(1e-9);
      return;
    }
    const leak = scenario.crowbar === null ? 0 : column(run, "protected_side_V")[0] / scenario.crowbar.leakResistance;
    const surplus = currents(run, scenario.sources) - currents(run, scenario.loads) - leak;
    expect(Math.abs(surplus)).toBeLessThan(1e-6 * Math.max(1, currents(run, scenario.loads)));
  });
});

/** Sum of the currents in the leads of these ends at the start, A. */
function currents(run: Run, ends: readonly { readonly name: string }[]): number {
  return ends.reduce((sum, { name }) => sum + column(run, `${name.replaceAll(" ", "_")}_A`)[0], 0);
}

/** Worth of the last digit that a writer stands by: `0.13 s` 0.01, `320 A` 10. */
function lastDigit(written: string, value: number): number {
  const digits = /^[\d.]+/.exec(written)?.[0] ?? "";
  const number = Number(digits);
  const fraction = /\.(\d+)$/.exec(digits)?.[1].length;
  const zeros = /0*$/.exec(digits)?.[0].length ?? 0;
  const step = fraction === undefined ? 10 ** zeros : 10 ** -fraction;
  return (step * value) / number;
}
