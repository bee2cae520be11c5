import {
  AS_IT_STANDS,
  type CompareRefused,
  type Comparison,
  comparisonCsv,
  comparisonHeadline,
  differenceOf,
  type Issue,
} from "@railfault/sim";
import { type CompareFigure, compareFigure } from "@railfault/sim/figures";
import { button, choice, el, setText } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { createComparer } from "../../run/comparer.ts";
import { type FigurePlace, figurePlace, issuesView } from "../../show/index.ts";
import { schemesOf } from "./schemes.ts";
import { compareTables } from "./tables.ts";

/** What is looked at: the order of lines, and the one that the others are set beside. */
export const compareViews = { order: "best", beside: "" };

/** How long the line must stand still, ms: a slider that moves comes first. */
const STILL = 250;

interface Shown {
  readonly comparison: Comparison;
  readonly names: readonly string[];
}

/** A comparison in a page: answer, tables, pictures and sentences, each placed where the page wants it. */
export function compareBench(opened: OpenedLine) {
  const comparer = createComparer();
  const answer = answerBox();
  const progress = progressBox(() => comparer.stop());
  const problems = issuesView(document, { most: 6 });
  const tables = compareTables();
  const leftOut = el(document, "ul", { class: "compare-left-out" });
  const differences = el(document, "dl", { class: "place-facts compare-differences" });
  const picture = (figure: CompareFigure, label: string, height: (width: number) => number): FigurePlace<Shown> =>
    figurePlace<Shown>(document, {
      label,
      title: ({ comparison }) => `${comparison.title} ${figure}`,
      draw: ({ comparison, names }, drawing) => {
        const drawn = compareFigure(figure, comparison, drawing, names);
        if (drawn === null) throw new Error("no line has waveforms; runs of more than a minute keep none here.");
        return drawn;
      },
      csv: ({ comparison }) => comparisonCsv(comparison),
      reserve: height,
    });
  const multiples = picture("multiples", "Every scheme on the same axes", (width) => (width < 620 ? 1500 : 760));
  const overlay = picture("overlay", "All schemes in one picture", (width) => (width < 620 ? 640 : 540));
  const order = choice(document, {
    label: "Order",
    options: [
      { value: "best", label: "the best first" },
      { value: "list", label: "as in the list" },
    ],
    value: opened.view("order") === "list" ? "list" : "best",
  });
  const beside = choice(document, {
    label: "Set beside",
    as: "menu",
    options: [{ value: AS_IT_STANDS, label: AS_IT_STANDS }],
    value: AS_IT_STANDS,
  });
  order.addEventListener("input", () => opened.look({ order: order.value }));
  beside.classList.add("compare-beside");
  beside.addEventListener("input", () => opened.look({ beside: beside.value }));

  let found: Comparison | null = null;
  let asked: string | null = null;
  let timer: ReturnType<typeof setTimeout> | undefined;
  let looked = "";
  const busy = (running: boolean): void => {
    for (const each of [answer.element, answer.difference, tables.fault, tables.after, tables.service, differences])
      each.setAttribute("aria-busy", String(running));
    multiples.busy(running);
    overlay.busy(running);
  };
  const show = (comparison: Comparison): void => {
    const { rows } = comparison;
    const list = [AS_IT_STANDS, ...schemesOf(opened.line.now).map(({ name }) => name)];
    const place = (name: string): number => list.indexOf(name) + (list.includes(name) ? 0 : list.length);
    const isListed = opened.view("order") === "list";
    const ordered = isListed ? rows.toSorted((a, b) => place(a.name) - place(b.name)) : rows;
    const names = ordered.map(({ name }) => name);
    tables.show(comparison, ordered);
    multiples.show({ comparison, names });
    overlay.show({ comparison, names });
    const judged = rows.filter(({ kind }) => kind === "judged").map(({ name }) => name);
    const first = judged.includes(opened.view("beside")) ? opened.view("beside") : (judged[0] ?? AS_IT_STANDS);
    const offered = judged.length > 0 ? judged : [AS_IT_STANDS];
    beside.update({ options: offered.map((name) => ({ value: name, label: name })), value: first });
    order.value = isListed ? "list" : "best";
    differences.replaceChildren(
      ...judged
        .filter((name) => name !== first)
        .flatMap((name) => [
          el(document, "dt", {}, name),
          el(document, "dd", {}, differenceOf(comparison, first, name)),
        ]),
    );
    const out = comparison.leftOut.map(({ name, why }) => el(document, "li", {}, `${name} does not take part. ${why}`));
    leftOut.replaceChildren(...out);
    answer.show(comparison);
  };
  const refuse = (message: string, issues: readonly Issue[] = []): void => {
    progress.done();
    problems.show(issues);
    answer.refuse(message);
    busy(false);
  };
  const ask = ({ text, title }: LineNow): void => {
    comparer.ask(text, `${title}.yaml`, {
      progress: progress.show,
      found: (of: Comparison | CompareRefused) => {
        if (of.kind === "refused") {
          const errors = of.issues.filter(({ severity }) => severity === "error");
          refuse(errors[0]?.message ?? "This line cannot be compared.", of.issues);
          return;
        }
        found = of;
        progress.done();
        problems.show([]);
        show(of);
        busy(false);
      },
      failed: (message) => refuse(`It broke off: ${message}`),
    });
  };
  const unfollow = opened.line.follow((now) => {
    const key = JSON.stringify([opened.view("order"), opened.view("beside")]);
    if (now.text !== asked) {
      clearTimeout(timer);
      busy(true);
      // The first answer is not waited for.
      timer = setTimeout(() => ask(now), asked === null ? 0 : STILL);
      asked = now.text;
    } else if (found !== null && key !== looked) show(found);
    looked = key;
  });
  return {
    answer: el(document, "div", {}, answer.element, problems.element),
    difference: answer.difference,
    progress: progress.element,
    order,
    table: tables.fault,
    leftOut,
    multiples: multiples.element,
    overlay: overlay.element,
    beside,
    differences,
    after: tables.after,
    service: tables.service,
    leave(): void {
      clearTimeout(timer);
      unfollow();
      comparer.dispose();
      multiples.leave();
      overlay.leave();
    },
  };
}

