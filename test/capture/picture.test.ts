import { readFileSync } from "node:fs";
import { join } from "node:path";
import {
  type Capture,
  type CaptureJudgement,
  captureData,
  captureHeadline,
  judgeCapture,
  layCapture,
} from "@railfault/sim";
import { type CaptureFigureData, captureFigure } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { overlaps, textBoxes } from "../figures/text-boxes.ts";
import { root } from "../ground/files.ts";
import { read } from "./read.ts";

const { document } = new JSDOM("").window;
const LIMITS = { low: 11.7, high: 15.9 };

function taken(text: string, name = "bench.csv"): { capture: Capture; judgement: CaptureJudgement } {
  const { capture } = read(new TextEncoder().encode(text), { file: name });
  if (capture === null) throw new Error("not read");
  return { capture, judgement: judgeCapture(capture, LIMITS) };
}

/** 40 000 samples that go up and down, one single spike to 20 V and one to 3 V, and a gap. */
const spiky = (): string => {
  const rows = Array.from({ length: 40_000 }, (_, k) => {
    const volts = k === 12_345 ? 20 : k === 30_001 ? 3 : 13.8 + 0.1 * Math.sin(k / 50);
    return `${(k * 1e-3).toFixed(3)},${k >= 20_000 && k < 21_000 ? "" : volts.toFixed(3)}`;
  });
  return `time (s),radio (V)\n${rows.join("\n")}\n`;
};

describe("a capture as a picture", () => {
  const { capture, judgement } = taken(spiky());
  const extent = ({ channels }: CaptureFigureData): readonly [number, number] => {
    const values = channels[0]!.pieces.flatMap((piece) => [...piece.values]);
    return [Math.min(...values), Math.max(...values)];
  };

  test("keeps the lowest and the highest value of millions in some hundred columns, and leaves gaps open", () => {
    const data = captureData(capture, judgement, { columns: 300 });
    const [channel] = data.channels;
    expect(extent(data)).toEqual([3, 20]);
    expect(channel!.pieces).toHaveLength(2);
    expect(channel!.pieces[0]!.time.at(-1)).toBeLessThan(20);
    expect(channel!.pieces[1]!.time[0]).toBeGreaterThanOrEqual(21);
    expect(channel!.pieces.reduce((sum, { time }) => sum + time.length, 0)).toBeLessThanOrEqual(4 * 302);
    expect(channel!.highest?.value).toBe(20);
  });

  test("shows a part with the samples beside it, every one where there are few", () => {
    const data = captureData(capture, judgement, { from: 12.34, to: 12.35 });
    expect([data.from, data.to]).toEqual([12.34, 12.35]);
    const [piece] = data.channels[0]!.pieces;
    expect(piece!.time.length).toBeGreaterThanOrEqual(11);
    expect(piece!.time.length).toBeLessThanOrEqual(13);
    expect(extent(data)[1]).toBe(20);
    // Where the highest value is not in sight it is not marked.
    expect(captureData(capture, judgement, { from: 1, to: 2 }).channels[0]!.highest).toBeNull();
    // Beyond the recording there is nothing: all of it.
    expect(captureData(capture, judgement, { from: 90, to: 99 }).to).toBe(capture.time.at(-1));
  });

  test.each([{}, { width: 360 }, { scheme: "dark" as const }])(
    "is drawn with limits and its highest value: %j",
    (options) => {
      const svg = captureFigure(captureData(capture, judgement), { document, ...options });
      const texts = [...svg.querySelectorAll("text")].map(({ textContent }) => textContent);
      expect(texts).toEqual(expect.arrayContaining(["radio, V", "Time as recorded"]));
      expect(texts.join(" ")).toMatch(/at least 20\.0\d* V ± 0\.0\d+ V/);
      expect(svg.querySelectorAll('[stroke-dasharray="5 3"]')).toHaveLength(2);
      expect(svg.querySelector("desc")?.textContent).toMatch(/radio: from 3 to 20 V/);
    },
  );

  test.each([230, 390, 620, 960])("has all words above its curves and levels, none over another: %d px", (width) => {
    const svg = captureFigure(captureData(capture, judgement), { document, width });
    const boxes = textBoxes(svg);
    expect(overlaps(boxes)).toEqual([]);
    for (const box of boxes) expect(box.right, box.text).toBeLessThanOrEqual(width);
    const [, top] = /^M[\d.]+,([\d.]+)V/.exec(svg.querySelector(".panel path")?.getAttribute("d") ?? "") ?? [];
    const [peak] = boxes.filter(({ text }) => text.startsWith("at least 20"));
    expect(peak!.bottom).toBeLessThan(Number(top));
  });

  test("says of a stretch in which nothing was recorded that it was not, and names no values", () => {
    const svg = captureFigure(captureData(capture, judgement, { from: 20.2, to: 20.8 }), { document });
    expect(svg.querySelector("desc")?.textContent).toMatch(/ms\. radio: nothing was recorded here\.$/);
    expect(svg.querySelectorAll("circle")).toHaveLength(0);
  });

  test("refuses what cannot be drawn", () => {
    const data = captureData(capture, judgement);
    expect(() => captureFigure({ ...data, channels: [] }, { document })).toThrow("there is no channel");
    expect(() => captureFigure({ ...data, from: 2, to: 2 }, { document })).toThrow("the axis goes from 2 s to 2 s");
  });
});

