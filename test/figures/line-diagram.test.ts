import { readdirSync, readFileSync } from "node:fs";
import { join } from "node:path";
import { runScenario } from "@railfault/sim";
import { type LineDiagramData, lineDiagram, lineDiagramData } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { shipped } from "../cli/launch.ts";
import { overlaps, type TextBox, textBoxes } from "./text-boxes.ts";

const { document } = new JSDOM("").window;
const sizes = ["page", "slide", "phone"] as const;
const names = readdirSync(shipped(""))
  .filter((name) => name.endsWith(".yaml"))
  .sort();

/** Texts over each other, beyond the edge, too small, or under a wire. */
function problems(svg: SVGSVGElement): string[] {
  const boxes = textBoxes(svg);
  const [, , width, height] = (svg.getAttribute("viewBox") ?? "").split(" ").map(Number);
  const outside = boxes.filter(
    ({ left, right, top, bottom }) => left < 0 || right > width || top < 0 || bottom > height,
  );
  return [
    ...overlaps(boxes),
    ...outside.map(({ text }) => `"${text}" is cut off`),
    ...boxes.filter(({ size }) => size < 12).map(({ text }) => `"${text}" is too small`),
    ...boxes.filter(({ text }) => text.includes("…")).map(({ text }) => `"${text}" is shortened`),
    ...wiresOver(svg, boxes),
  ];
}

function wiresOver(svg: SVGSVGElement, boxes: readonly TextBox[]): string[] {
  return [...svg.querySelectorAll(".wire")].flatMap((wire) => {
    const [[x1, y1], [x2, y2]] = (wire.getAttribute("d") ?? "")
      .slice(1)
      .split("L")
      .map((pair) => pair.split(",").map(Number));
    const [left, right, top, bottom] = [Math.min(x1, x2), Math.max(x1, x2), Math.min(y1, y2), Math.max(y1, y2)];
    return boxes
      .filter((box) => box.left < right + 1 && box.right > left - 1 && box.top < bottom + 1 && box.bottom > top - 1)
      .map(({ text }) => `a wire runs through "${text}"`);
  });
}

describe.each(names)("the line of %s", (name) => {
  const result = runScenario(readFileSync(shipped(name), "utf8"), name);
  if (result.kind === "refused") throw new Error(`${name} was refused`);
  const { parsed, run } = result;
  const ends = [undefined, run.trace.time[0], run.trace.time.at(-1)];

  it("has room for every word in every size, before, during and without a run", () => {
    for (const time of ends) {
      const data = lineDiagramData(parsed, time === undefined ? {} : { run, time });
      for (const size of sizes)
        expect(problems(lineDiagram(data, { document, size })), `${size} at ${time}`).toEqual([]);
    }
  });

  it("shows every part, and on a slide leaves none out", () => {
    const data = lineDiagramData(parsed, { run });
    const words = textBoxes(lineDiagram(data, { document, size: "slide" })).map(({ text }) =>
      text.replaceAll("\u00a0", " "),
    );
    const { sources, loads, mainFuse, crowbar, clamp, seriesSwitch } = run.scenario;
    for (const { name: part } of [...sources, ...loads]) expect(words.join(" ")).toContain(part);
    if (mainFuse) expect(words).toContain("main fuse");
    if (crowbar) expect(words).toContain("SCR");
    if (clamp) expect(words).toContain("clamp");
    if (seriesSwitch) expect(words).toContain("series switch");
    expect(words.join(" ")).not.toContain("Not drawn");
  });
});

describe("the states of a line", () => {
  const name = "01-shorted-pass-transistor.yaml";
  const result = runScenario(readFileSync(shipped(name), "utf8"), name);
  if (result.kind === "refused") throw new Error("refused");
  const { parsed, run } = result;
  const at = (kind: string, part: string): number =>
    run.events.find((event) => event.kind === kind && event.subject.part === part)?.time ?? Number.NaN;
  const tags = (time: number): string[] => {
    const { sources, mainFuse, across } = lineDiagramData(parsed, { run, time });
    return [sources[0].part, mainFuse, ...across].map((part) => part?.state?.text ?? "");
  };

  it("follow the step, each from the instant on at which it begins", () => {
    expect(tags(0)).toEqual(["running", "intact", "blocking"]);
    expect(tags(at("fires", "crowbar"))[2]).toBe("conducting");
    expect(tags(at("fires", "crowbar") - 1e-9)[2]).toBe("blocking");
    expect(tags(at("open", "main fuse"))[1]).toBe("open");
  });

  it("refuse a time outside the run", () => {
    expect(() => lineDiagramData(parsed, { run, time: -1 })).toThrow(/allowed: from 0/);
    expect(() => lineDiagramData(parsed, { run, time: 1e9 })).toThrow(RangeError);
  });

  it("make a fuse and a switch look open", () => {
    const wire = (time: number): string =>
      lineDiagram(lineDiagramData(parsed, { run, time }), { document })
        .querySelector(".symbol.fuse path")
        ?.getAttribute("d") ?? "";
    expect(wire(0)).not.toBe(wire(run.trace.time.at(-1) ?? 0));
  });

  it("stand in the alternative text, and hostile names stay text", () => {
    const data = lineDiagramData(parsed, { run, title: "<script>alert(1)</script>" });
    const svg = lineDiagram(data, { document });
    expect(svg.querySelector("script")).toBeNull();
    expect(svg.querySelector("title")?.textContent).toContain("<script>");
    expect(svg.querySelector("desc")?.textContent).toMatch(/Across the line: SCR, trips at 15.0 V, .*blocking/);
  });
});

describe("a line with everything", () => {
  const base = (): LineDiagramData => {
    const files = [
      "14-crowbar-with-disconnect.yaml",
      "24-isolated-sources.yaml",
      "10-clamp-only.yaml",
      "17-two-radios.yaml",
    ];
    const [latched, isolated, clamped, radios] = files.map((name) => {
      const found = runScenario(readFileSync(join(shipped(name)), "utf8"), name);
      if (found.kind === "refused") throw new Error("refused");
      return lineDiagramData(found.parsed, { run: found.run });
    });
    return {
      ...latched,
      sources: [...isolated.sources, ...clamped.sources],
      across: [...latched.across, ...clamped.across],
      loads: [...radios.loads, ...clamped.loads],
    };
  };

  it("finds room in every size", () => {
    for (const size of sizes) {
      const found = problems(lineDiagram(base(), { document, size }));
      // On a slide what a class is called may end early: its name and state stand there whole.
      expect(size === "slide" ? found.filter((each) => !each.endsWith("shortened")) : found, size).toEqual([]);
    }
  });

  it("names what a slide cannot hold", () => {
    const data = base();
    const many = { ...data, sources: Array.from({ length: 12 }, () => data.sources[0]) };
    const svg = lineDiagram(many, { document, size: "slide" });
    expect(svg.getAttribute("height")).toBe("1080");
    expect(svg.textContent).toContain("Not drawn for want of room: station supply");
    expect(problems(svg).filter((each) => !each.includes("shortened"))).toEqual([]);
  });

  it("refuses a line without a load", () => {
    expect(() => lineDiagram({ ...base(), loads: [] }, { document })).toThrow(/received 3 and 0/);
  });
});