const TONES = { inside: "safe", withstood: "withstood", beyond: "endangered" } as const;

function answerBox() {
  const tag = el(document, "strong", { class: "verdict-tag" }, "…");
  const headline = el(document, "p", { class: "verdict-headline" }, "Running every scheme on the same fault …");
  const line = el(document, "div", { class: "verdict-line", role: "status" }, tag, headline);
  const difference = el(document, "p", { class: "compare-difference" });
  const element = el(
    document,
    "section",
    { class: "verdict", "data-tone": "none", "aria-label": "Which scheme" },
    line,
  );
  return {
    element,
    difference,
    show(comparison: Comparison): void {
      const judged = comparison.rows.filter((row) => row.kind === "judged");
      const [best, second] = judged;
      const safe = judged.filter((row) => row.safe && !row.tooClose);
      const hurt = safe.filter(({ hazard }) => hazard !== "none").length;
      element.dataset.tone = best === undefined ? "none" : best.hazard === "none" ? TONES[best.grade] : "withstood";
      const hazard = hurt === 0 ? "" : `, ${hurt} with a hazard`;
      setText(tag, comparison.stopped ? "Stopped" : `Load safe in ${safe.length} of ${judged.length}${hazard}`);
      setText(headline, comparisonHeadline(comparison.rows));
      const other = best?.isBase === true ? second : judged.find(({ isBase }) => isBase);
      const pair = best === undefined || other === undefined ? "" : differenceOf(comparison, best.name, other.name);
      setText(difference, pair);
    },
    refuse(message: string): void {
      element.dataset.tone = "none";
      setText(tag, "No answer");
      setText(headline, message);
      setText(difference, "");
    },
  };
}

/** How far it is; its place is kept. */
function progressBox(stop: () => void) {
  const bar = el(document, "progress", { max: 1, value: 0, "aria-label": "Comparison" });
  const words = el(document, "span", { class: "progress-words" });
  const end = button(document, { label: "Stop", name: "Stop the comparison", press: stop });
  const element = el(document, "div", { class: "progress", "data-idle": true }, bar, words, end);
  return {
    element,
    show({ done, of, name }: { readonly done: number; readonly of: number; readonly name: string }): void {
      element.removeAttribute("data-idle");
      bar.value = of === 0 ? 0 : done / of;
      setText(words, `${done} of ${of}: ${name}`);
    },
    done(): void {
      element.setAttribute("data-idle", "");
    },
  };
}
