import { join } from "node:path";
import {
  type FigureOptions,
  faultFigure,
  headroomFigure,
  heatFigure,
  legendFigure,
  matchFigure,
  sharedAxes,
  surgeBarsFigure,
  svgFile,
  timeCurrentFigure,
  tripFigure,
  type WaveformData,
  withstandFigure,
} from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it, vi } from "vitest";
import { everySeverity, heat, manyLimits, matrix, surge, timeCurrent, withstand } from "./chart-data.ts";
import { capacitorDump, creep, hiccup, shortedPass, twoRadios } from "./synthetic.ts";
import { trip } from "./trip-data.ts";

const { document } = new JSDOM("").window;
const phone = { document, size: "phone" } as const;
const dark = { document, scheme: "dark" } as const;
const slide = { document, size: "slide" } as const;

const blown = shortedPass(0.6, 150);
const trips = thinned(hiccup(), 40);
const dump = thinned(capacitorDump(), 20);
const axes = sharedAxes([trips, blown]);
const fault = (data: WaveformData, options: Partial<FigureOptions> = {}) => faultFigure(data, { document, ...options });
const small = { axes, frame: "bare", width: 320, height: 190, panels: ["voltage", "states"] } as const;

/** Each looks as it did when somebody last looked at it. */
const pictures: readonly [string, () => Element][] = [
  ["shorted-pass-light", () => fault(blown)],
  ["shorted-pass-linear", () => fault(blown, { timeScale: "linear", panels: ["voltage", "current"] })],
  ["shorted-pass-window", () => fault(blown, { range: [0.01, 0.012], timeScale: "linear" })],
  ["shorted-pass-dark-slide", () => fault(blown, { size: "slide", scheme: "dark" })],
  ["creep-dark-narrow", () => fault(creep(60), { scheme: "dark", width: 390 })],
  ["two-radios-slide", () => fault(thinned(twoRadios(), 30), slide)],
  ["hiccup-light", () => fault(trips)],
  ["hiccup-small", () => fault(trips, small)],
  ["shorted-pass-small-dark", () => fault(blown, { ...small, scheme: "dark" })],
  ["legend-of-small", () => legendFigure(trips, { document, width: 640, panels: ["voltage"] })],
  ["currents-dump", () => fault(dump, { panels: ["current"], height: 360 })],
  ["states-narrow", () => fault(trips, { panels: ["states"], size: "phone" })],
  ["time-current-light", () => timeCurrentFigure(timeCurrent(), { document })],
  ["time-current-dark-narrow", () => timeCurrentFigure(timeCurrent(), { ...phone, scheme: "dark" })],
  ["headroom-light", () => headroomFigure(everySeverity(), { document })],
  ["headroom-many-slide", () => headroomFigure(manyLimits(), slide)],
  ["headroom-dark-narrow", () => headroomFigure(everySeverity(), { ...phone, scheme: "dark" })],
  ["surge-light", () => surgeBarsFigure(surge(), { document })],
  ["surge-beyond-dark-narrow", () => surgeBarsFigure(surge(9), { ...phone, scheme: "dark" })],
  ["withstand-light", () => withstandFigure(withstand(), { document })],
  ["withstand-inside-dark-slide", () => withstandFigure(withstand("inside"), { ...slide, scheme: "dark" })],
  ["withstand-two-narrow", () => withstandFigure(withstand("two loads"), phone)],
  ["trip-light", () => tripFigure(trip(), { document })],
  ["trip-none-dark-narrow", () => tripFigure(trip("none"), { ...phone, scheme: "dark" })],
  ["matrix-light", () => matchFigure(matrix(), { document })],
  ["matrix-dark-narrow", () => matchFigure(matrix(4), { ...phone, scheme: "dark" })],
  ["heat-light", () => heatFigure(heat(), { document })],
  ["heat-destroyed-dark-narrow", () => heatFigure(heat("destroyed"), { ...dark, size: "phone" })],
];

describe("a figure looks as it did", () => {
  it.each(pictures)("%s", async (name, draw) => {
    const told = (["warn", "error"] as const).map((level) => vi.spyOn(console, level));
    const text = settled(svgFile(draw()));
    for (const each of told) {
      expect(each).not.toHaveBeenCalled();
      each.mockRestore();
    }
    await expect(text).toMatchFileSnapshot(join(import.meta.dirname, "snapshots", `${name}.svg`));
  });
});

/** Ids count from 1 and decimals are one: a snapshot changes when the picture does. One element a line, for a readable difference. */
function settled(text: string): string {
  const ids = [...new Set([...text.matchAll(/ id="([^"]+)"/g)].map(([, id]) => id))].sort(
    (a, b) => b.length - a.length,
  );
  const renumbered = ids.reduce(
    (all, id, i) => all.replaceAll(new RegExp(`(?<=[" (#])${id}(?=[" )])`, "g"), `id-${ids.length - i}`),
    text,
  );
  const rounded = renumbered.replace(/="[^"]*"/g, (attribute) => attribute.replace(/(\d+\.\d)\d+/g, "$1"));
  return rounded.replaceAll("><", ">\n<");
}

/** Every so manieth row: what a snapshot shows is how it is drawn, not how finely it was recorded. */
function thinned(data: WaveformData, step: number): WaveformData {
  const kept = (values: Float64Array) => values.filter((_, i) => i % step === 0 || i === values.length - 1);
  return {
    ...data,
    time: kept(data.time),
    voltages: data.voltages.map((curve) => ({ ...curve, values: kept(curve.values) })),
    currents: data.currents.map((curve) => ({ ...curve, values: kept(curve.values) })),
  };
}
