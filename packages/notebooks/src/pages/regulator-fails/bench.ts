import type { Issue } from "@railfault/sim";
import { figureData, figureOfRun, type HeadroomData, headroomData, headroomFigure } from "@railfault/sim/figures";
import { el, setText, toggle } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { SchemeRun } from "../../line/runs.ts";
import type { Answer } from "../../run/protocol.ts";
import { faultView, figurePlace, issuesView, pendingLines, putLines, verdictView, whenSeen } from "../../show/index.ts";
import { protectionOf } from "./compare.ts";
import { keptView } from "./kept-view.ts";
import type { Shows } from "./pictures.ts";
import { runProgress } from "./run-progress.ts";
import { transmitNote } from "./transmit-note.ts";
import { worthView } from "./worth.ts";

interface AnswerView {
  /** The verdict, and whether it is the line's own. */
  readonly element: HTMLElement;
  /** What is not over yet, in full: on a small screen the answer that stays in sight has no room for it. */
  readonly pending: HTMLElement;
  /** What is wrong with the line; it may be long, and scrolls with what it belongs to. */
  readonly problems: HTMLElement;
  /** How far a long run has come. */
  readonly progress: HTMLElement;
  show(run: SchemeRun): void;
  leave(): void;
}

/** The answer above the pictures. */
export function answerView(opened: OpenedLine): AnswerView {
  const verdict = verdictView(document, { parts: "answer" });
  const problems = issuesView(document, { places: false });
  const failed = el(document, "p", { class: "figure-failure", role: "alert", hidden: true });
  // The comparison beside it, where there is one, is run behind it.
  const progress = runProgress(opened, ["line", "bare"]);
  const old = el(document, "p", { class: "not-run", role: "status", hidden: true });
  // Beside another verdict each is told whose it is.
  const whose = el(document, "p", { class: "whose", hidden: true });
  const pending = el(document, "div", { class: "bench-pending whole", hidden: true });
  const transmit = transmitNote(opened);
  let shown: Answer | null = null;
  verdict.show(null);
  const element = el(document, "div", {}, old, whose, verdict.element);
  const below = el(document, "div", { class: "bench-problems" }, problems.element, failed, transmit.element);
  reserveAbove(element);
  const name = (): void => {
    whose.hidden = shown === null || opened.view("compare") !== "yes";
    if (shown !== null) setText(whose, `With ${protectionOf(shown.scenario) ?? "nothing that protects"}`);
  };
  const endNaming = opened.now(name);
  return {
    element,
    pending,
    problems: below,
    progress: progress.element,
    leave() {
      endNaming();
      progress.leave();
      transmit.leave();
    },
    show({ status, answer, issues, message }) {
      // Where nothing could be run yet, no text may go on promising a run.
      if (answer === null && status !== "running") verdict.show(null, "This line was not run.");
      else if (answer !== shown || answer === null) {
        verdict.show(answer?.verdict ?? null);
        putLines(pending, pendingLines(document, answer?.verdict ?? null));
        pending.hidden = pending.childElementCount === 0;
      }
      shown = answer;
      name();
      verdict.busy(status === "running");
      // No run is on its way where the very first text cannot be run.
      verdict.element.hidden = answer === null && status !== "running";
      problems.show(status === "refused" ? issues : []);
      if (status !== "running") {
        old.hidden = answer === null || (status !== "refused" && status !== "failed");
        setText(old, old.hidden ? "" : notRun(issues));
        // Where nothing could be run yet, what is wrong is the answer.
        const place = answer === null ? element : below;
        if (problems.element.parentElement !== place) place.prepend(problems.element);
      }
      failed.hidden = status !== "failed";
      setText(failed, message ?? "");
    },
  };
}

function notRun(issues: readonly Issue[]): string {
  const first = issues.find(({ severity }) => severity === "error");
  return `Not run. ${first === undefined ? "" : `${first.message} `}Verdict and pictures are of the line before.`;
}

