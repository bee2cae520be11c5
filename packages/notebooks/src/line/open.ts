import type { Problem } from "../kept/problem.ts";
import { createRunner } from "../run/runner.ts";
import { keepFocusInSight, statusLine } from "../show/index.ts";
import { type LineChoiceOptions, type LineRangeOptions, lineChoice, lineRange } from "./controls.ts";
import { type KeptLine, keepLine } from "./keeping.ts";
import type { Line, LineNow } from "./line.ts";
import { patientRunner } from "./patient-runner.ts";
import { refusedHere } from "./refused-here.ts";
import { type RunMap, Runs, type Scheme } from "./runs.ts";
import { type OtherFiles, workBar } from "./work-bar/index.ts";

export interface OpenLineOptions {
  /** The page's name, for its draft. */
  readonly page: string;
  /** The shipped line that it comes with. */
  readonly start: string;
  /** What is looked at: keys of the page with their defaults. */
  readonly views?: Readonly<Record<string, string>>;
  /** Keys of `views` that are a person's work: undo brings back what they were. Left out: none. */
  readonly arranged?: readonly string[];
  /** The page's runs; left out: one, `line`, the line as it stands. */
  readonly schemes?: readonly Scheme[];
  /** Whether the page can show texts with errors too (default no): others keep the present line then. */
  readonly anyText?: boolean;
  /** Files that the page takes itself when they are dropped. */
  readonly otherFiles?: OtherFiles;
}

/** A page's line with all that belongs to it. */
export interface OpenedLine {
  readonly line: Line;
  readonly kept: KeptLine;
  /** Undo, redo, other lines, save, share. */
  readonly bar: HTMLElement;
  /** For `Generators.observe`: the line as it stands. */
  readonly now: (tell: (now: LineNow) => void) => () => void;
  /** For `Generators.observe`: the page's runs. */
  readonly runs: (tell: (runs: RunMap) => void) => () => void;
  /** Ends a long run early; its verdict says so. */
  stop(name: string): void;
  /** Looks again at what each scheme wants to change. */
  rerun(): void;
  range(options: LineRangeOptions): ReturnType<typeof lineRange>;
  choice(options: LineChoiceOptions): ReturnType<typeof lineChoice>;
  view(key: string): string;
  look(view: Readonly<Record<string, string>>): void;
  /** Tells what has just been done. */
  say(message: string): void;
  leave(): void;
}

const ONE_SCHEME: readonly Scheme[] = [{ name: "line", label: "as it stands" }];

/**
 * Opens the line of a page: where it was left, with its controls, its runs and its work bar.
 *
 * @example
 * const opened = await openLine({ page: "battery", start: "08-charger-creep" });
 * invalidation.then(() => opened.leave());
 */
export async function openLine(options: OpenLineOptions): Promise<OpenedLine> {
  const { page, start, views = {}, arranged = [], schemes = ONE_SCHEME } = options;
  const status = statusLine(document);
  document.body.append(status.element);
  const held: { tell: (problems: readonly Problem[]) => void; early: readonly Problem[] } = {
    early: [],
    tell: (problems) => {
      held.early = problems;
    },
  };
  const kept = await keepLine({
    window,
    page,
    fallback: { line: { kind: "shipped", name: start }, changes: [], view: views },
    arranged,
    onProblems: (problems) => held.tell(problems),
  });
  const { line } = kept;
  const { anyText = false, otherFiles = null } = options;
  const bar = workBar(document, { line, kept, say: status.say, anyText, otherFiles });
  held.tell = bar.problems;
  bar.problems(held.early);
  const runner = patientRunner(createRunner());
  const runs = new Runs(line, schemes, runner);
  const endFocus = keepFocusInSight(document);
  const here = refusedHere(document, line);
  // Until the line that was opened is answered, all that is told on the page is of the one before.
  const endDimming = runs.follow((map) => {
    const run = map.get(schemes[0].name);
    here.show(run);
    document.body.toggleAttribute("data-stale", run?.stale === true);
    // While one turns on it stays as it was: it would flicker.
    if (run?.status !== "running")
      document.body.toggleAttribute("data-refused", run?.status === "refused" || run?.status === "failed");
  });
  return {
    line,
    kept,
    bar: bar.element,
    now: (tell) => line.follow(tell),
    runs: (tell) => runs.follow(tell),
    stop: (name) => runs.stop(name),
    rerun: () => runs.refresh(),
    range: (of) => lineRange(document, line, of),
    choice: (of) => lineChoice(document, line, of),
    view: (key) => line.now.state.view[key] ?? views[key] ?? "",
    look: (view) => line.look(view),
    say: status.say,
    leave: () => {
      endFocus();
      endDimming();
      here.leave();
      document.body.removeAttribute("data-stale");
      document.body.removeAttribute("data-refused");
      runs.leave();
      runner.dispose();
      bar.leave();
      kept.leave();
      status.element.remove();
    },
  };
}
