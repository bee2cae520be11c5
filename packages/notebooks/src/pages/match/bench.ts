import {
  changeTexts,
  type Issue,
  type MatchAnswer,
  type MatchOptions,
  type MatchProgress,
  matchCsv,
  parseQuantity,
  shortList,
} from "@railfault/sim";
import {
  type MatchData,
  matchData,
  matchFigure,
  type TimeCurrentData,
  timeCurrentData,
  timeCurrentFigure,
} from "@railfault/sim/figures";
import { button, choice, el, setText } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { Answer } from "../../run/protocol.ts";
import { createRunner } from "../../run/runner.ts";
import { figurePlace, issuesView } from "../../show/index.ts";
import { MatchDriver } from "./driver.ts";
import { factsList, foundOf, reasonsView, tagOf } from "./told.ts";

/** What is looked at: the service that the line must do, and which of the short list is shown. */
export const matchViews = { load: "", drop: "", chosen: "" };

const NOTHING = "Nothing is sound";

/** The study of a line in a page: verdict, short list, pictures and reasons, each placed where the page wants it. */
export interface MatchBench {
  readonly verdict: HTMLElement;
  readonly facts: HTMLElement;
  readonly progress: HTMLElement;
  readonly matrix: HTMLElement;
  readonly shortList: HTMLElement;
  readonly timeCurrent: HTMLElement;
  readonly reasons: HTMLElement;
  leave(): void;
}

/** @param opened with the views of `matchViews` */
export function matchBench(opened: OpenedLine): MatchBench {
  const runner = createRunner({ workers: 1 });
  const driver = new MatchDriver(runner);
  const verdict = verdictBox();
  const progress = progressBox(() => driver.stop());
  const problems = issuesView(document, { most: 6 });
  const facts = el(document, "div", { class: "match-facts" });
  const found = el(document, "div", { class: "match-found" });
  const reasons = el(document, "div", { class: "match-reasons" });
  const matrix = figurePlace<{ data: MatchData; answer: MatchAnswer }>(document, {
    label: "Which fuse with which SCR and wire",
    draw: ({ data }, drawing) => matchFigure(data, drawing),
    title: ({ data }) => data.title,
    csv: ({ answer }) => matchCsv(answer),
    reserve: (width) => (width < 620 ? 1020 : 540),
  });
  const curves = figurePlace<TimeCurrentData>(document, {
    label: "What goes first with the chosen parts",
    draw: (data, drawing) => timeCurrentFigure(data, drawing),
    title: ({ title }) => title,
    reserve: (width) => (width < 620 ? 700 : 540),
  });
  const chooser = choice(document, {
    label: "Shown below",
    as: "menu",
    options: [{ value: NOTHING, label: NOTHING }],
    value: NOTHING,
  });
  let answer: MatchAnswer | null = null;
  let asked = "";

  // What stands in the file can be looked at too, sound or not.
  const offered = (of: MatchAnswer) => {
    const list = shortList(of).map(({ combination }) => combination);
    const own = of.all.find(({ changed }) => changed === 0);
    return own === undefined || list.some(({ id }) => id === own.id) ? list : [...list, own];
  };
  const chosenOf = (of: MatchAnswer) => {
    const list = offered(of);
    return list.find(({ id }) => id === opened.view("chosen")) ?? list[0] ?? null;
  };
  const showChosen = (): void => {
    if (answer === null) return;
    const chosen = chosenOf(answer);
    found.replaceChildren(
      ...(chosen === null
        ? [el(document, "p", {}, answer.remedy?.sentence ?? answer.headline)]
        : [foundOf(answer, chosen)]),
    );
    // Nothing sound: the curves of the line as it stands show what is wrong with it.
    const { text, state } = opened.line.now;
    const line = chosen === null ? text : changeTexts(text, chosen.changes);
    runner.run(
      "curves",
      { text: line, file: `${state.line.name}.yaml`, record: { most: 20_000 } },
      { answer: draw, refused: () => {}, failed: () => {} },
    );
  };
  const draw = ({ run, verdict: judged, parsed }: Answer): void => {
    if (judged.kind !== "verdict") return;
    const data = timeCurrentData(run, judged, parsed.fits, answer?.facts.service.current);
    if (data !== null) curves.show(data);
  };
  const offer = (of: MatchAnswer): void => {
    const options = offered(of).map(({ id, changed }) => ({ value: id, label: changed === 0 ? `yours: ${id}` : id }));
    const value = chosenOf(of)?.id ?? NOTHING;
    chooser.update({ options: options.length > 0 ? options : [{ value: NOTHING, label: NOTHING }], value });
  };
  const busy = (running: boolean): void => {
    for (const element of [verdict.element, found]) element.setAttribute("aria-busy", String(running));
    matrix.busy(running);
  };
  chooser.addEventListener("input", () => opened.look({ chosen: chooser.value }));

  const study = (now: LineNow): void => {
    const options = optionsOf(opened);
    const key = JSON.stringify([now.text, options]);
    if (key === asked) {
      if (answer !== null && chooser.value !== (chosenOf(answer)?.id ?? NOTHING)) offer(answer);
      if (answer !== null && opened.view("chosen") !== shownChoice) showChosen();
      shownChoice = opened.view("chosen");
      return;
    }
    asked = key;
    if (now.parsed.scenario === null) return;
    busy(true);
    driver.ask({ text: now.text, file: `${now.state.line.name}.yaml` }, options, {
      progress: progress.show,
      answered: (of) => {
        answer = of;
        shownChoice = opened.view("chosen");
        progress.done();
        problems.show([]);
        verdict.show(tagOf(of), of.headline);
        facts.replaceChildren(factsList(of));
        reasons.replaceChildren(...reasonsView(of));
        matrix.show({ data: matchData(of), answer: of });
        offer(of);
        showChosen();
        busy(false);
      },
      refused: (issues: readonly Issue[]) => refuse(issues),
      failed: (message) => {
        progress.done();
        verdict.show({ tag: "No answer", tone: "none" }, message);
        busy(false);
      },
    });
  };
  const refuse = (issues: readonly Issue[]): void => {
    answer = null;
    progress.done();
    problems.show(issues);
    verdict.show(
      { tag: "No answer", tone: "none" },
      issues.find(({ severity }) => severity === "error")?.message ?? "This line cannot be asked this question.",
    );
    for (const place of [facts, found, reasons]) place.replaceChildren();
    busy(false);
  };
  let shownChoice = opened.view("chosen");
  const unfollow = opened.line.follow(study);
  return {
    verdict: el(document, "div", {}, verdict.element, problems.element),
    facts,
    progress: progress.element,
    matrix: matrix.element,
    shortList: el(document, "div", { class: "match-chosen" }, chooser, found),
    timeCurrent: curves.element,
    reasons,
    leave() {
      unfollow();
      driver.drop();
      runner.dispose();
      matrix.leave();
      curves.leave();
    },
  };
}

