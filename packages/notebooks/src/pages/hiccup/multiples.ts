import { figureData, legendFigure, type SharedAxes, sharedAxes, type WaveformData } from "@railfault/sim/figures";
import { el, setText } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { RunMap, SchemeRun } from "../../line/runs.ts";
import type { Answer } from "../../run/protocol.ts";
import { figurePlace, issuesView } from "../../show/index.ts";
import { type Note, returnTone, runCard, toneOf } from "./card.ts";
import { type Outcome, outcomeOf } from "./outcome.ts";
import { dangerOf, type PeakSeen, peakOf, peakTold } from "./peak.ts";
import { type Return, returnOf } from "./return.ts";
import { afterPaint, settling } from "./settling.ts";
import { limitStyles, spanOf } from "./styles.ts";
import { listed, small, whole } from "./words.ts";

/** Rows of states that matter here, of those that the line has. */
const STATES = ["SCR", "main fuse"];
/** What is shown before the fault, as a part of the time after it. */
const BEFORE = 0.03;

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
  const tag = el(document, "strong", { class: "verdict-tag" });
  const headline = el(document, "p", { class: "verdict-headline" });
  const dangerTag = el(document, "strong", { class: "state-tag" });
  const dangerSentence = el(document, "p", { class: "run-danger" });
  const line = el(
    document,
    "div",
    { class: "verdict-line run-verdict", role: "status" },
    tag,
    headline,
    dangerTag,
    dangerSentence,
  );
  const summary = el(document, "section", { class: "verdict", "aria-label": "What ends the fault" }, line);
  setText(tag, "Computing");
  const issues = issuesView(document);
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

  const drawAll = (runs: readonly (SchemeRun | undefined)[], now: LineNow): void => {
    const good = runs.flatMap((run, i) => {
      const answer = run?.status === "answered" ? run.answer : null;
      return answer === null ? [] : [{ ...cards[i], answer, data: smallData(answer, cards[i].label) }];
    });
    if (good.length === 0) return;
    const axes = commonAxes(
      good.map(({ data }) => data),
      spanOf(now),
    );
    const outcomes = good.map(({ card, label, style, answer, data }) => {
      const outcome = outcomeOf(answer);
      const back = returnOf(answer, outcome);
      const seen = peakOf(answer);
      card.show({ data, axes }, outcome, back, seen === null ? [] : [peakNote(seen)]);
      return { label, style, outcome, back, seen };
    });
    returns.replaceChildren(...outcomes.map(({ label, back }) => returnEntry(label, back)));
    legend.show(good[0].data);
    const theme = outcomes.find(({ style }) => style === "hiccup") ?? outcomes[0];
    summary.dataset.tone = toneOf(theme.outcome);
    setText(tag, whole(theme.outcome.tag));
    setText(headline, whole(sumUp(outcomes)));
    const seen = outcomes.flatMap(({ label, seen }) => (seen === null ? [] : [{ label, seen }]));
    dangerTag.hidden = dangerSentence.hidden = seen.length === 0;
    if (seen.length === 0) return;
    const danger = dangerOf(seen);
    dangerTag.dataset.tone = danger.tone;
    setText(dangerTag, danger.tag);
    setText(dangerSentence, whole(danger.sentence));
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
      if (run?.status === "refused") cards[i].card.refuse(run.issues);
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
    summary,
    key: el(document, "div", { class: "run-key" }, issues.element, none, legend.element),
    element: el(document, "div", { class: "multiples run-cards" }, ...cards.map(({ card }) => card.element), answer),
    /** Settles once nothing of this runs, the pictures stand and the page has a moment; null: they do. */
    painted: rest.wait,
    leave() {
      unfollow();
      legend.leave();
      for (const { card } of cards) card.leave();
    },
  };
}

/** What a card says of the radio's voltage. */
export const peakNote = (seen: PeakSeen): Note => ({ label: "Its voltage", ...peakTold(seen) });

function returnEntry(label: string, back: Return): HTMLElement {
  const tag = el(document, "strong", { class: "state-tag", "data-tone": returnTone(back) }, whole(back.tag));
  return el(document, "li", {}, el(document, "span", {}, label), tag);
}

interface Told {
  readonly label: string;
  readonly style: string;
  readonly outcome: Outcome;
}

/** How many styles blow the fuse, and what the one that this page is about does. */
function sumUp(told: readonly Told[]): string {
  const blown = told.filter(({ outcome }) => outcome.ending === "fuse").map(({ label }) => label.toLowerCase());
  const first =
    blown.length === 0
      ? `None of these ${told.length} limit styles blows the fuse.`
      : blown.length === told.length
        ? `The fuse blows with each of these ${told.length} limit styles.`
        : `The fuse blows with ${blown.length} of ${told.length} limit styles: ${listed(blown)}.`;
  const hiccup = told.find(({ style }) => style === "hiccup");
  return hiccup === undefined ? first : `${first} With hiccup, ${small(hiccup.outcome.sentence)}`;
}
