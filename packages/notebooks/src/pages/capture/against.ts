import type { CaptureJudgement, FitOptions, Issue } from "@railfault/sim";
import { button, choice, el } from "../../controls/index.ts";
import type { LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import type { CaptureThread } from "../../run/capture-thread.ts";
import { issuesView } from "../../show/index.ts";
import { fittedView } from "./fitted.ts";
import { freeValues } from "./free-values.ts";
import { laidView } from "./laid.ts";
import { captureProgress } from "./progress.ts";
import { takingView } from "./taking.ts";

/** How long the line must stand still, ms. */
const STILL = 350;
/** A longer capture is laid on the line when asked for: it takes seconds. */
const BY_ITSELF = 200_000;

const BY_NAME = "by its name";

/** The capture held against the line in hand: laid over its run, and fitted to. */
export function againstView(opened: OpenedLine, thread: CaptureThread) {
  const laid = laidView("Captured and simulated");
  const fitted = laidView("With the values found");
  const found = fittedView();
  const taking = takingView(opened);
  const told = { title: "", places: false };
  const problems = issuesView(document, told);
  const channels = el(document, "div", { class: "capture-fields" });
  const menus = new Map<string, ReturnType<typeof choice>>();
  const align = choice(document, {
    label: "Lay it on the run by",
    options: [
      { value: "threshold", label: "its first edge" },
      { value: "correlation", label: "its likeness" },
    ],
    value: opened.view("align") === "correlation" ? "correlation" : "threshold",
  });
  const zero = choice(document, {
    label: "The instrument’s zero",
    options: [
      { value: "0.01", label: "off by 1 %" },
      { value: "0", label: "is right" },
    ],
    value: opened.view("zero") === "0" ? "0" : "0.01",
    help: "Of what a channel swings through, as a standard uncertainty. Right: a meter told it.",
  });
  align.addEventListener("input", () => opened.look({ align: align.value }));
  zero.addEventListener("input", () => opened.look({ zero: zero.value }));
  const free = freeValues(opened.view("free"), (written) => opened.look({ free: written }));
  const progress = captureProgress("Search for the values", () => thread.stop());
  const layAgain = button(document, { label: "Lay it over the run", press: () => void lay() });
  const begin = button(document, { label: "Find the values", kind: "main", press: () => void fit() });
  let judgement: CaptureJudgement | null = null;
  let line: LineNow = opened.line.now;
  let columns: readonly { readonly name: string; readonly unit: string }[] = [];
  let timer: ReturnType<typeof setTimeout> | undefined;
  /** It is to be laid over the run and was not yet: another question may have come between. */
  let owed = false;

  const options = (): FitOptions => ({
    free: free.now,
    channels: [...menus].filter(([, menu]) => menu.value !== BY_NAME).map(([name, menu]) => `${name} = ${menu.value}`),
    align: align.value === "correlation" ? "correlation" : "threshold",
    zero: Number(zero.value),
  });
  const refused = (title: string, issues: readonly Issue[]): void => {
    told.title = title;
    problems.show(issues);
  };
  const ask = async (kind: "lay" | "fit", view: ReturnType<typeof laidView>): Promise<void> => {
    if (judgement === null || line.parsed.scenario === null) return;
    clearTimeout(timer);
    view.busy(true);
    progress.begin();
    refused("", []);
    const { text, title } = line;
    const answer = await thread.ask({ kind, text, file: `${title}.yaml`, options: options() }, progress.show);
    // Another question has the bar now.
    if (answer.kind === "superseded") return;
    progress.done();
    view.busy(false);
    if (kind === "lay") owed = false;
    else resume();
    if (answer.kind === "stopped") {
      if (kind === "fit") fitted.none("Cancelled", "The search was cancelled; what was found before stays.");
      else laid.none("Cancelled", "Laying the capture on the run was cancelled.");
    } else if (answer.kind === "failed") view.none("No answer", `It broke off: ${answer.message}`);
    else if (answer.kind === "fitted" && answer.answer.kind === "refused") {
      refused(
        kind === "fit" ? "Nothing was searched for" : "The capture was not laid on this line",
        answer.answer.issues,
      );
      view.none("No answer", answer.answer.issues[0]?.message ?? "The two cannot be held against each other.");
    } else if (answer.kind === "fitted" && answer.answer.kind === "fitted") {
      view.show(answer.answer);
      if (kind === "fit") {
        found.show(answer.answer);
        taking.show(answer.answer.scenario, `${title}, fitted`);
      }
    }
  };
  const lay = (): Promise<void> => ask("lay", laid);
  const fit = async (): Promise<void> => {
    clearTimeout(timer);
    await ask("fit", fitted);
  };
  const later = (): void => {
    clearTimeout(timer);
    if (judgement === null) return;
    if (judgement.rows > BY_ITSELF) {
      owed = false;
      laid.busy(false);
      laid.none("Long capture", "This capture is long: “Lay it over the run” takes some seconds.");
      return;
    }
    owed = true;
    laid.busy(true);
    timer = setTimeout(() => void lay(), STILL);
  };
  const resume = (): void => {
    if (owed) later();
  };
  const offer = (): void => {
    const names = judgement?.channels ?? [];
    for (const name of menus.keys()) if (!names.some((each) => each.name === name)) menus.delete(name);
    for (const { name, unit } of names) {
      const list = [BY_NAME, ...columns.filter((column) => column.unit === unit).map((column) => column.name)];
      const choices = list.map((value) => ({ value, label: value.replaceAll("_", " ") }));
      const known = menus.get(name);
      if (known === undefined) {
        const made = choice(document, { label: `“${name}” shows`, as: "menu", options: choices, value: BY_NAME });
        made.addEventListener("input", later);
        menus.set(name, made);
      } else known.update({ options: choices, value: list.includes(known.value) ? known.value : BY_NAME });
    }
    channels.replaceChildren(...menus.values());
  };
  for (const control of [align, zero]) control.addEventListener("input", later);
  let text = "";
  const stops = [
    opened.line.follow((now) => {
      line = now;
      free.show(now);
      if (now.text === text) return;
      text = now.text;
      later();
    }),
    opened.runs((runs) => {
      const trace = runs.get("line")?.answer?.run.trace;
      const next = trace?.columns.filter(({ unit }) => unit === "V" || unit === "A") ?? [];
      if (next.map(({ name }) => name).join() === columns.map(({ name }) => name).join()) return;
      columns = next.map(({ name, unit }) => ({ name, unit }));
      offer();
    }),
  ];
  fitted.none("Not searched yet", "Choose the values that may move, then “Find the values”.");
  return {
    controls: [channels, align, zero, layAgain],
    answer: laid.answer,
    rest: laid.rest,
    problems: problems.element,
    free: free.element,
    begin,
    progress: progress.element,
    fitted: [fitted.answer, found.element, taking.element, ...fitted.rest],
    /** A capture was read; what was fitted to another one stays, but is told as such. */
    show(of: CaptureJudgement): void {
      judgement = of;
      offer();
      later();
    },
    none(why: string): void {
      if (judgement === null) laid.none("No capture", why);
      laid.busy(false);
      resume();
    },
    /** Another question is asked of the thread: nothing comes between by itself. */
    hold: () => clearTimeout(timer),
    resume,
    leave(): void {
      clearTimeout(timer);
      for (const stop of stops) stop();
      laid.leave();
      fitted.leave();
    },
  };
}
