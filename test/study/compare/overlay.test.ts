import type { Comparison } from "@railfault/sim";
import { compareFigure, multiplesData, overlayData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { beforeAll, describe, expect, test } from "vitest";
import { compared, rowOf, shippedText } from "./lines.ts";

const { document } = new JSDOM("").window;
let station: Comparison;
beforeAll(() => {
  station = compared(shippedText("01-shorted-pass-transistor"), { schemes: ["nothing", "relay"] });
});

describe("all lines in one picture", () => {
  test("each has its curve on common times, with the very values of its own run", () => {
    const data = overlayData(station);
    expect(data?.voltages.map(({ label }) => label)).toEqual(station.rows.map(({ name }) => name));
    for (const { label, values } of data?.voltages ?? []) {
      const trace = station.runs.get(label)?.run.trace;
      const own = trace?.columns.find(({ name }) => name === "relay_radio_V")?.values ?? [];
      for (const at of [0, 0.25, 0.5, 0.75].map((share) => Math.floor(share * own.length))) {
        const time = trace?.time[at] ?? Number.NaN;
        // An instant of an event stands twice: the later of the two holds from there on.
        const last = trace?.time.lastIndexOf(time) ?? -1;
        expect(values[data?.time.indexOf(time) ?? -1]).toBeCloseTo(own[last], 9);
      }
      expect(values.at(-1)).toBeCloseTo(own.at(-1) ?? Number.NaN, 9);
    }
  });

  test("a line that has no such load has no curve, and where nothing is assumed that is not said", () => {
    const runs = new Map(
      [...station.runs].map(([name, answer]) => {
        const { run, verdict } = answer;
        const columns =
          name === "relay" ? run.trace.columns.filter((each) => each.name !== "relay_radio_V") : run.trace.columns;
        const plain = verdict.kind === "verdict" ? { ...verdict, assumptions: [] } : verdict;
        return [name, { ...answer, verdict: plain, run: { ...run, trace: { ...run.trace, columns } } }] as const;
      }),
    );
    const shown = overlayData({ ...station, runs });
    expect(shown?.voltages.map(({ label }) => label)).not.toContain("relay");
    expect(shown?.voltages).toHaveLength(station.rows.length - 1);
    expect(shown?.facts).toBe("shorted pass transistor · the best first");
    expect(overlayData(station)?.facts).toBe("shorted pass transistor · the best first · some values assumed");
  });

  test("times rise, each once, to the end of the run", () => {
    const time = [...(overlayData(station)?.time ?? [])];
    expect(time).toEqual([...new Set(time)].sort((a, b) => a - b));
    expect(time.at(-1)).toBe(0.6);
  });

  test("marks say which line's protection acted; one that nothing protects has none", () => {
    const labels = overlayData(station)?.events.map(({ label }) => label);
    expect(labels).toEqual(["as it stands: the SCR fires", "relay: the relay opens"]);
    const transistor = compared(shippedText("01-shorted-pass-transistor"), { schemes: ["series transistor"] });
    expect(overlayData(transistor)?.events.map(({ label }) => label)).toContain(
      "series transistor: the series transistor opens",
    );
  });

  test("lines that are named stand in that order, and none is called the best", () => {
    const named = ["relay", "as it stands"];
    expect(overlayData(station)?.facts).toMatch(/^shorted pass transistor · the best first/);
    for (const data of [overlayData(station, named), multiplesData(station, named)])
      expect(data?.facts).toMatch(/^shorted pass transistor(?! · the best first)/);
    expect(overlayData(station, named)?.voltages.map(({ label }) => label)).toEqual(named);
    expect(multiplesData(station, named)?.panels.map(({ name }) => name)).toEqual(named);
  });

  test("is drawn with a curve for each line", () => {
    const svg = compareFigure("overlay", station, { document, width: 700 });
    for (const { name } of station.rows) expect(svg?.textContent).toContain(name);
  });
});

describe("what both pictures say above", () => {
  test("without a fault, without a title, with a line that is too close to call", () => {
    const quiet = shippedText("01-shorted-pass-transistor")
      .replace("fault: {kind: shorted pass transistor, pass resistance: 50 mohm}", "fault: none")
      .replace("run for: 0.6 s", "run for: 30 ms");
    const found = compared(quiet, { schemes: ["nothing"] });
    const rows = found.rows.map((row) => ({ ...row, tooClose: row.name === "nothing" }));
    const data = multiplesData({ ...found, title: "", rows });
    expect(data?.title).toBe("Schemes side by side");
    expect(data?.facts).toMatch(/^no fault · /);
    expect(data?.subtitle).toBe("The same fault: load is safe in 1 of 2.");
    const tones = Object.fromEntries(data?.panels.map(({ name, tone }) => [name, tone]) ?? []);
    expect(tones).toEqual({ "as it stands": "safe", nothing: "withstood" });
    expect(overlayData(found)?.zero).toBe("start");
    expect(overlayData(station)?.zero).toBe("fault");
  });

  test("nothing is drawn of lines without a verdict or without waveforms", () => {
    const bare = compared(shippedText("01-shorted-pass-transistor"), { schemes: ["nothing"], record: false });
    const none = {
      ...station,
      rows: [{ kind: "no verdict", name: "relay", about: "", isBase: false, why: "" } as const],
    };
    for (const found of [bare, none]) {
      expect(multiplesData(found)).toBeNull();
      expect(overlayData(found)).toBeNull();
      expect(compareFigure("overlay", found, { document })).toBeNull();
    }
    expect(rowOf(bare, "nothing").grade).toBe("beyond");
  });
});
