import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { figures, headroomData, heatData, surgeData, timeCurrentData, withstandData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { afterAll, describe, expect, it } from "vitest";
import { runScenario } from "../../packages/sim/src/report/run-scenario.ts";
import { meltingTime } from "../../packages/sim/src/scenario/parts/fuse-fit.ts";
import { largestDraws } from "../../packages/sim/src/study/weakest/service.ts";
import { root } from "../ground/files.ts";
import { overlaps, textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;
const folder = join(root, "packages/sim/scenarios");

function answered(file: string) {
  const result = runScenario(readFileSync(join(folder, file), "utf8"), file, { secondRun: false });
  if (result.kind === "refused" || result.verdict.kind !== "verdict") throw new Error(`${file} has no verdict`);
  return { ...result, verdict: result.verdict };
}

describe.each(readdirSync(folder).filter((name) => name.endsWith(".yaml")))("%s", (file) => {
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
});

describe("the shorted pass transistor", () => {
  const { run, verdict, parsed } = answered("01-shorted-pass-transistor.yaml");

  it("splits the SCR's I²t into parts that sum to the run's own integral", () => {
    const sum = surgeData(run, verdict)?.parts.reduce((total, { i2t }) => total + i2t, 0) ?? 0;
    // The trace's rows are joined by straight lines; the run integrates along its steps.
    expect(Math.abs(sum / (run.crowbar?.totalI2t ?? 0) - 1)).toBeLessThan(0.01);
  });

  it("puts the fuse's part near its melting I²t", () => {
    const part = surgeData(run, verdict)?.parts.find(({ label }) => label === "until the fuse melts");
    expect(Math.abs((part?.i2t ?? 0) / (run.fuses[0].meltingI2t ?? 1) - 1)).toBeLessThan(0.02);
  });

  it("draws what the loads draw at their most as the current in service, as the study of fuses says it, not what flowed by chance", () => {
    const service = (told?: number) =>
      timeCurrentData(run, verdict, parsed.fits, told)?.currents.find(({ role }) => role === "operating")?.value;
    const largest = largestDraws(parsed).reduce((sum, { current }) => sum + current, 0);
    expect(largest).toBe(21);
    expect(service(largest)).toBe(21);
    expect(service()).toBeCloseTo(1.5, 1);
  });

  it("draws the melting curve that the model melts by, inside the published gates", () => {
    const curve = timeCurrentData(run, verdict, parsed.fits)?.curves[0];
    const { mainFuse } = run.scenario;
    if (curve === undefined || mainFuse === null) throw new Error("no fuse");
    for (const { current, time } of curve.points) expect(time).toBeCloseTo(meltingTime(mainFuse, current), 9);
    for (const gate of curve.gates) {
      const time = meltingTime(mainFuse, gate.current);
      expect(time).toBeGreaterThanOrEqual(gate.minimum ?? 0);
      expect(time).toBeLessThanOrEqual(gate.maximum ?? Number.POSITIVE_INFINITY);
    }
    expect(curve.gates.length).toBeGreaterThan(3);
  });

  it("says what goes first", () => {
    expect(timeCurrentData(run, verdict, parsed.fits)?.subtitle).toMatch(
      /^At the [\d.]+ A RMS of this run the fuse melts after \d+ ms; the SCR stands/,
    );
  });
});

it("says that the small SCR goes before the large fuse", () => {
  const { run, verdict, parsed } = answered("26-scr-smaller-than-fuse.yaml");
  expect(timeCurrentData(run, verdict, parsed.fits)?.subtitle).toMatch(
    / the SCR stands less than .*; the fuse melts after/,
  );
  expect(surgeData(run, verdict)?.windows.every(({ i2t, allowed }) => i2t > allowed)).toBe(true);
});

it("does not hold what a supply's own SCR carries against the fuses and leads of the line", () => {
  const { run, verdict, parsed } = answered("22-supplys-own-scr.yaml");
  const subtitle = timeCurrentData(run, verdict, parsed.fits)?.subtitle ?? "";
  expect(subtitle).toContain("the SCR stands");
  expect(subtitle).not.toMatch(/fuse|wire/);
});

it("does not praise the surge of an SCR that overheats in the end", () => {
  const { run, verdict, parsed } = answered("22-supplys-own-scr.yaml");
  expect(run.ownCrowbars[0].findings.failedShort).toBe(true);
  expect(surgeData(run, verdict)?.subtitle).toContain("but in the end it overheated and failed");
  expect(timeCurrentData(run, verdict, parsed.fits)?.subtitle).toContain("In the end the SCR overheated and failed.");
});

describe("a run of which rows were left out", () => {
  const text = readFileSync(join(folder, "12-relay-contact.yaml"), "utf8");
  const whole = answered("12-relay-contact.yaml");
  const result = runScenario(text, "12-relay-contact.yaml", { secondRun: false, record: { most: 200 } });
  if (result.kind === "refused" || result.verdict.kind !== "verdict") throw new Error("no verdict");
  const { run, verdict } = result;

  it("draws only the times that were watched during it", () => {
    expect(run.trace.thinned).toBeDefined();
    const [found, watched] = [withstandData(run, verdict)?.loads[0].found, whole.run.loads[0]];
    const levels = [watched.aboveMaximum, ...watched.withstand].filter(({ longest }) => longest > 0);
    expect(found).toEqual(levels.map(({ level, longest }) => ({ voltage: level, time: longest })));
  });

  it("has no surge that would have to be summed up from its rows", () => {
    const bars = readFileSync(join(folder, "02-hiccup-supply.yaml"), "utf8");
    const thin = runScenario(bars, "hiccup", { secondRun: false, record: { most: 400 } });
    if (thin.kind === "refused" || thin.verdict.kind !== "verdict") throw new Error("no verdict");
    expect(surgeData(thin.run, thin.verdict)).toBeNull();
    const figure = figures.find(({ name }) => name === "surge")?.of({ ...thin, fits: thin.parsed.fits });
    expect(figure).toEqual({ missing: expect.stringContaining("rows of this long run were left out") });
  });
});