describe("a capture of a voltage and a current", () => {
  const rows = Array.from({ length: 200 }, (_, k) => {
    const rise = 0.01 * (((k * 7919) % 13) - 6);
    return `${1e6 + k / 100},${(13.8 + rise).toFixed(3)},${(2 + rise).toFixed(3)}`;
  });
  const { capture, judgement } = taken(`time (s),radio (V),battery (A)\n${rows.join("\n")}\n`);
  const drawn = (width: number) => captureFigure(captureData(capture, judgement), { document, width });
  const texts = (svg: SVGSVGElement): string =>
    [...svg.querySelectorAll("text")].map((each) => each.textContent).join("\n");

  test("tells where on the clock its axis begins, and draws the current in another colour", () => {
    const svg = drawn(960);
    // A million seconds are 277 h 47 min.
    expect(texts(svg)).toContain("Time from 277.7778 h on");
    const colors = [...svg.querySelectorAll(".panel")].map((panel) =>
      panel.querySelector(".curve")?.getAttribute("stroke"),
    );
    expect(new Set(colors)).toHaveProperty("size", 2);
  });

  test("holds the current against no limit, and tells no limits where there is no room for their words", () => {
    expect(texts(drawn(960)).match(/limit \d+\.\d V, lower limit/g)).toHaveLength(1);
    expect(texts(drawn(230))).not.toContain("lower limit");
  });
});

test("the headline tells the limit that fares worst, else the peak", () => {
  const { capture, judgement } = taken(spiky());
  expect(captureHeadline(judgement)).toMatch(
    /^The peak voltage of "radio", at least 20\.0\d* V ± 0\.0\d+ V, passes the limit of 15\.9 V/,
  );
  const free = judgeCapture(capture, { low: null, high: null });
  expect(captureHeadline(free)).toMatch(/^The peak of "radio" is at least 20\.0\d* V ± 0\.0\d+ V/);
});

describe("a capture laid on a run as it stands", () => {
  const scenario = (name: string): string => readFileSync(join(root, `packages/sim/scenarios/${name}.yaml`), "utf8");
  const name = "hiccup-supply-synthetic-comma.csv";
  const { capture, judgement } = taken(readFileSync(join(root, "packages/sim/captures", name), "utf8"), name);

  test("of its own line: nothing is left but noise, edge by edge, in one simulation; it is called synthetic", async () => {
    const laid = await layCapture(scenario("02-hiccup-supply"), "hut.yaml", capture, { channels: [] });
    if (laid.kind === "refused") throw new Error("refused");
    expect(laid.misfits).toEqual([]);
    expect(laid.values).toEqual([]);
    expect(laid.scenario).toBeNull();
    expect(laid.simulations).toBe(1);
    expect(laid.events.length).toBeGreaterThan(6);
    for (const { difference } of laid.events) expect(Math.abs(difference ?? 1)).toBeLessThan(1e-3);
    expect(captureData(capture, judgement).title).toBe(`Synthetic capture: ${name}`);
  });

  test("of another: told, or refused with what is allowed", async () => {
    const off = scenario("02-hiccup-supply").replace("trip voltage: 15.0 V", "trip voltage: 14.2 V");
    const laid = await layCapture(off, "hut.yaml", capture, { channels: [] });
    expect(laid.kind === "fitted" && laid.misfits.length).toBeGreaterThan(0);
    const wrong = await layCapture(scenario("02-hiccup-supply"), "hut.yaml", capture, {
      channels: ["radio = nothing_V"],
    });
    expect(wrong.kind === "refused" && wrong.issues.map(({ code }) => code)).toEqual(["no-such-column"]);
  });
});

