import { readdirSync, readFileSync } from "node:fs";
import { CAUTIONS, type Handout, handout, resetSheet, runScenario, type Slide } from "@railfault/sim";
import {
  cautionSlide,
  faultFigure,
  figureData,
  handoutHtml,
  offeredSlides,
  proposeTalk,
  slideFigure,
  slideName,
  talkPictures,
} from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { shipped } from "../../cli/launch.ts";

const { document } = new JSDOM("").window;
const all = readdirSync(shipped("")).filter((name) => name.endsWith(".yaml"));

function partOf(name: string) {
  const answered = runScenario(readFileSync(shipped(name), "utf8"), name);
  if (answered.kind === "refused") throw new Error(`${name} was refused`);
  return { file: name, answered };
}

const slideOf = (name: string, id: string): Slide => {
  const found = offeredSlides(partOf(name).answered, 0).find((each) => each.id === id);
  if (found === undefined) throw new Error(`${name} has no slide ${id}`);
  return found.slide;
};

const written = (svg: Element): string => [...svg.querySelectorAll("text")].map((each) => each.textContent).join(" ");

describe("how it came out", () => {
  test("tells of a wire that burns beside a radio that is safe", () => {
    const { answered } = partOf("16-fuse-on-wrong-side.yaml");
    for (const said of [slideOf("16-fuse-on-wrong-side.yaml", "fault").sentence, handout(answered).headline])
      expect(said).toMatch(/within its limit.* But the copper of the lead of the hut battery reached .*Fire hazard\./);
  });

  test("answers who ends it, where the question of the talk is that", () => {
    const { answered } = partOf("02-hiccup-supply.yaml");
    expect(answered.parsed.about.question).toMatch(/^Who ends it/);
    expect(slideOf("02-hiccup-supply.yaml", "fault").sentence).toMatch(
      /The crowbar still trips every 317 ms when the run ends, and nothing in the line ends that\.$/,
    );
  });

  test("asks which limit was passed where one was", () => {
    expect(slideOf("01-shorted-pass-transistor.yaml", "headroom").headline).toBe("Which limit came nearest?");
    const { headline, sentence } = slideOf("16-fuse-on-wrong-side.yaml", "headroom");
    expect(headline).toBe("Which limits were passed?");
    expect(sentence).toMatch(/^\d limits; farthest past its own: /);
  });
});

describe("states and readings beside a step", () => {
  test("are of one instant, which is told: an SCR that conducts carries a current", () => {
    const part = partOf("01-shorted-pass-transistor.yaml");
    const svg = slideFigure([part], slideOf(part.file, "step-2"), { document, size: "slide" });
    expect(written(svg)).toMatch(/The line \d+(?:\.\d+)? µs later/);
    const line = svg.querySelector(".line")?.textContent ?? "";
    const [, amperes = "0"] = /([\d.]+)\u00a0?\s?A\s*conducting/.exec(line) ?? [];
    expect(Number(amperes)).toBeGreaterThan(10);
  });

  test.each(all)("lie in the picture and before anything else happens: %s", (name) => {
    const { answered } = partOf(name);
    const times = answered.run.events.map(({ time }) => time);
    let steps = 0;
    for (const { slide } of offeredSlides(answered, 0)) {
      if (slide.shows.kind !== "step") continue;
      const { event, time, range } = slide.shows;
      steps += 1;
      expect(time).toBeGreaterThanOrEqual(event);
      expect(time).toBeLessThanOrEqual(Math.max(range[1], event));
      expect(answered.run.trace.time).toContain(time);
      expect(times).toContain(event);
    }
    expect(steps).toBeGreaterThan(0);
  });
});

test("what comes late is told by the time since the step before it", () => {
  const { answered } = partOf("21-drop-out-reset-by-hand.yaml");
  const late = offeredSlides(answered, 0).flatMap(({ slide: { shows, headline } }) => {
    const [, seconds] = /, ([\d.]+) s later$/.exec(headline) ?? [];
    return shows.kind === "step" ? [{ event: shows.event, seconds }] : [];
  });
  const told = late.flatMap(({ event, seconds }, i) =>
    seconds === undefined ? [] : [[Number(seconds), event - late[i - 1].event] as const],
  );
  expect(told.length).toBeGreaterThan(1);
  for (const [seconds, since] of told) expect(Math.abs(seconds - since)).toBeLessThan(0.01 * since);
});

