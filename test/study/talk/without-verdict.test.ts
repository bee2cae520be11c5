import { type Answered, handout, renderReset, resetSheet, runScenario } from "@railfault/sim";
import { handoutHtml, offeredSlides, slideFigure } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { outcomeOf } from "../../../packages/sim/src/study/talk/outcome.ts";
import { resetHtml } from "../../../packages/sim/src/study/talk/sheets.ts";
import { judge } from "../../../packages/sim/src/verdict/judge.ts";
import type { Judged, Verdict } from "../../../packages/sim/src/verdict/types.ts";
import { station } from "../../cli/launch.ts";
import { context } from "../../verdict/fixtures.ts";

const { document } = new JSDOM("").window;
const result = runScenario(station(), "station.yaml", { secondRun: false });
if (result.kind === "refused") throw new Error("the station was refused");
const station_: Answered = result;
const verdict = station_.verdict as Judged;

const saying = (over: Partial<Judged>): Answered => ({ ...station_, verdict: { ...verdict, ...over } as Verdict });
/** The same run, stopped before anything happened. */
const none: Answered = {
  ...station_,
  verdict: judge({ ...station_.run, outcome: { status: "stopped", time: 0, failure: null } }, context),
};
const page = (html: string): string => new JSDOM(html).window.document.body.textContent ?? "";

describe("a run without a verdict", () => {
  const { headline, kind } = none.verdict;

  test("has its headline for an outcome, and what it takes to get a verdict for its only step", () => {
    if (none.verdict.kind === "verdict") throw new Error("there is a verdict");
    expect(headline).toMatch(/^No verdict: /);
    expect(outcomeOf(none)).toBe(headline);
    const { steps, goesOn, usedUp } = resetSheet(none);
    expect([steps, goesOn, usedUp]).toEqual([[none.verdict.remedy], [], []]);
    expect(renderReset(resetSheet(none))).toMatch(/What was used up\n {2}- Nothing\.\n$/);
    expect(page(resetHtml(resetSheet(none)))).not.toContain("What still goes on");
  });

  test("has no limits in its handout", () => {
    expect(kind).toBe("not a verdict");
    expect(handout(none)).toMatchObject({ limits: [], isPassed: false, headline });
    const text = page(handoutHtml(none, { document }));
    expect(text).toContain("The nearest limits");
    expect(text).toContain("Nothing in this run came near a limit.");
  });

  test("offers no slide of limits, and says that there is no verdict on the others", () => {
    const offered = offeredSlides(none, 0);
    expect(offered.map(({ id }) => id)).not.toContain("headroom");
    for (const id of ["fault", "currents", "states", "end"])
      expect(offered.find((each) => each.id === id)?.slide.sentence, id).toBe(headline);
  });
});

describe("a file that says nothing of itself", () => {
  const bare: Answered = {
    ...saying({ title: "" }),
    run: { ...station_.run, scenario: { ...station_.run.scenario, title: "" } },
  };

  test("has titles all the same", () => {
    expect(handout(bare).title).toBe("A fault on a 12 V line");
    expect(resetSheet(bare).title).toBe("A 12 V line");
    expect(offeredSlides(bare, 0)[0].slide.headline).toBe("A 12 V line");
  });

  test("asks the question that every fault asks", () => {
    expect(station_.parsed.about.question).toBe("");
    expect(offeredSlides(bare, 0)[0].slide.sentence).toBe("What does the radio see, and what does each device do?");
    expect(page(handoutHtml(bare, { document }))).not.toContain("?");
  });
});

describe("a handout", () => {
  test("says which limits were passed before which came near", () => {
    const passed = { ...verdict.findings[0], headroom: 0.5, rating: 1, severity: "beyond" as const };
    const made = saying({ findings: [passed] });
    expect(handout(made).isPassed).toBe(true);
    expect(page(handoutHtml(made, { document }))).toContain("The limits that were passed, and the nearest");
  });

  test("says where nothing is assumed and no class is used", () => {
    const plain: Answered = { ...saying({ assumptions: [] }), parsed: { ...station_.parsed, origins: [] } };
    const { origins } = handout(plain);
    expect(origins).toHaveLength(2);
    expect(origins[1]).toBe("No value is assumed.");
  });

  test("has no more than a side of A4 has room for, and says how much more there is", () => {
    const label = (i: number) => ({ ...verdict.assumptions[0], label: `value ${i}` });
    const many = saying({ assumptions: Array.from({ length: 9 }, (_, i) => label(i)) });
    expect(handout(many).origins.at(-1)).toMatch(/: value 0; value 1; value 2; value 3; 5 more in the verdict\.$/);
  });
});

