import {
  collect,
  parseScenario,
  reproduce,
  samplesCsv,
  summarise,
  type TolerancesSummary,
  tolerancesHeadline,
  USUAL_OPTIONS,
} from "@railfault/sim";
import { type TolerancesData, tolerancesData, tolerancesFigure } from "@railfault/sim/figures";
import { button, choice, el, setText } from "../../controls/index.ts";
import type { OpenedLine } from "../../line/open.ts";
import { figurePlace, issuesView } from "../../show/index.ts";
import { deviceOf, devices, tripSpread, usualSpreads } from "./spreads.ts";
import { studyRunner } from "./study-runner.ts";

/** What is drawn by itself whenever the line changes, and what can be asked for. */
const QUICK = 100;
const COUNTS = [QUICK, 1000, 10_000];
/** How long the line must stand still, ms. */
const STILL = 400;

/** The tolerances of the line in hand: controls, the answer in words, the figure. */
export function sureBench(opened: OpenedLine) {
  const answer = el(document, "p", { class: "verdict-headline", role: "status" }, `${QUICK} samples are being drawn …`);
  const rows = el(document, "dl", { class: "place-facts" });
  const problems = issuesView(document);
  let csv: (() => Iterable<string>) | null = null;
  let worst: string | null = null;
  const place = figurePlace<TolerancesData>(document, {
    label: "How sure it is",
    title: ({ title }) => title,
    draw: tolerancesFigure,
    csv: () => csv?.() ?? [],
    reserve: (width) => (width < 620 ? 1000 : 540),
  });
  const openWorst = button(document, {
    label: "Open the worst sample",
    disabled: true,
    press: () => {
      if (worst !== null) opened.line.open({ kind: "own", name: "worst sample", text: worst });
    },
  });
  const give = button(document, {
    label: "Give it spreads",
    press: () => opened.line.set("spreads", usualSpreads(opened.line.now)),
  });
  const count = choice(document, {
    label: "Samples",
    options: COUNTS.map((each) => ({ value: String(each), label: String(each) })),
    value: String(QUICK),
  });
  const begin = (samples: number): void => {
    const { text, title, lostSpreads } = opened.line.now;
    const file = `${title}.yaml`;
    void runner.start(async (crew, hooks) => {
      const found = await collect(text, file, { ...USUAL_OPTIONS, samples }, crew, hooks);
      const none = found.kind === "refused" && found.issues.every(({ code }) => code === "no-spreads");
      give.hidden = !none;
      problems.show(found.kind === "refused" && !none ? found.issues : []);
      if (found.kind === "refused") {
        if (none) setText(answer, "No value of this line carries a spread yet: “Give it spreads” writes some into it.");
        // Nothing to draw, and nothing to save.
        place.element.hidden = none;
        return;
      }
      const summary = summarise(found.collected);
      csv = () => samplesCsv(found.collected);
      worst = summary.worst === null ? null : reproduce(text, summary.worst, parseScenario(text, file).spreads);
      openWorst.disabled = worst === null;
      setText(answer, tolerancesHeadline(summary));
      rows.replaceChildren(...factsOf(summary, lostSpreads));
      place.element.hidden = false;
      place.show(tolerancesData(found.collected, summary));
    });
  };
  const runner = studyRunner({
    label: "Draw the samples",
    name: "Samples",
    press: () => begin(Number(count.value)),
    busy: (running) => busy(running),
  });
  const section = el(
    document,
    "section",
    { class: "verdict sure-answer", "aria-label": "How sure it is" },
    answer,
    rows,
    problems.element,
  );
  // The picture is not there while nothing scatters: the answer is waited for as well.
  const busy = (running: boolean): void => {
    place.busy(running);
    section.setAttribute("aria-busy", String(running));
  };
  give.hidden = true;
  const device = opened.choice({
    label: "Threshold of the crowbar",
    help: "What the trip point is made with.",
    as: "menu",
    options: devices.map((name) => ({ value: name, label: name, changes: tripSpread(name) })),
    current: deviceOf,
    otherwise: "as in the line’s file",
  });
  const trip = opened.range({
    label: "Trip point",
    path: ["crowbar", "trip voltage"],
    dimension: "voltage",
    min: 14,
    max: 17,
    step: 0.05,
  });
  let timer: ReturnType<typeof setTimeout> | undefined;
  let last: string | null = null;
  const stop = opened.line.follow(({ text }) => {
    if (text === last) return;
    clearTimeout(timer);
    busy(true);
    // The first picture is not waited for.
    timer = setTimeout(() => begin(QUICK), last === null ? 0 : STILL);
    last = text;
  });
  return {
    controls: [device, trip, count, runner.element, give, openWorst],
    answer: section,
    figure: place.element,
    leave(): void {
      clearTimeout(timer);
      stop();
      runner.cancel();
      place.leave();
    },
  };
}

/** What stands below the answer: how it ended, what matters most, the corners. */
function factsOf({ outcomes, influences, corners }: TolerancesSummary, lost: readonly string[]): HTMLElement[] {
  const ends = outcomes.map(({ outcome, chance }) => `${chance.count} × ${outcome}`).join("; ");
  const [most] = influences;
  const matters =
    most?.withPeak === null || most === undefined
      ? "nothing"
      : `${most.label} (rank correlation ${most.withPeak.toFixed(2)})`;
  const passed = corners.passed ? "; the worst sample is worse" : "";
  const worst = `${corners.worst === null ? "none" : `${corners.worst.outcome}, of ${corners.count} corners`}${passed}`;
  const facts = [
    ["How the samples ended", ends],
    ["What the peak depends on most", matters],
    ["What matters most, all at its worst ends", worst],
    ...(lost.length === 0 ? [] : [["Spreads left out, for their values were changed", lost.join(", ")] as const]),
  ] as const;
  return facts.flatMap(([name, text]) => [el(document, "dt", {}, name), el(document, "dd", {}, text)]);
}
