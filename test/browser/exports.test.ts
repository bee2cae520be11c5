import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { withoutBrowser } from "../support/browser.ts";
import { openDesk } from "./support/desk.ts";
import { handedOut, saveAs } from "./support/files.ts";

const XMLNS = "http://www.w3.org/2000/svg";
/** Smallest type that is read from the back of a room, pixels of a slide. */
const READABLE = 24;

/** Width and height as a PNG file's header says. */
function sizeOfPng(bytes: Buffer): readonly [number, number] {
  expect(bytes.subarray(0, 8).toString("hex")).toBe("89504e470d0a1a0a");
  return [bytes.readUInt32BE(16), bytes.readUInt32BE(20)];
}

describe.skipIf(withoutBrowser())("pictures and data for elsewhere", () => {
  const desk = openDesk();
  const open = async () => {
    const visit = await desk.visit("regulator-fails.html");
    const figure = visit.page.getByRole("figure", { name: "What the radio saw", exact: true });
    const out = (entry: RegExp) => handedOut(visit.page, () => saveAs(figure, entry));
    return { ...visit, figure, out };
  };

  test("an SVG stands for itself: name space, title, ground, nothing from elsewhere", async () => {
    const { out, wrong } = await open();
    const { name, bytes } = await out(/^SVG/);
    expect(name).toBe("shorted-pass-transistor.svg");
    const { window } = new JSDOM(bytes.toString("utf8"), { contentType: "image/svg+xml" });
    const root = window.document.documentElement;
    expect([root.tagName, root.namespaceURI]).toEqual(["svg", XMLNS]);
    expect(bytes.toString("utf8")).toContain(`xmlns="${XMLNS}"`);
    expect(root.querySelector("title")?.textContent).toBe("Shorted pass transistor");
    expect(root.querySelector("desc")?.textContent).toMatch(/relay radio/);
    const ground = root.querySelector("rect.ground");
    expect([ground?.getAttribute("width"), ground?.getAttribute("height")]).toEqual([
      root.getAttribute("width"),
      root.getAttribute("height"),
    ]);
    expect(ground?.getAttribute("fill")).toMatch(/^#/);
    expect(root.querySelectorAll("path").length).toBeGreaterThan(3);
    expect(root.querySelectorAll("script, image, foreignObject, [*|href^=http]").length).toBe(0);
    expect(wrong()).toEqual([]);
  });

  test("PNGs have the size that their entry says; a slide's type is read from the back of a room", async () => {
    const { out, figure, wrong } = await open();
    const [wide, high] = sizeOfPng((await out(/^PNG\s*960/)).bytes);
    expect(wide).toBe(960);
    expect(sizeOfPng((await out(/^PNG, twice/)).bytes)).toEqual([2 * wide, 2 * high]);
    const slide = await out(/^Slide, PNG/);
    expect(slide.name).toBe("shorted-pass-transistor-slide.png");
    expect(sizeOfPng(slide.bytes)).toEqual([1920, 1080]);
    expect(slide.bytes.length).toBeGreaterThan(20_000);
    const { window } = new JSDOM((await out(/^Slide, SVG/)).bytes.toString("utf8"), { contentType: "image/svg+xml" });
    const root = window.document.documentElement;
    expect([root.getAttribute("width"), root.getAttribute("height")]).toEqual(["1920", "1080"]);
    const [, , across] = (root.getAttribute("viewBox") ?? "").split(" ").map(Number);
    const sizes = [...root.querySelectorAll("text")].map(
      (text) => (Number(text.getAttribute("font-size")) * 1920) / across,
    );
    expect(sizes.length).toBeGreaterThan(10);
    expect(Math.min(...sizes)).toBeGreaterThanOrEqual(READABLE);
    await figure.getByRole("radio", { name: "as on this page" }).check();
    expect(wrong()).toEqual([]);
  });

  test("the data come as CSV with a unit in each column's name", async () => {
    const { out, wrong } = await open();
    const { name, bytes } = await out(/^Data as CSV/);
    expect(name).toBe("shorted-pass-transistor.csv");
    const [head, ...rows] = bytes
      .toString("utf8")
      .trimEnd()
      .split(/\r?\n/)
      .map((row) => row.split(","));
    expect(head[0]).toMatch(/^time\w*_s$/);
    for (const column of head) expect(column).toMatch(/_(?:s|V|A|C|degC|J|W|1|state|ohm)$|^[a-z ]+$/);
    expect(head.some((column) => column.endsWith("_V")) && head.some((column) => column.endsWith("_A"))).toBe(true);
    expect(rows.length).toBeGreaterThan(200);
    expect(rows.every((row) => row.length === head.length)).toBe(true);
    const times = rows.map(([time]) => Number(time));
    expect(times.every((time, i) => Number.isFinite(time) && (i === 0 || time >= times[i - 1]))).toBe(true);
    expect(times.at(-1)! - times[0]).toBeCloseTo(0.6, 2);
    expect(wrong()).toEqual([]);
  });
});