function optionsOf(opened: OpenedLine): MatchOptions {
  const amount = (key: string, dimension: "current" | "voltage"): number | undefined => {
    const parsed = parseQuantity(opened.view(key), dimension);
    return parsed.ok && parsed.value > 0 ? parsed.value : undefined;
  };
  const [load, drop] = [amount("load", "current"), amount("drop", "voltage")];
  return { ...(load === undefined ? {} : { load }), ...(drop === undefined ? {} : { drop }) };
}

function verdictBox() {
  const tag = el(document, "strong", { class: "verdict-tag" }, "…");
  const headline = el(document, "p", { class: "verdict-headline" }, "Holding every part against the line …");
  const line = el(document, "div", { class: "verdict-line", role: "status" }, tag, headline);
  const element = el(
    document,
    "section",
    { class: "verdict", "data-tone": "none", "aria-label": "What goes together" },
    line,
  );
  return {
    element,
    show(of: { readonly tag: string; readonly tone: string }, sentence: string): void {
      element.dataset.tone = of.tone;
      setText(tag, of.tag);
      setText(headline, sentence);
    },
  };
}

/** How far the study is; its place is kept. */
function progressBox(stop: () => void) {
  const bar = el(document, "progress", { max: 1, value: 0, "aria-label": "Study" });
  const words = el(document, "span", { class: "progress-words" });
  const element = el(
    document,
    "div",
    { class: "progress", "data-idle": true },
    bar,
    words,
    button(document, { label: "Stop", press: stop }),
  );
  return {
    element,
    show({ stage, runs, of }: MatchProgress): void {
      element.removeAttribute("data-idle");
      bar.value = of === 0 ? 0 : runs / of;
      setText(words, of === 0 ? stage : `${stage}: ${runs} of ${of}`);
    },
    done(): void {
      element.setAttribute("data-idle", "");
    },
  };
}
