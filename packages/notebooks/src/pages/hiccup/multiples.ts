import { figureData, legendFigure, type SharedAxes, sharedAxes, type WaveformData } from "@railfault/sim/figures";
import { el } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { RunMap, SchemeRun } from "../../line/runs.ts";
import type { Answer } from "../../run/protocol.ts";
import { figurePlace, issuesView } from "../../show/index.ts";
import type { LaneNow } from "./background.ts";
import { type Card, returnTone, runCard } from "./card.ts";
import type { Return } from "./return.ts";
import { afterPaint, settling } from "./settling.ts";
import { styleTold } from "./style-told.ts";
import { limitStyles, spanOf } from "./styles.ts";
import { summaryView } from "./summary.ts";
import { whole, whyRefused } from "./words.ts";

/** Rows of states that matter here, of those that the line has. */
const STATES = ["SCR", "main fuse"];
/** What is shown before the fault, as a part of the time after it. */
const BEFORE = 0.03;

interface Drawn {
  readonly style: string;
  readonly label: string;
  readonly card: Card;
  readonly answer: Answer;
  readonly data: WaveformData;
}

/** The data of a small picture: its own name, and the states that tell the story. */
export function smallData({ run, verdict }: Answer, title: string): WaveformData {
  const data = figureData(run, verdict);
  const supplies = new Set(run.scenario.sources.filter(({ kind }) => kind === "supply").map(({ name }) => name));
  const wanted = data.states.filter(({ label }) => supplies.has(label) || STATES.includes(label));
  return { ...data, title, states: wanted.length > 0 ? wanted : data.states };
}

/** One scale for several runs of one line, from shortly before the fault on. */
export function commonAxes(several: readonly WaveformData[], span: number): SharedAxes {
  const { faultTime } = several[0];
  const range = [Math.max(0, faultTime - BEFORE * span), faultTime + span] as const;
  return { ...sharedAxes(several, range), timeScale: "linear" };
}

/** The first run of a page that ended, for what all of them have in common. */
export function firstAnswer(opened: OpenedLine): Promise<Answer> {
  return new Promise((resolve) => {
    const unfollow = opened.runs((map) => {
      const answer = [...map.values()].find((run) => run.answer !== null)?.answer;
      if (answer == null) return;
      resolve(answer);
      queueMicrotask(() => unfollow());
    });
  });
}

/** Five limit styles on the same line at the same time, with the sentence that sums them up. */
export function limitMultiples(opened: OpenedLine) {
  const cards = limitStyles.map(({ style, label, does }) => ({
    style,
    label,
    card: runCard(document, label, `${label}: the supply ${does}.`),
  }));
  const legend = figurePlace<WaveformData>(document, {
    label: "What the lines mean",
    draw: (data, drawing) => legendFigure(data, { ...drawing, panels: ["voltage"] }),
    reserve: (width) => (width < 620 ? 52 : 30),
    menu: false,
  });
  const summary = summaryView(document);
  const issues = issuesView(document, { places: false });
  const none = el(
    document,
    "p",
    { class: "aside", hidden: true },
    "This line has no supply whose limit could be varied.",
  );
  const returns = el(document, "ul", { class: "run-returns" });
  const answer = el(
    document,
    "section",
    { class: "run-answer" },
    el(document, "h2", {}, "Does the radio come back alone, or must somebody drive up?"),
    returns,
  );
  const rest = settling();
  let shown: readonly (Answer | null)[] = [];
  let span = Number.NaN;
  let drawn: readonly Drawn[] = [];
  let full: { readonly text: string; readonly lane: LaneNow } | null = null;

  const drawAll = (runs: readonly (SchemeRun | undefined)[], now: LineNow): void => {
    drawn = runs.flatMap((run, i) => {
      const answer = run?.status === "answered" ? run.answer : null;
      return answer === null ? [] : [{ ...cards[i], answer, data: smallData(answer, cards[i].label) }];
    });
    if (drawn.length === 0) return;
    const axes = commonAxes(
      drawn.map(({ data }) => data),
      spanOf(now),
    );
    for (const { card, data } of drawn) card.draw({ data, axes });
    legend.show(drawn[0].data);
    tellAll(now);
  };
  /** Below the pictures: what was seen in them, until what is known for good has been found. */
  const tellAll = (now: LineNow): void => {
    if (drawn.length === 0) return;
    const lane = full?.text === now.text ? full.lane : null;
    const told = drawn.map((each) => {
      const style = styleTold(now, each.style, each.answer, lane);
      each.card.tell(style.outcome, style.back, style.notes, style.watching);
      return { ...style, label: each.label, style: each.style };
    });
    returns.replaceChildren(...told.map(({ label, back }) => returnEntry(label, back)));
    summary.show(told);
  };
  const show = (map: RunMap): void => {
    const runs = cards.map(({ style }) => map.get(style));
    const running = runs.some((run) => run?.status === "running");
    const { parsed } = opened.line.now;
    if (running) rest.busy();
    // What is drawn here is painted in the next frame.
    else {
      const round = rest.now();
      queueMicrotask(() => afterPaint(document, () => rest.settled(round)));
    }
    issues.show(parsed.scenario === null ? parsed.issues : []);
    none.hidden = parsed.scenario === null || map.size > 0;
    // The old pictures stay; what is wrong with the text stands above them.
    if (parsed.scenario === null) return;
    for (const [i, run] of runs.entries()) {
      cards[i].card.busy(running);
      if (run?.status === "refused") cards[i].card.refuse(whyRefused(run.issues));
      if (run?.status === "failed") cards[i].card.refuse(run.message ?? "the run failed.");
    }
    const answers = runs.map((run) => run?.answer ?? null);
    const next = spanOf(opened.line.now);
    // Shared scales want all of them; until then the old pictures stay.
    if (running || (next === span && answers.every((answer, i) => answer === shown[i]))) return;
    shown = answers;
    span = next;
    drawAll(runs, opened.line.now);
  };
  const unfollow = opened.runs(show);
  return {
    summary: summary.element,
    key: el(document, "div", { class: "run-key" }, issues.element, none, legend.element),
    element: el(document, "div", { class: "multiples run-cards" }, ...cards.map(({ card }) => card.element), answer),
    /** Settles once nothing of this runs, the pictures stand and the page has a moment; null: they do. */
    painted: rest.wait,
    /** What was found of the styles watched in full, of a line with this text. */
    foundInFull(text: string, lane: LaneNow): void {
      full = { text, lane };
      const { now } = opened.line;
      // Until the pictures of that line stand, what is below them speaks of them.
      if (now.text === text && rest.wait() === null) tellAll(now);
    },
    leave() {
      unfollow();
      legend.leave();
      for (const { card } of cards) card.leave();
    },
  };
}

function returnEntry(label: string, back: Return): HTMLElement {
  const tag = el(document, "strong", { class: "state-tag", "data-tone": returnTone(back) }, whole(back.tag));
  return el(document, "li", {}, el(document, "span", {}, label), tag);
}