test("events of the same hour are told by the time between them", () => {
  const { run, verdict } = partOf("08-charger-creep.yaml").answered;
  const list = [...faultFigure(figureData(run, verdict), { document }).querySelectorAll("g.event")].map(
    (event) => event.querySelectorAll("text")[1]?.textContent ?? "",
  );
  expect(list.length).toBeGreaterThan(3);
  expect(new Set(list).size).toBe(list.length);
  expect(list.filter((when) => /^\+\d/.test(when)).length).toBeGreaterThan(0);
});

describe("pictures of a talk", () => {
  test("have their whole headline for a name, in letters that every disk takes", () => {
    const named = (headline: string) => slideName({ ...cautionSlide(), headline }, 2);
    expect(named("The crowbar fires, 23.7 µs after the fault")).toBe("03-the-crowbar-fires-23.7-us-after-the-fault");
    expect(named("Ours: Hütte. What's next?")).toBe("03-ours-hütte-whats-next");
    expect(named("…")).toBe("03-slide");
    expect(named('a/b\\c:d*e?f"g<h>i|j')).toBe("03-a-b-c-d-e-f-g-h-i-j");
    const long = Array.from({ length: 20 }, () => "words").join(" ");
    expect(named(long)).toBe(`03-${long.replaceAll(" ", "-")}`);
  });

  test("end with the cautions", () => {
    const part = partOf("04-foldback.yaml");
    const slides = proposeTalk([part]).slice(0, 2);
    const pictures = talkPictures([part], slides, { document });
    expect(pictures.map(({ name }) => name.slice(0, 2))).toEqual(["01", "02", "03"]);
    const drawn = new JSDOM(pictures[2].svg).window.document;
    for (const caution of CAUTIONS) expect(written(drawn.body).replace(/\s+/g, " ")).toContain(caution);
  });

  test.each(["W", "字", "word "])("say all of the longest words that a slide takes, made of %j", (sign) => {
    const part = partOf("01-shorted-pass-transistor.yaml");
    const text = (length: number) => sign.repeat(length / sign.length);
    const count = (drawn: string) => drawn.split(sign.trim()).length - 1;
    for (const { id, slide } of offeredSlides(part.answered, 0))
      for (const size of ["slide", "phone"] as const) {
        const own = { ...slide, headline: text(120), sentence: text(300) };
        const svg = slideFigure([part], own, { document, size });
        expect(count(written(svg)), `${id}, ${size}`).toBeGreaterThanOrEqual(420 / sign.length);
      }
  });
});

describe("the handout", () => {
  const more = ({ further }: Handout): number =>
    Number(/^(\d+) more: see the reset sheet$/.exec(further ?? "0 more: see the reset sheet")?.[1]);

  test.each(all)("counts the steps as the reset sheet has them: %s", (name) => {
    const { answered } = partOf(name);
    const made = handout(answered);
    expect(made.steps.length + more(made)).toBe(resetSheet(answered).steps.length);
  });

  test("numbers its steps, and not the sentence that says how many there are beside them", () => {
    const { answered } = partOf("14-crowbar-with-disconnect.yaml");
    const page = new JSDOM(handoutHtml(answered, { document })).window.document;
    expect(page.body.textContent).toMatch(/\d more: see the reset sheet/);
    const numbered = [...page.querySelectorAll("ol > li")].map((item) => item.textContent);
    expect(numbered.length).toBeGreaterThan(3);
    expect(numbered.filter((step) => /see the reset sheet/.test(step ?? ""))).toEqual([]);
  });

  test("names part classes from the sources to the loads, insulation last", () => {
    const classes = handout(partOf("16-fuse-on-wrong-side.yaml").answered).origins.find((each) =>
      each.startsWith("Part classes"),
    );
    expect(classes).toMatch(
      /^Part classes: battery charger 10 A; AGM battery 7 Ah, overcharge; SCR 55 A; 25 W mobile radio; .*; insulation of PVC\.$/,
    );
  });
});
