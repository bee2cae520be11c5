import { type Answered, type Judged, runScenario } from "@railfault/sim";
import { handoutHtml, proposeTalk } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { outcomeOf, warningsOf } from "../../../packages/sim/src/study/talk/outcome.ts";

const { document } = new JSDOM("").window;

/** A fuse too large for a supply lead too thin: the supply holds the SCR on for good, and the lead gets hot. */
const THIN_LEAD = `title: Hut with foldback
fault at: 100 ms
run for: 60 s
sources:
  - name: station supply
    part: linear supply 20 A, foldback
    fault: lost feedback
    lead: {length: 2 m, gauge: 18 AWG, fuse holders: 1}
main fuse: blade fuse 30 A
crowbar: {part: SCR 25 A, trip voltage: 15.6 V, sense filter: RF-filtered}
loads:
  - name: relay radio
    part: 100 W radio
    limits: {withstand: parts rated 16 V}
    lead: {length: 3 m, gauge: 14 AWG, spacing: 3.5 mm}
`;

const result = runScenario(THIN_LEAD, "thin.yaml", { secondRun: false });
if (result.kind === "refused") throw new Error(result.issues.map(({ message }) => message).join("\n"));
const line: Answered = result;
const verdict = line.verdict as Judged;

describe("a lead that gets too hot unless somebody acts, behind an SCR that is held on and stands it", () => {
  test("is what such a line has", () => {
    expect(verdict.safe).toBe(true);
    expect(verdict.pending.map(({ kind, passesRating }) => [kind, passesRating])).toEqual([
      ["held on", false],
      ["overcurrent in a lead", true],
    ]);
  });

  test("stands with the time left in the outcome, before what only goes on", () => {
    const told = outcomeOf(line);
    expect(told).toMatch(/The lead of the station supply still carries [\d.]+ A when the run ends/);
    expect(told).toMatch(
      /Estimate: at that current its copper passes the 70 °C .* after the fault, unless somebody acts/,
    );
    expect(told).not.toContain("holds the crowbar on");
  });

  test("stands on the handout and on the talk's picture of how it came out", () => {
    const page = new JSDOM(handoutHtml(line, { document })).window.document.body.textContent;
    expect(page?.replaceAll("\u00a0", " ")).toContain("its copper passes the 70 °C");
    const slides = proposeTalk([{ file: "thin.yaml", answered: line }]);
    expect(slides.find(({ headline }) => headline === "How it came out")?.sentence).toContain("unless somebody acts");
  });

  test("is told first of several, the others by name", () => {
    const [held, lead] = verdict.pending;
    const pending = [{ ...held, passesRating: true }, lead, { ...lead, subject: "lead of the relay radio" }];
    expect(outcomeOf({ ...line, verdict: { ...verdict, pending } })).toMatch(
      /Fails as well if nobody acts: lead of the station supply, lead of the relay radio\.$/,
    );
    expect(outcomeOf({ ...line, verdict: { ...verdict, pending: [held] } })).toMatch(/nothing in it ends that\.$/);
  });
});

describe("what a run warns of", () => {
  const message = "39.4 A, which never melts it, would bring the wire to its melting point.";

  test("stands on the handout with what helps", () => {
    const page = new JSDOM(handoutHtml(line, { document })).window.document;
    const [cautions, warned, ...others] = page.querySelectorAll("section.cautions");
    expect([cautions.querySelector("h2")?.textContent, others]).toEqual(["Cautions", []]);
    expect(warned.querySelector("h2")?.textContent).toBe("Warnings about this line");
    const told = warned.textContent?.replaceAll("\u00a0", " ");
    expect(told).toContain(message);
    expect(told).toContain("Remedy: take a thicker wire or a smaller fuse.");
  });

  test("has a slide of its own before what to do next, and none where nothing is warned of", () => {
    const slides = proposeTalk([{ file: "thin.yaml", answered: line }]);
    const { shows } = slides.at(-2) ?? {};
    expect(slides.slice(-2).map(({ headline }) => headline)).toEqual([
      "Warnings about this line",
      "Before the next use",
    ]);
    expect(shows?.kind === "words" ? shows.lines.join(" ") : "").toContain(message);
    const calm = { ...line, verdict: { ...verdict, warnings: [] } };
    expect(proposeTalk([{ file: "calm.yaml", answered: calm }])).toHaveLength(slides.length - 1);
    expect(handoutHtml(calm, { document })).not.toContain("Warnings about this line");
  });

  test("is counted where there is no room for all", () => {
    const [warning] = verdict.warnings;
    const many = { ...line, verdict: { ...verdict, warnings: Array.from({ length: 7 }, () => warning) } };
    expect(warningsOf(many, 3)).toHaveLength(3);
    expect(warningsOf(many, 3)[2]).toBe("5 more warnings: see the verdict.");
    expect(warningsOf(many, 7)).toHaveLength(7);
  });
});