describe("what befell other parts", () => {
  const part = (over: Partial<Judged["findings"][number]>) => ({ ...verdict.findings[0], hazard: null, ...over });
  const fire = part({ severity: "unknown", hazard: "fire", headroom: null, sentence: "The lead burns." });
  const far = part({ severity: "beyond", headroom: 0.2, sentence: "The SCR is far beyond." });
  const near = part({ severity: "beyond", headroom: 0.9, sentence: "The SCR is beyond." });
  const unknown = part({ severity: "unknown", headroom: null, sentence: "Nobody knows the holder." });
  const told = (findings: Judged["findings"], safe = true) =>
    outcomeOf(saying({ findings, safe, pending: [], headline: "The radio is well." }));

  test("is told fire first, then what is farthest past its limit, the others counted", () => {
    expect(told([near, fire, far])).toBe("The radio is well. But the lead burns. 2 more limits were passed.");
    expect(told([near, far])).toBe("The radio is well. But the SCR is far beyond. One more limit was passed.");
    expect(told([unknown, near])).toBe("The radio is well. But the SCR is beyond. One more limit was passed.");
    expect(told([near], false)).toBe("The radio is well. And the SCR is beyond.");
    expect(told([])).toBe("The radio is well.");
    // Of two that nobody can measure the first stays the first.
    const holder = part({ severity: "unknown", headroom: null, sentence: "Nobody knows the lamp." });
    expect(told([unknown, holder])).toBe("The radio is well. But Nobody knows the holder. One more limit was passed.");
  });
});

describe("slides of limits", () => {
  const current = { ...verdict.findings[0], dimension: "current" as const };
  const slide = (id: string, over: Partial<Judged>) => {
    const found = offeredSlides(saying(over), 0).find((each) => each.id === id)?.slide;
    return [found?.headline, found?.sentence];
  };

  test("tell of the one that came nearest, as far as any is known", () => {
    const known = { ...current, headroom: 3, sentence: "the lead carries a third." };
    const unknown = { ...current, headroom: null, rating: null, sentence: "Nobody knows the holder." };
    for (const findings of [
      [unknown, known],
      [known, unknown],
      [unknown, known, unknown],
    ])
      expect(slide("currents", { findings })[1]).toBe("The lead carries a third.");
    expect(slide("currents", { findings: [unknown, { ...unknown, sentence: "Nor the clip." }] })[1]).toBe(
      "Nobody knows the holder.",
    );
    expect(slide("currents", { findings: [] })[1]).toBe(outcomeOf(saying({ findings: [] })));
  });

  test("are none where no limit is known; else they tell of the one that was passed", () => {
    const loads = verdict.loads.map((load) => ({ ...load, limits: [] }));
    const none = { findings: [], loads };
    expect(slide("headroom", none)).toEqual([undefined, undefined]);
    const over = { ...current, severity: "beyond" as const, rating: 10, found: 20, headroom: 0.5 };
    const asked = { ...none, findings: [{ ...over, subject: "crowbar", quantity: "current" }] };
    expect(slide("headroom", asked)).toEqual(["Which limit was passed?", "The crowbar, current: 20 A, allowed 10 A."]);
  });
});

test("a slide whose event needs no reason says what happens", () => {
  const [fault] = station_.run.events;
  const back = {
    ...fault,
    kind: "comes back" as const,
    subject: { part: "load" as const, owner: "relay radio" },
    cause: "",
  };
  const run = { ...station_.run, events: [fault, { ...back, time: fault.time + 0.1 }] };
  const step = offeredSlides({ ...station_, run }, 0).find(({ id }) => id === "step-2")?.slide;
  expect(step?.headline).toMatch(/^The relay radio comes back/);
  expect(step?.sentence).toMatch(/^The relay radio comes back/);
});

test("a talk tells in words where a figure is asked for that the run does not have", () => {
  const answered = runScenario(station({ protector: "crowbar: none" }), "bare.yaml", { secondRun: false });
  if (answered.kind === "refused") throw new Error("refused");
  const shows = { kind: "figure", name: "surge" } as const;
  const slide = { part: 0, shows, headline: "Surge", sentence: "None." };
  const svg = slideFigure([{ file: "bare.yaml", answered }], slide, { document, size: "slide" });
  expect(svg.textContent).toContain("No SCR fired in this run, so there is no surge to draw.");
});

describe("a reset sheet", () => {
  test("names a fuse that melted by its place, with what went through it where that is known", () => {
    const fuses = (letThroughI2t: number | null) => ({
      ...station_.run,
      fuses: [
        { ...station_.run.fuses[0], meltTime: 0.02, letThroughI2t },
        { ...station_.run.fuses[0], subject: { part: "in-line fuse" as const, owner: "battery" }, meltTime: null },
      ],
    });
    const used = (letThroughI2t: number | null) => resetSheet({ ...station_, run: fuses(letThroughI2t) }).usedUp[0];
    expect(used(500)).toBe("Main fuse, blade fuse 20 A: melted, 500 A²s through it.");
    expect(used(null)).toBe("Main fuse, blade fuse 20 A: melted.");
  });

  test("says so where there is nothing to reset", () => {
    expect(resetSheet(saying({ replace: [] })).steps).toEqual([
      "Nothing tripped and nothing was hurt: there is nothing to reset.",
    ]);
  });
});
