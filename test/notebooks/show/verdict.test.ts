import type { Judged, Verdict } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { cautionsView, tagOf, verdictView } from "../../../packages/notebooks/src/show/index.ts";
import { emptyPage } from "../controls/page.ts";
import { answered, plain } from "./fixtures.ts";

const judged = (name: string): Judged => {
  const { verdict } = answered(name);
  if (verdict.kind !== "verdict") throw new Error(`${name} has no verdict`);
  return verdict;
};
const safe = judged("01-shorted-pass-transistor");
const harmed = judged("07-lost-feedback-unprotected");
const texts = (root: Element, selector: string) =>
  [...root.querySelectorAll(selector)].map((each) => plain(each.textContent));

describe("the tag", () => {
  const close = { ...safe, tooClose: [{ sentence: "x" }] } as unknown as Verdict;
  const none = {
    ...safe,
    kind: "not a verdict",
    reason: "",
    timeReached: 0,
    device: null,
    remedy: "",
  } as unknown as Verdict;
  test.each([
    [safe, "Radio safe", "safe"],
    [{ ...safe, grade: "withstood" } as Verdict, "Radio withstood it", "withstood"],
    [harmed, "Radio endangered", "endangered"],
    [close, "Too close to call", "close"],
    [none, "No verdict", "none"],
    [{ ...safe, stoppedAt: 2.15 } as Verdict, "Stopped early", "close"],
    [{ ...close, stoppedAt: 2.15 } as Verdict, "Stopped early", "close"],
    [{ ...harmed, stoppedAt: 2.15 } as Verdict, "Radio endangered", "endangered"],
  ])("is written: %#", (verdict, words, tone) => {
    expect(tagOf(verdict)).toEqual({ tone, words });
    const view = verdictView(emptyPage().document);
    view.show(verdict);
    expect(texts(view.element, ".verdict-tag")).toEqual([words]);
    expect(view.element.dataset.tone).toBe(tone);
  });
});

test("what goes on and endangers a radio by estimate is no word of safety", () => {
  const above = { subject: "radio", sentence: "It goes on.", endedBy: null, kind: "above its maximum" } as const;
  const pending = [{ ...above, passesRating: true }];
  const words = [safe, { ...safe, grade: "withstood" }].map((verdict) => tagOf({ ...verdict, pending } as Verdict));
  expect(words).toEqual([
    { tone: "withstood", words: "Radio safe so far" },
    { tone: "withstood", words: "Radio withstood it so far" },
  ]);
  expect(tagOf({ ...harmed, pending } as Verdict).words).toBe("Radio endangered");
});

test("no run is promised where the line cannot be run", () => {
  const view = verdictView(emptyPage().document);
  view.show(null);
  expect(texts(view.element, ".verdict-headline")).toEqual(["The first run is on its way."]);
  view.show(null, "This line was not run.");
  expect(texts(view.element, ".verdict-tag, .verdict-headline")).toEqual(["No verdict", "This line was not run."]);
});

describe("what stands beside the answer on the radio", () => {
  const badges = (verdict: Judged) => {
    const view = verdictView(emptyPage().document);
    view.show(verdict);
    const tags = [...view.element.querySelectorAll<HTMLElement>(".verdict-badges > .verdict-tag")];
    return { view, said: tags.map((tag) => [tag.textContent, tag.dataset.tone]) };
  };
  const [finding] = safe.findings;
  const passed = { ...finding, severity: "beyond" as const, rating: 1 };

  test("nothing where nothing else is hurt or goes on", () => {
    expect(badges({ ...safe, findings: [], pending: [] }).said).toEqual([["Radio safe", "safe"]]);
  });

  test("a fire hazard, by the part that may burn; it goes before what is only beyond its rating", () => {
    const burns = { ...passed, subject: "lead of the supply", hazard: "fire" as const };
    const { said } = badges({ ...safe, findings: [{ ...passed, subject: "crowbar" }, burns, burns], pending: [] });
    expect(said).toEqual([
      ["Radio safe", "safe"],
      ["Fire hazard: lead of the supply", "endangered"],
    ]);
  });

  test("what is beyond its rating; more than two parts are counted", () => {
    const parts = ["crowbar", "clamp", "main fuse", "battery"].map((subject) => ({ ...passed, subject }));
    expect(badges({ ...safe, findings: parts, pending: [] }).said[1]?.[0]).toBe(
      "Beyond its rating: crowbar, clamp and 2 more",
    );
  });

  test("what is not over yet, with its sentence; it goes away with the next verdict", () => {
    const held = {
      subject: "crowbar",
      kind: "held on" as const,
      sentence: "The line holds the crowbar on.",
      endedBy: null,
    };
    const pending = [{ ...held, passesRating: false }];
    const { view, said } = badges({ ...safe, findings: [], pending });
    expect(said[1]?.[0]).toBe("Not over yet: crowbar is held on");
    expect(texts(view.element, ".verdict-pending")).toEqual(["Not over yet The line holds the crowbar on."]);
    expect(plain(view.element.textContent)).toContain("Nothing went beyond its rating in this run.");
    view.show({ ...safe, findings: [], pending: [{ ...held, passesRating: true }] });
    expect(texts(view.element, ".verdict-tag")).toEqual(["Radio safe", "Fails if nobody acts: crowbar"]);
    expect(view.element.querySelectorAll(".verdict-tag")[1]?.getAttribute("data-tone")).toBe("endangered");
    expect(view.element.querySelectorAll(".verdict-pending.urgent")).toHaveLength(1);
    view.show({ ...safe, findings: [], pending: [] });
    expect(texts(view.element, ".verdict-tag")).toEqual(["Radio safe"]);
    expect(texts(view.element, ".verdict-pending")).toEqual([]);
  });

  test("whether the radio has a supply afterwards, of several the one that fares worst", () => {
    const { view } = badges(safe);
    expect(texts(view.element, ".verdict-after > p")).toEqual([
      "Drive up Afterwards the relay radio has no supply until somebody goes there.",
    ]);
    const [load] = safe.loads;
    const back = {
      ...load,
      name: "lamp",
      starved: load.starved && { ...load.starved, comesBack: "came back" as const },
    };
    view.show({ ...safe, loads: [back, load] });
    expect(texts(view.element, ".verdict-after .state-tag")).toEqual(["Drive up"]);
    view.show({ ...safe, loads: [back] });
    expect(texts(view.element, ".verdict-after > p")).toEqual([
      "Back alone The lamp lost its supply for a while and came back by itself.",
    ]);
    const trips = { ended: false, sentence: "", longRun: [], fatigue: [] } as unknown as Judged["tripping"][number];
    view.show({ ...safe, loads: [back], tripping: [trips] });
    expect(texts(view.element, ".verdict-after > p")).toEqual([
      "Back alone The lamp loses its supply with each trip; it comes back by itself once the line does.",
    ]);
    view.show({ ...safe, loads: [{ ...load, starved: null }] });
    expect(texts(view.element, ".verdict-after > p")).toEqual([]);
  });
});