test.each([1, 2, 3, 6])("a slide keeps its height with %i channels, and names what finds no room", (count) => {
  const piece = { time: Float64Array.from([0, 1, 2]), values: Float64Array.from([1, 3, 2]) };
  const channels = Array.from({ length: count }, (_, k) => ({
    label: `channel ${k + 1}`,
    unit: "V",
    pieces: [piece],
    levels: [],
    highest: null,
    rank: k,
  })) as CaptureFigureData["channels"];
  const svg = captureFigure(
    { title: "A capture", subtitle: "", facts: "", channels, from: 0, to: 2 },
    { document, size: "slide" },
  );
  expect(svg.getAttribute("viewBox")).toBe("0 0 960 540");
  for (const { label } of channels) expect(svg.textContent).toContain(label);
  expect((svg.textContent ?? "").includes("No room here for: ")).toBe(count > 4);
  expect(overlaps(textBoxes(svg))).toEqual([]);
});

describe("a slide without room for all channels", () => {
  /** Six voltages in service; the last ones rise to 17.7 V for a moment. */
  const slideOf = (rising: number) => {
    const names = ["supply", "line", "battery", "fridge", "aux", "radio"];
    const rows = Array.from({ length: 300 }, (_, k) => {
      const values = names.map((_, c) => {
        const level = k > 100 && k < 130 && c >= names.length - rising ? 17.7 - c / 50 : 13 + c / 8;
        return (level + 0.02 * Math.sin(k * (c + 1))).toFixed(3);
      });
      return `${(k * 1e-4).toFixed(4)},${values.join(",")}`;
    });
    const { capture, judgement } = taken(`t (s),${names.map((name) => `${name} (V)`).join(",")}\n${rows.join("\n")}\n`);
    const svg = captureFigure(captureData(capture, judgement), { document, size: "slide" });
    const texts = [...svg.querySelectorAll("text")].map(({ textContent }) => textContent ?? "");
    return { headline: captureHeadline(judgement), texts };
  };

  test.each([
    [1, '"radio"', "battery fridge aux radio", "supply, line"],
    [2, '"aux"', "battery fridge aux radio", "supply, line"],
    [5, '"line"', "line battery fridge aux", "supply, radio"],
  ])("keeps what the headline names and what passes the limit, in its order: %i of six", (rising, named, kept, out) => {
    const { headline, texts } = slideOf(rising);
    expect(headline).toContain(`${named}, 17.`);
    const shown = texts.filter((text) => text.endsWith(", V")).map((text) => text.replace(", V", ""));
    expect(shown.join(" ")).toBe(kept);
    expect(texts).toContain(`No room here for: ${out}`);
  });

  test("has two numbers at each scale at least", () => {
    for (let low = -20; low < 20; low += 1.7)
      for (const span of [0.013, 0.5, 1.1, 3.3, 7, 24, 160]) {
        const piece = { time: Float64Array.from([0, 1]), values: Float64Array.from([low, low + span]) };
        const channel = { unit: "V", pieces: [piece], levels: [], highest: null, rank: 0 } as const;
        const channels = ["a", "b", "c", "d"].map((label) => ({ ...channel, label }));
        const data = { title: "A capture", subtitle: "", facts: "", channels, from: 0, to: 1 };
        const svg = captureFigure(data, { document, size: "slide" });
        for (const panel of svg.querySelectorAll(".panel")) {
          const labels = [...panel.querySelectorAll("text")].filter(({ textContent }) =>
            /^[−-]?[\d.]+$/.test(textContent ?? ""),
          );
          expect(labels.length, `${low} V and ${span} V more`).toBeGreaterThan(1);
        }
        expect(overlaps(textBoxes(svg)), `${low} V and ${span} V more`).toEqual([]);
      }
  });
});
