import { type Comparison, differenceOf, type Run } from "@railfault/sim";
import { compareFigure, multiplesData, overlayData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { beforeAll, describe, expect, test } from "vitest";
import { leaptVoltages } from "../../../packages/sim/src/report/leapt-voltages.ts";
import { compared } from "./lines.ts";

const { document } = new JSDOM("").window;
/** Trips every 317 ms: 236 rounds, in the first of which its supply and its SCR are still getting warm. */
const hiccup = `fault at: 100 ms
run for: 75 s
sources:
  - name: switcher
    part: switch-mode supply 30 A, hiccup
    fault: lost feedback
    lead: {length: 1 m, gauge: 10 AWG}
main fuse: blade fuse 30 A
crowbar: {part: SCR 25 A, trip voltage: 15 V, sense filter: fast}
loads:
  - name: radio
    part: 100 W radio
    limits: {maximum: 16 V, withstand: parts rated 16 V}
    lead: {length: 1 m, gauge: 12 AWG}
`;
/** Columns of a picture, each two to three rounds wide. */
const COLUMNS = 100;

/** Lowest and highest value in each column of a picture from 10 s on. */
function bands(time: ArrayLike<number>, values: ArrayLike<number>) {
  const low = Array.from({ length: COLUMNS }, () => Number.POSITIVE_INFINITY);
  const high = low.map((value) => -value);
  for (let i = 0; i < time.length; i++) {
    const column = Math.floor(((time[i] - 10) / 65) * COLUMNS);
    low[column] = Math.min(low[column] ?? 0, values[i]);
    high[column] = Math.max(high[column] ?? 0, values[i]);
  }
  return { low: low.slice(0, COLUMNS), high: high.slice(0, COLUMNS) };
}

/** The extremes of the last second, which no leap reaches: rounds that were integrated. */
function lastSecond({ trace }: Run, name: string): readonly [number, number] {
  const values = trace.columns.find((column) => column.name === name)?.values ?? [];
  const own = [...values].filter((_, i) => trace.time[i] > 74);
  return [Math.min(...own), Math.max(...own)];
}

let found: Comparison;
let shown: ReturnType<typeof multiplesData>;
beforeAll(() => {
  found = compared(hiccup, { schemes: ["nothing"], record: true });
  shown = multiplesData(found);
});
const base = (): Run => {
  const answer = found.runs.get("as it stands");
  if (answer === undefined) throw new Error("not run");
  return answer.run;
};

describe("a line that trips on and on in the pictures of a comparison", () => {
  test("is leapt over where rounds are alike, also where waveforms are kept", () => {
    expect(base().repetition.leaps.length).toBeGreaterThan(0);
    // Each of its 236 rounds takes some 160 steps.
    expect(base().work.steps).toBeLessThan(20_000);
  });

  test.each(["radio", "switcher", "protected side"])(
    "every column holds the whole swing of the %s, as the rounds integrated after the leaps have it",
    (label) => {
      const panel = shown?.panels.find(({ name }) => name === "as it stands");
      const curve = panel?.data.voltages.find((each) => each.label === label);
      const { low, high } = bands(panel?.data.time ?? [], curve?.values ?? []);
      const [lowest, highest] = lastSecond(base(), `${label.replace(" ", "_")}_V`);
      expect(highest).toBeGreaterThan(14.9);
      for (let k = 0; k < COLUMNS; k++) {
        expect(Math.abs(low[k] - lowest)).toBeLessThan(2e-3);
        expect(Math.abs(high[k] - highest)).toBeLessThan(2e-3);
      }
    },
  );

  test("the overlay has the same", () => {
    const data = overlayData(found);
    const curve = data?.voltages.find((each) => each.label === "as it stands");
    const { low, high } = bands(data?.time ?? [], curve?.values ?? []);
    const [lowest, highest] = lastSecond(base(), "radio_V");
    expect(Math.max(...low.map((value) => Math.abs(value - lowest)))).toBeLessThan(2e-3);
    expect(Math.max(...high.map((value) => Math.abs(value - highest)))).toBeLessThan(2e-3);
  });

  test("times never fall, what was recorded stays, and what drifts is not drawn from one round", () => {
    const { trace } = base();
    const filled = leaptVoltages(base());
    expect(filled.time.findIndex((each, i) => each < filled.time[Math.max(0, i - 1)])).toBe(-1);
    const times = new Set(filled.time);
    expect([...trace.time].filter((each) => !times.has(each))).toEqual([]);
    expect(new Set(filled.columns.map(({ unit }) => unit))).toEqual(new Set(["V"]));
    const whole = found.runs.get("nothing")?.run;
    expect(whole && leaptVoltages(whole)).toBe(whole?.trace);
  });

  test("no mark tells of a leap", () => {
    const labels = shown?.panels.flatMap(({ data }) => data.events.map(({ label }) => label)) ?? [];
    expect(labels.filter((label) => /repeats itself/i.test(label))).toEqual([]);
  });
});

/** A load at 17 V around a leap of 58 s, which stands 16 V for a second: above it from one row before the leap, 1 s or 0.1 s. */
test.each([
  [[0, 0.5, 1, 2, 60, 61, 61.5], true],
  [[0, 1.9, 1.95, 2, 60, 60.1, 60.2], false],
])("a leap tells of a load's loss only where it was above all the round before", (times, lost) => {
  const answer = found.runs.get("as it stands");
  const row = found.rows.find(({ isBase }) => isBase);
  if (answer === undefined || row?.kind !== "judged") throw new Error("no verdict");
  const values = Float64Array.from([13, 13, 17, 17, 17, 13, 13]);
  const run: Run = {
    ...answer.run,
    trace: { time: Float64Array.from(times), columns: [{ name: "radio_V", unit: "V", values }] },
    repetition: { leaps: [{ from: 2, to: 60, rounds: 100, period: 0.58 }], refusal: null },
  };
  const rows = [
    { ...row, name: "a" },
    { ...row, name: "b", grade: "beyond" as const, peak: { value: 17, after: 0 } },
  ];
  const said = differenceOf({ ...found, rows, runs: new Map([["b", { ...answer, run }]]) }, "a", "b");
  expect(said.includes("before the radio is lost")).toBe(lost);
});

describe("a slide without room for all", () => {
  test("shows the line as it stands, without protection, the best and the worst", () => {
    const order = ["best", "b", "c", "d", "e", "f", "as it stands", "nothing", "worst"];
    const row = found.rows[0];
    if (row.kind !== "judged") throw new Error("no verdict");
    const rows = order.map((name, k) => ({
      ...row,
      name,
      isBase: name === "as it stands",
      peak: { value: 13 + k / 2, after: 0 },
    }));
    const answer = found.runs.get("nothing");
    if (answer === undefined) throw new Error("not run");
    const many = { ...found, rows, runs: new Map(order.map((name) => [name, answer])) };
    const svg = compareFigure("multiples", many, { document, size: "slide" });
    const names = [...(svg?.querySelectorAll("g.panel:has(> svg)") ?? [])].map(
      (panel) => panel.firstElementChild?.textContent,
    );
    expect(names).toEqual(["best", "b", "c", "as it stands", "nothing", "worst"]);
    expect(svg?.textContent).toContain("Not drawn for want of room: d, e, f");
  });
});