describe("the verdict", () => {
  test("says every sentence of the verdict, in its own words", () => {
    const view = verdictView(emptyPage().document);
    view.show(safe);
    const said = plain(view.element.textContent);
    const sentences = [
      safe.headline,
      ...safe.done,
      ...safe.notes,
      ...safe.replace,
      ...safe.reasons.map(({ sentence }) => sentence),
      ...safe.assumptions.map(({ source }) => source),
      ...safe.findings.map(({ quantity }) => quantity),
    ];
    expect(sentences.length).toBeGreaterThan(20);
    expect(sentences.filter((sentence) => !said.includes(plain(sentence)))).toEqual([]);
  });

  test("counts event by event as the pictures do: from the fault, or from the start where nothing fails", () => {
    const first = (name: string) => {
      const view = verdictView(emptyPage().document);
      view.show(judged(name));
      const fold = [...view.element.querySelectorAll("details")].find((each) => each.textContent?.startsWith("Why,"));
      return [...(fold?.querySelectorAll("li") ?? [])].slice(0, 2).map((each) => plain(each.textContent));
    };
    const [fault, fires] = first("01-shorted-pass-transistor");
    expect(fault).toMatch(/^At the fault: The fault strikes/);
    expect(fires).toMatch(/^23\.73 µs after the fault: The crowbar fires/);
    expect(first("20-battery-terminal-falls-off")[1]).toMatch(/after the start: /);
  });

  test("tells damage first where there is some", () => {
    const broken = {
      ...safe,
      findings: [{ ...safe.findings[0], severity: "beyond" as const, sentence: "The SCR burns." }],
    };
    const view = verdictView(emptyPage().document);
    view.show(broken);
    expect(texts(view.element, ".hurt li")).toEqual(["The SCR burns."]);
    view.show(safe);
    expect(texts(view.element, ".hurt li")).toEqual([]);
    expect(plain(view.element.textContent)).toContain("Nothing went beyond its rating.");
  });

  test("keeps open what was opened when the next one comes", () => {
    const view = verdictView(emptyPage().document);
    view.show(safe);
    const details = view.element.querySelector("details") as HTMLDetailsElement;
    details.open = true;
    view.show(harmed);
    view.show(safe);
    expect(view.element.querySelector("details")).toBe(details);
    expect(details.open).toBe(true);
  });

  test("can stand in two places", () => {
    const { document } = emptyPage();
    const [answer, rest] = [verdictView(document, { parts: "answer" }), verdictView(document, { parts: "rest" })];
    answer.show(safe);
    rest.show(safe);
    expect([texts(answer.element, "h3").length, texts(rest.element, ".verdict-headline").length]).toEqual([0, 0]);
    expect(texts(rest.element, "h3").length).toBeGreaterThan(2);
    expect(answer.element.getAttribute("aria-label")).not.toBe(rest.element.getAttribute("aria-label"));
  });

  test("shows hostile names as text", () => {
    const hostile = `<img src=x onerror="alert(1)">`;
    const view = verdictView(emptyPage().document);
    view.show({ ...safe, headline: hostile, done: [hostile], findings: [{ ...safe.findings[0], subject: hostile }] });
    expect(view.element.querySelector("img")).toBeNull();
    expect(texts(view.element, ".verdict-headline")).toEqual([hostile]);
  });

  test("numbers stay with their units", () => {
    const view = verdictView(emptyPage().document);
    view.show(safe);
    expect(view.element.querySelector(".verdict-headline")?.textContent).toContain("14.7\u00a0V");
  });
});

test("cautions stand under a written heading, all of them", () => {
  const element = cautionsView(emptyPage().document, safe.cautions);
  expect(texts(element, "li")).toEqual(safe.cautions);
  expect(element.querySelector("h2")?.id).toBe(element.getAttribute("aria-labelledby"));
});
