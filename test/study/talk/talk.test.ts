import { createHash } from "node:crypto";
import { readdirSync, readFileSync } from "node:fs";
import { runScenario, type Slide, zipFiles } from "@railfault/sim";
import { figureData, proposeTalk, slideFigure, type TalkPart, talkHtml, talkPictures } from "@railfault/sim/figures";
import { unzipSync } from "fflate";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { TALK_SCRIPT, TALK_SCRIPT_HASH } from "../../../packages/sim/src/study/talk/talk-script.ts";
import { shipped } from "../../cli/launch.ts";
import { overlaps, textBoxes } from "../../figures/text-boxes.ts";

const { document } = new JSDOM("").window;

function partOf(name: string, change = (text: string) => text): TalkPart {
  const answered = runScenario(change(readFileSync(shipped(name), "utf8")), name);
  if (answered.kind === "refused") throw new Error(`${name} was refused`);
  return { file: name, answered };
}

/** Type of 24 pixels and more, nothing over another, nothing cut off. */
function problems(svg: SVGSVGElement): string[] {
  // Figures inside a figure begin at their own corner.
  const boxes = textBoxes(svg).map((box, i) => {
    const inner = svg.querySelectorAll("text")[i].closest("svg");
    const [x, y] = inner === svg ? [0, 0] : ["x", "y"].map((name) => Number(inner?.getAttribute(name)));
    return { ...box, left: box.left + x, right: box.right + x, top: box.top + y, bottom: box.bottom + y };
  });
  return [
    ...overlaps(boxes),
    ...boxes.filter(({ size }) => 2 * size < 24).map(({ text }) => `"${text}" is too small`),
    ...boxes
      .filter(({ left, right, top, bottom }) => left < 0 || right > 960 || top < 0 || bottom > 540)
      .map(({ text }) => `"${text}" is cut off`),
  ];
}

test("each step's own event is marked, whatever else finds no room", () => {
  let steps = 0;
  for (const name of readdirSync(shipped("")).filter((each) => each.endsWith(".yaml"))) {
    const part = partOf(name);
    for (const slide of proposeTalk([part])) {
      const { shows } = slide;
      if (shows.kind !== "step") continue;
      const own = figureData(part.answered.run, part.answered.verdict).events.flatMap(({ time }, index) =>
        time === shows.event ? [index] : [],
      );
      const svg = slideFigure([part], slide, { document, size: "slide" });
      const marked = [...svg.querySelectorAll("[data-event]")].flatMap((each) =>
        (each.getAttribute("data-event") ?? "").split(" ").map(Number),
      );
      steps++;
      expect(own.length, `${name}: ${slide.headline}`).toBeGreaterThan(0);
      expect(
        own.some((index) => marked.includes(index)),
        `${name}: ${slide.headline}`,
      ).toBe(true);
    }
  }
  expect(steps).toBeGreaterThan(60);
});

