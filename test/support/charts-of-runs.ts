import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { figures, headroomData, heatData, surgeData, withstandData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { afterAll, describe, expect, it } from "vitest";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { overlaps, textBoxes } from "../figures/text-boxes.ts";
import { root } from "../ground/files.ts";

const { document } = new JSDOM("").window;
const folder = join(root, "packages/sim/scenarios");

export const shippedText = (file: string): string => readFileSync(join(folder, file), "utf8");

/** A shipped line's run and verdict. */
export function answered(file: string) {
  const result = runScenario(shippedText(file), file, { secondRun: false });
  if (result.kind === "refused" || result.verdict.kind !== "verdict") throw new Error(`${file} has no verdict`);
  return { ...result, verdict: result.verdict };
}

/** What every picture of a shipped line's run must be, for every `every`-th line. */
export function describeCharts({ every }: { readonly every: number }): void {
  const names = readdirSync(folder).filter((name) => name.endsWith(".yaml"));
  describe.each(names.filter((_, index) => index % every === 0))("%s", describeChartsOf);
}

function describeChartsOf(file: string): void {
  const { run, verdict, parsed } = answered(file);
  const surge = surgeData(run, verdict);
  const drawn = figures.flatMap(({ name, of }) => {
    const figure = of({ run, verdict, fits: parsed.fits });
    return "missing" in figure ? [] : [{ name, figure }];
  });
  // Each picture is drawn once for all that is looked at in it, and let go with its file's tests.
  const pictures = new Map<string, { svg: SVGSVGElement; boxes: ReturnType<typeof textBoxes> }>();
  const pictureOf = ({ name, figure }: (typeof drawn)[number], size: "page" | "slide" | "phone") => {
    const key = `${name} ${size}`;
    const known = pictures.get(key);
    if (known !== undefined) return known;
    const svg = figure.draw({ document, size });
    const made = { svg, boxes: textBoxes(svg) };
    pictures.set(key, made);
    return made;
  };
  afterAll(() => pictures.clear());

  it.each(["page", "slide", "phone"] as const)(
    "is drawn without a word over another or beyond the edge: %s",
    (size) => {
      for (const each of drawn) {
        const { name } = each;
        const { svg, boxes } = pictureOf(each, size);
        const [, , width, height] = (svg.getAttribute("viewBox") ?? "").split(" ").map(Number);
        expect(overlaps(boxes), name).toEqual([]);
        const beyond = boxes.filter(({ left, right, bottom }) => !(left >= 0 && right <= width && bottom <= height));
        expect(beyond, name).toEqual([]);
        // A line of type in pixels of the exported picture.
        const scale = Number(svg.getAttribute("width")) / width;
        expect(Math.min(...boxes.map((box) => scale * box.size)), name).toBeGreaterThanOrEqual(
          size === "slide" ? 24 : 12,
        );
        if (size !== "slide") continue;
        expect([svg.getAttribute("width"), svg.getAttribute("height")], name).toEqual(["1920", "1080"]);
      }
    },
  );

  it("cuts no word off beside text or on a slide", () => {
    for (const each of drawn) {
      for (const size of ["page", "slide"] as const) {
        const words = pictureOf(each, size).boxes.map(({ text }) => text);
        expect(
          words.filter((text) => text.includes("…")),
          each.name,
        ).toEqual([]);
      }
    }
  });

  it("has a table for each figure, with as many cells in each row and no cell that is no number", () => {
    for (const { name, figure } of drawn) {
      const lines = [...figure.csv()].map((line) => line.replace(/"[^"]*"/g, "text").trimEnd());
      const columns = lines[0].split(",");
      expect(lines.length, name).toBeGreaterThan(1);
      for (const line of lines) expect(line.split(",").length, name).toBe(columns.length);
      expect(lines.join("\n"), name).not.toMatch(/NaN|undefined|Infinity|null/);
    }
  });

  it("tells of each load the times that the run itself watched, and the rest between them", () => {
    const data = withstandData(run, verdict);
    for (const { name, withstand } of run.loads) {
      const load = data?.loads.find(({ label }) => label === name);
      for (const { level, longest } of withstand) {
        const points = load?.found ?? [];
        const after = points.findIndex(({ voltage }) => voltage > level);
        if (longest <= 0 || after < 1) continue;
        expect(points[after - 1].time * 1.02, `${level} V`).toBeGreaterThanOrEqual(longest);
        expect(points[after].time * 0.98, `${level} V`).toBeLessThanOrEqual(longest);
      }
      const times = (load?.found ?? []).map(({ time }) => time);
      expect(times).toEqual([...times].sort((a, b) => b - a));
    }
  });

  it("draws heat up to the peaks of the findings", () => {
    const data = heatData(run, verdict);
    const peaks = [run.crowbar, ...run.ownCrowbars.map(({ findings }) => findings)].flatMap((scr) =>
      scr === null ? [] : [scr.peakTemperature.value],
    );
    const scrs = (data?.temperatures ?? []).filter(({ label }) => label.endsWith("SCR junction"));
    expect(scrs.length).toBe(peaks.length);
    for (const [i, { values }] of scrs.entries()) {
      expect(Math.abs(Math.max(...values) - peaks[i])).toBeLessThan(0.02 * (peaks[i] - 25) + 0.1);
    }
    expect(data?.melting.map(({ values }) => Math.max(...values)) ?? []).toEqual(
      run.fuses.map(({ peakTheta }) => expect.closeTo(Math.min(1, peakTheta), 2)),
    );
  });

  it("draws a surge where an SCR fired, and only there", () => {
    const fired = [run.crowbar, ...run.ownCrowbars.map(({ findings }) => findings)].some(
      (scr) => (scr?.firings.length ?? 0) > 0,
    );
    expect(surge !== null).toBe(fired);
  });

  it("draws every limit of the verdict once", () => {
    const limits = [...verdict.loads.flatMap((load) => load.limits), ...verdict.findings];
    expect(headroomData(verdict).limits.map(({ quantity }) => quantity)).toEqual(
      limits.map(({ quantity }) => quantity),
    );
  });
}
