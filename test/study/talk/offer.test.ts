import { readdirSync, readFileSync } from "node:fs";
import { benchCard, renderCard, runScenario } from "@railfault/sim";
import { figures, lineDiagramData, offeredSlides, proposeTalk, slideFigure, talkHtml } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { shipped } from "../../cli/launch.ts";

const { document } = new JSDOM("").window;

function partOf(name: string) {
  const answered = runScenario(readFileSync(shipped(name), "utf8"), name);
  if (answered.kind === "refused") throw new Error(`${name} was refused`);
  return { file: name, answered };
}

describe("the slides that a scenario offers", () => {
  const part = partOf("01-shorted-pass-transistor.yaml");
  const offered = offeredSlides(part.answered, 0);

  test("are the proposed ones in their order, the line at the end and every other figure", () => {
    expect(offered.filter(({ usual }) => usual).map(({ slide }) => slide)).toEqual(proposeTalk([part]));
    const others = offered.filter(({ usual }) => !usual).map(({ id }) => id);
    const figureNames = figures
      .map(({ name }) => name as string)
      .filter((name) => !["fault", "headroom"].includes(name));
    expect(others).toEqual(["end", ...figureNames]);
  });

  test("have names of their own, a headline and a sentence that tells of the figure", () => {
    const ids = offered.map(({ id }) => id);
    expect(new Set(ids).size).toBe(ids.length);
    const sentence = (name: string) => offered.find(({ id }) => id === name)?.slide.sentence;
    expect(sentence("time-current")).toMatch(/fuse/);
    expect(sentence("surge")).toMatch(/crowbar|SCR/);
    expect(sentence("heat")).toMatch(/°C/);
    expect(sentence("withstand")).toContain("relay radio");
    for (const { slide } of offered) expect([slide.headline, slide.sentence].every((text) => text !== "")).toBe(true);
  });

  test("are drawn, each with its headline", () => {
    for (const { slide } of offered.filter(({ usual }) => !usual)) {
      const svg = slideFigure([part], slide, { document, size: "slide" });
      expect(svg.querySelector("title")?.textContent).toBe(slide.headline);
    }
  });
});

test.each(readdirSync(shipped("")).filter((name) => name.endsWith(".yaml")))("%s offers only what it has", (name) => {
  const { answered } = partOf(name);
  for (const { id, slide } of offeredSlides(answered, 0)) {
    expect(slide.sentence, id).not.toBe("");
    expect(slide.sentence, id).not.toMatch(/NaN|undefined|Infinity/);
  }
});

test("a talk takes pictures that are drawn already, one for each slide and no other number", () => {
  const part = partOf("04-foldback.yaml");
  const slides = proposeTalk([part]).slice(0, 2);
  const pictures = slides.map((_, i) => ({ name: `${i}`, svg: `<svg id="own-${i}"/>` }));
  expect(talkHtml([part], slides, { document, pictures })).toContain('<svg id="own-1"/>');
  expect(() => talkHtml([part], slides, { document, pictures: pictures.slice(1) })).toThrow(
    /received 2 slides and 1 pictures/,
  );
});

test("a battery that is charged shows no minus that would be read as a mistake", () => {
  const { answered } = partOf("09-panel-and-battery.yaml");
  const { parsed, run } = answered;
  const data = lineDiagramData(parsed, { run, time: run.trace.time[run.trace.time.length - 1] });
  const battery = data.sources.find(({ part }) => part.kind === "battery");
  expect(battery?.part.reading).toMatch(/^17\.\d V, 5\.\d\d A into it$/);
});

test("a card sets the source in amperes and volts, as its meters show them, and says what decides", () => {
  const found = benchCard(readFileSync(shipped("01-shorted-pass-transistor.yaml"), "utf8"), "x.yaml");
  if (found.kind === "refused") throw new Error("refused");
  const text = renderCard(found.card, { width: 400 });
  expect(text).toContain("current limit 0.60 A, turned up by 0.10 V a second");
  expect(text).toContain("0.60 A is half as much again as the dummy load draws, and with that at least three times");
  expect(text).not.toMatch(/\d mA\b(?! \()/);
});

test("what follows within milliseconds on an event after hours has a picture of its own, that begins there", () => {
  const { answered } = partOf("08-charger-creep.yaml");
  const steps = offeredSlides(answered, 0).filter(({ id }) => id.startsWith("step-"));
  const [, fires, melts] = steps.map(({ slide }) => slide);
  expect(fires.headline).toBe("The crowbar fires, 2 h 12 min after the fault");
  expect(melts.headline).toMatch(/^The in-line fuse of the hut battery melts, \d+(?:\.\d+)? ms later$/);
  if (fires.shows.kind !== "step" || melts.shows.kind !== "step") throw new Error("no steps");
  const { event, range } = melts.shows;
  const fired = fires.shows.event;
  expect(fires.shows.range[1] - fires.shows.range[0]).toBeGreaterThan(3600);
  expect(range[0]).toBeLessThan(fired);
  expect(range[1]).toBeGreaterThan(event);
  expect(range[1] - range[0]).toBeLessThan(3 * (event - fired));
});
