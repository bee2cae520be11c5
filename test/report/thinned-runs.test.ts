import { readFileSync } from "node:fs";
import { join } from "node:path";
import { describe, expect, test } from "vitest";
import { type Answered, runScenario, type Trace, thinTrace } from "../../packages/sim/src/index.ts";
import { Recorder } from "../../packages/sim/src/trace/recorder.ts";
import { draws } from "../scenario/draws.ts";

const file = join(import.meta.dirname, "../../packages/sim/scenarios/02-hiccup-supply.yaml");
const hiccup = readFileSync(file, "utf8");

function answered(text: string, options = {}): Answered {
  const answer = runScenario(text, "x", options);
  if (answer.kind === "refused") throw new Error(JSON.stringify(answer.issues));
  return answer;
}

const extremes = (trace: Trace) =>
  trace.columns.map(({ name, values }) => [
    name,
    values.reduce((a, b) => Math.min(a, b)),
    values.reduce((a, b) => Math.max(a, b)),
  ]);

/** Rows as texts, so that one trace can be looked for in another. */
const rowsOf = (trace: Trace): string[] =>
  Array.from(trace.time, (time, row) => [time, ...trace.columns.map(({ values }) => values[row])].join(" "));

const pairs = (trace: Trace): number[] =>
  Array.from(trace.time).filter((time, row) => row > 0 && time === trace.time[row - 1]);

describe("a thinned trace", () => {
  const { run } = answered(hiccup);
  const most = 2400;
  const thin = thinTrace(run.trace, most);

  test("has at most so many rows, each of them one that was there, in order", () => {
    expect(run.trace.time.length).toBeGreaterThan(4 * most);
    expect(thin.time.length).toBeLessThanOrEqual(most);
    expect(thin.time.length).toBeGreaterThan(most / 2);
    const before = rowsOf(run.trace);
    let at = 0;
    for (const row of rowsOf(thin)) {
      at = before.indexOf(row, at) + 1;
      expect(at).toBeGreaterThan(0);
    }
  });

  test("keeps the first and last row, every extremum and both rows of every event, and says so", () => {
    expect(extremes(thin)).toEqual(extremes(run.trace));
    expect(pairs(thin)).toEqual(pairs(run.trace));
    expect(pairs(thin).length).toBeGreaterThan(50);
    expect([thin.time[0], thin.time.at(-1)]).toEqual([run.trace.time[0], run.trace.time.at(-1)]);
    expect(thin.thinned).toEqual({ from: run.trace.time.length, everyEvent: true });
    expect(run.trace.thinned).toBeUndefined();
  });

  test("keeps the extremes of every short stretch, so that its picture is the same", () => {
    const before = rowsOf(run.trace);
    let at = -1;
    const origins = rowsOf(thin).map((row) => {
      at = before.indexOf(row, at + 1);
      return at;
    });
    const count = before.length;
    // At worst every column has two rows of its own in a stretch.
    const finest = Math.ceil(count / ((most / 2 - 2) / (2 * thin.columns.length)));
    for (let from = 0; from + finest <= count; from += finest) {
      const near = origins.flatMap((origin, row) =>
        origin >= from - finest && origin < from + 2 * finest ? [row] : [],
      );
      for (let c = 0; c < thin.columns.length; c++) {
        const all = run.trace.columns[c].values.subarray(from, from + finest);
        const some = near.map((row) => thin.columns[c].values[row]);
        expect(Math.max(...some), thin.columns[c].name).toBeGreaterThanOrEqual(Math.max(...all));
        expect(Math.min(...some), thin.columns[c].name).toBeLessThanOrEqual(Math.min(...all));
      }
    }
  });

  test("gives the events up only where they would fill half of it, and says that too", () => {
    const few = thinTrace(run.trace, 150);
    expect(few.time.length).toBeLessThanOrEqual(150);
    expect(few.thinned).toEqual({ from: run.trace.time.length, everyEvent: false });
    expect(extremes(few)).toEqual(extremes(run.trace));
  });

  test("is the trace itself where that is short enough; too small a bound is refused", () => {
    expect(thinTrace(run.trace, 1e6)).toBe(run.trace);
    for (const wrong of [0, 10, 63, 100.5, Number.NaN]) expect(() => thinTrace(run.trace, wrong)).toThrow(RangeError);
  });
});

describe("a recording within a bound", () => {
  test("holds no more than that, whatever comes, and every extremum", () => {
    const draw = draws(7);
    for (const most of [128, 1000, 5000]) {
      const recorder = new Recorder(3, most);
      const values = new Float64Array(3);
      const low = [Infinity, Infinity, Infinity];
      const high = low.map((value) => -value);
      for (let row = 0; row < 40_000; row++) {
        for (let c = 0; c < 3; c++) {
          values[c] = (draw.next() - 0.5) ** 7 * 1e6;
          low[c] = Math.min(low[c], values[c]);
          high[c] = Math.max(high[c], values[c]);
        }
        recorder.add(row * 1e-3, values);
        if (recorder.length > most) expect.fail(`${recorder.length} rows`);
      }
      expect(recorder.thinned).toEqual({ from: 40_000, everyEvent: true });
      for (let c = 0; c < 3; c++) {
        const column = recorder.column(c);
        expect([Math.min(...column), Math.max(...column)]).toEqual([low[c], high[c]]);
      }
      const times = recorder.times();
      expect(times.at(-1)).toBeCloseTo(39.999, 9);
      expect(times.every((time, row) => row === 0 || time >= times[row - 1])).toBe(true);
      // What came first is kept as finely as what came last: no quarter of the time has less than a tenth of the rows.
      for (let quarter = 0; quarter < 4; quarter++) {
        const share = times.filter((time) => Math.floor(time / 10) === quarter).length / times.length;
        if (most > 128) expect(share).toBeGreaterThan(0.1);
      }
    }
  });

  test("changes no finding and no event; a verdict that asked for durations says that they were not recorded", () => {
    const whole = answered(hiccup);
    const bounded = answered(hiccup, { record: { most: 2000 } });
    expect(bounded.run.trace.time.length).toBeLessThanOrEqual(2000);
    expect(bounded.run.trace.thinned?.from).toBe(whole.run.trace.time.length);
    const { trace: _, ...found } = bounded.run;
    const { trace: __, ...all } = whole.run;
    expect(found).toEqual(all);
    expect(extremes(bounded.run.trace)).toEqual(extremes(whole.run.trace));
    expect(bounded.verdict).toEqual(whole.verdict);
  });

  test("a switch carrying more than its rating: how long comes from a watch, not from what is left of the waveform", () => {
    const text = readFileSync(join(file, "../14-crowbar-with-disconnect.yaml"), "utf8").replace(
      "{current: 250 A}",
      "{current: 20 A}",
    );
    const findings = (options: object) => {
      const { verdict } = answered(text, options);
      return verdict.kind === "verdict" ? verdict.findings.filter(({ subject }) => subject === "series switch") : [];
    };
    const whole = findings({})
      .map(({ sentence }) => sentence)
      .join(" ");
    const bounded = findings({ record: { most: 1000 } })
      .map(({ sentence }) => sentence)
      .join(" ");
    expect(whole).toMatch(/carried more than 20 A, which it carries for ever, for [\d.]+ µs within a second/);
    expect(bounded).toBe(whole);
  });

  test("too small a bound is refused before anything runs", () => {
    expect(() => runScenario(hiccup, "x", { record: { most: 60 } })).toThrow(RangeError);
    expect(() => runScenario(hiccup, "x", { record: { most: Number.NaN } })).toThrow(RangeError);
  });
});