describe("a talk of the shipped station", () => {
  const parts = [partOf("01-shorted-pass-transistor.yaml")];
  const slides = proposeTalk(parts);

  test("goes from the question through the fault to what to do next", () => {
    expect(slides.map(({ shows }) => (shows.kind === "figure" ? shows.name : shows.kind))).toEqual([
      "line",
      "step",
      "step",
      "step",
      "fault",
      "headroom",
      "words",
    ]);
    expect(slides[2].headline).toBe("The crowbar fires, 23.7 µs after the fault");
    expect(slides[3].sentence).toMatch(/Then the main fuse is open, and the crowbar stops conducting\.$/);
    expect(slides.every(({ sentence }) => sentence.length > 10)).toBe(true);
  });

  test("has a picture that grows from microseconds on", () => {
    const ranges = slides.flatMap(({ shows }) => (shows.kind === "step" ? [shows.range] : []));
    const spans = ranges.map(([from, to]) => to - from);
    expect(spans[0]).toBeLessThan(50e-6);
    for (const [i, span] of spans.entries()) if (i > 0) expect(span).toBeGreaterThan(spans[i - 1]);
    expect(spans[spans.length - 1]).toBeGreaterThan(0.1);
  });

  test("steps with the state of each device", () => {
    const words = (slide: Slide) =>
      slideFigure(parts, slide, { document, size: "slide" }).querySelector(".line")?.textContent ?? "";
    expect(words(slides[1])).toMatch(/transistor shorted.*intact.*blocking/);
    expect(words(slides[2])).toMatch(/conducting/);
    expect(words(slides[3])).toMatch(/open.*blocking/);
  });

  test("draws slides in any order, written anew, on a phone too", () => {
    const own: Slide = { ...slides[4], headline: "Mine", sentence: "Said by me." };
    const drawn = slideFigure(parts, own, { document, size: "slide" });
    expect(drawn.textContent).toContain("Mine");
    expect(drawn.getAttribute("width")).toBe("1920");
    expect(slideFigure(parts, slides[2], { document, size: "phone" }).getAttribute("width")).toBe("390");
  });

  test("is one page with its own policy, that fetches nothing and keeps hostile names as text", () => {
    const hostile = partOf("01-shorted-pass-transistor.yaml", (text) =>
      text
        .replaceAll("relay radio", "<script>alert(1)</script>")
        .replace(/^title: .*$/m, "title: </title><script>x</script>"),
    );
    const html = talkHtml([hostile], proposeTalk([hostile]), { document });
    const page = new JSDOM(html).window.document;
    expect(page.querySelectorAll("script")).toHaveLength(1);
    expect(page.querySelector("title")?.textContent).toContain("</title>");
    const policy = page.querySelector("meta[http-equiv]")?.getAttribute("content") ?? "";
    const hash = createHash("sha256")
      .update(page.querySelector("script")?.textContent ?? "")
      .digest("base64");
    expect(policy).toContain(`script-src 'sha256-${hash}'`);
    expect(policy).toContain("default-src 'none'");
    expect(html.replaceAll("http://www.w3.org/", "")).not.toMatch(/https?:|\bsrc=|\bhref=/);
    expect(page.querySelectorAll(".slide").length).toBe(proposeTalk([hostile]).length + 1);
    expect(page.querySelector(".slide:last-child")?.textContent).toContain("Hundreds of amperes");
  });

  test("counts the slides that the command lists and the page shows; the cautions are named instead", () => {
    const listed = proposeTalk(parts);
    const pictures = listed.map(() => ({ name: "", svg: "<svg></svg>" }));
    const html = talkHtml(parts, listed, { document, pictures });
    const { window } = new JSDOM(html, { runScripts: "dangerously", url: "http://localhost/talk.html" });
    const said = (): string | null | undefined => window.document.querySelector("output")?.textContent;
    const press = (key: string) => window.dispatchEvent(new window.KeyboardEvent("keydown", { key }));
    expect(said()).toBe(`1 of ${listed.length}`);
    press("End");
    expect(said()).toBe("Cautions");
    press("ArrowLeft");
    expect(said()).toBe(`${listed.length} of ${listed.length}`);
  });

  test("names its script's hash", () => {
    expect(TALK_SCRIPT_HASH).toBe(`sha256-${createHash("sha256").update(TALK_SCRIPT).digest("base64")}`);
  });

  test("refuses what does not exist, and says what does", () => {
    const draw = (slide: Partial<Slide>) => () => slideFigure(parts, { ...slides[0], ...slide }, { document });
    expect(draw({ part: 3 })).toThrow("there are 1, counted from 0");
    expect(draw({ shows: { kind: "figure", name: "nonsense" } })).toThrow(/known are fault, currents/);
    expect(draw({ shows: { kind: "line", time: -5 } })).toThrow(/allowed: from 0/);
    expect(() => talkHtml(parts, [], { document })).toThrow("received none");
  });
});

describe.each(readdirSync(shipped("")).filter((name) => name.endsWith(".yaml")))("every slide of %s", (name) => {
  const parts = [partOf(name)];

  test("can be read from the back of the room, nothing over another", () => {
    for (const slide of proposeTalk(parts)) {
      const svg = slideFigure(parts, slide, { document, size: "slide", scheme: "dark" });
      expect([svg.getAttribute("width"), svg.getAttribute("height")]).toEqual(["1920", "1080"]);
      if (slide.shows.kind !== "figure") expect(problems(svg), slide.headline).toEqual([]);
    }
  });
});

describe("an archive of the pictures", () => {
  test("holds each under a name of its own, the same bytes each time", () => {
    const parts = [partOf("01-shorted-pass-transistor.yaml")];
    const pictures = talkPictures(parts, proposeTalk(parts), { document });
    const entries = pictures.map(({ name, svg }) => ({ name: `${name}.svg`, content: svg }));
    const zip = zipFiles(entries);
    expect(Object.keys(unzipSync(zip))).toEqual(entries.map(({ name }) => name));
    expect(zipFiles(entries)).toEqual(zip);
    expect(new TextDecoder().decode(unzipSync(zip)[entries[0].name])).toBe(entries[0].content);
  });

  test("refuses names that stand twice or leave it", () => {
    const content = "";
    expect(() =>
      zipFiles([
        { name: "a", content },
        { name: "a", content },
      ]),
    ).toThrow('"a"');
    expect(() => zipFiles([{ name: "../a", content }])).toThrow(RangeError);
  });
});