/** Tells the style sheet how high the answer stands in sight: what is turned keeps below it. */
function reserveAbove(answer: HTMLElement): void {
  if (typeof ResizeObserver === "undefined") return;
  new ResizeObserver(() => {
    const above = answer.parentElement;
    above?.parentElement?.style.setProperty("--answer-height", `${above.offsetHeight}px`);
  }).observe(answer);
}

/** Calls back with each new answer of a run, not with the steps on the way to it. */
export function onAnswer(runs: OpenedLine["runs"], name: string, shown: (answer: Answer) => void): () => void {
  let last: Answer | null = null;
  return runs((map) => {
    const answer = map.get(name)?.answer ?? null;
    if (answer === null || answer === last) return;
    last = answer;
    shown(answer);
  });
}

/** What the radio saw, over time, with the close-up that the page's address remembers. */
export function timeView(opened: OpenedLine): Shows & { busy(running: boolean): void } {
  let answer: Answer | null = null;
  const kept = keptView(opened);
  const seen = faultView(document, {
    label: "What the radio saw",
    view: kept.view,
    csv: () => {
      const figure = answer === null ? null : figureOfRun("fault", answer);
      return figure === null || "missing" in figure ? [] : figure.csv();
    },
  });
  return {
    element: seen.element,
    busy: seen.busy,
    show(next) {
      answer = next;
      seen.show(figureData(next.run, next.verdict));
    },
    leave() {
      kept.leave();
      seen.leave();
    },
  };
}

/** The verdict in detail; a slider does not wait for it where it is out of sight. */
export function detailsView(): Shows {
  const details = verdictView(document, { parts: "rest" });
  let answer: Answer | null = null;
  const writing = whenSeen(document, details.element, () => details.show(answer?.verdict ?? null));
  return {
    element: details.element,
    show(next) {
      answer = next;
      writing.wanted();
    },
    leave: writing.leave,
  };
}

/** How near each watched limit came. */
export function headroomView(): Shows {
  const place = figurePlace<HeadroomData>(document, {
    label: "Headroom",
    title: ({ title }) => `${title}, headroom`,
    draw: headroomFigure,
  });
  const nothing = el(document, "p", { class: "aside", hidden: true }, "Nothing in this run has a limit to draw.");
  return {
    element: el(document, "div", {}, place.element, nothing),
    show({ run, verdict }) {
      const data = verdict.kind === "verdict" ? headroomData(verdict, run) : null;
      nothing.hidden = data !== null && data.limits.length > 0;
      place.element.hidden = !nothing.hidden;
      if (data !== null && nothing.hidden) place.show(data);
    },
    leave: () => place.leave(),
  };
}

interface WorthBench {
  /** One click away. */
  readonly wanted: HTMLElement;
  /** The comparison; hidden until somebody wants it. */
  readonly element: HTMLElement;
  leave(): void;
}

/** The same fault where nothing protects, beside the line as it stands. */
export function worthBench(opened: OpenedLine): WorthBench {
  const wanted = toggle(document, {
    label: "Compare: nothing protects",
    value: false,
    help: "The same fault on the same line without crowbar, clamp and switch. The main fuse stays: it protects the wire.",
  });
  const worth = worthView();
  const element = el(
    document,
    "section",
    { class: "worth", "aria-label": "What the protection is worth", hidden: true },
    worth.element,
  );
  wanted.addEventListener("input", () => opened.look({ compare: wanted.value ? "yes" : "no" }));
  const stops = [
    opened.now(() => {
      wanted.value = opened.view("compare") === "yes";
      if (!wanted.value) element.hidden = true;
    }),
    opened.runs((runs) => {
      const [line, bare] = [runs.get("line"), runs.get("bare")];
      // Two runs of different lines are no comparison: both must be there.
      if (!line?.answer || !bare?.answer || line.status === "running" || bare.status === "running") return;
      element.hidden = false;
      worth.show({ guarded: line.answer, bare: bare.answer });
    }),
  ];
  return {
    wanted,
    element,
    leave() {
      for (const stop of stops) stop();
      worth.leave();
    },
  };
}
