import { type Issue, parseScenario, type ScenarioResult } from "@railfault/sim";
import { type History, keepHistory } from "../kept/history.ts";
import type { Change, LineChoice, PageState, Path } from "../kept/state.ts";
import { applyChanges } from "./apply.ts";
import { shippedLine } from "./shipped.ts";

/** A line as it stands at one moment. */
export interface LineNow {
  readonly state: PageState;
  /** The scenario file. */
  readonly text: string;
  /** The file as the library reads it; its scenario is null where the text has errors. */
  readonly parsed: ScenarioResult;
  /** What the line is called: its title, else its name. */
  readonly title: string;
  /** Changes that the text could not take, left out of it. */
  readonly refused: readonly Issue[];
}

/**
 * The line in hand: a scenario text with what a person changed in it, step by step and back. The text is the truth;
 * controls, pictures and the address follow it.
 *
 * @example
 * const line = new Line({ line: { kind: "shipped", name: "04-foldback" }, changes: [], view: {} });
 * line.set("main fuse", [[["main fuse"], "blade fuse 15 A"]]);
 * line.now.text; // … main fuse: blade fuse 15 A …
 */
export class Line {
  private readonly history: History<PageState>;
  private readonly listeners = new Set<(now: LineNow) => void>();
  private present: LineNow;

  constructor(state: PageState, clock: () => number = () => performance.now()) {
    this.history = keepHistory(state, clock);
    this.present = lineNow(state, null);
    this.history.listen(({ value }) => this.show(value));
  }

  get now(): LineNow {
    return this.present;
  }

  /** What undo would take back; null when there is nothing. */
  get undoLabel(): string | null {
    return this.history.undoLabel;
  }

  /** What redo would make again; null when there is nothing. */
  get redoLabel(): string | null {
    return this.history.redoLabel;
  }

  /**
   * Changes values of the line.
   *
   * @param label what undo calls it
   * @param changes each a path with the text to stand there; null takes away what stands there
   * @param key changes with the same key within a moment are one step of undo (a slider that is being moved)
   * @returns what the text could not take; then nothing is changed
   */
  set(label: string, changes: readonly Change[], key?: string): readonly Issue[] {
    const { state } = this.present;
    const merged = mergeChanges(state.changes, changes);
    const { refused } = applyChanges(baseText(state.line), merged);
    if (refused.length > 0) return refused;
    this.history.change({ ...state, changes: merged }, label, key);
    return [];
  }

  /** Takes back everything that was changed since the line was opened. */
  reset(): void {
    if (this.present.state.changes.length > 0)
      this.history.change({ ...this.present.state, changes: [] }, "all changes");
  }

  /** Puts another text in place of the present one: somebody wrote in it. */
  edit(text: string, key?: string): void {
    if (text === this.present.text) return;
    const { state, title } = this.present;
    const name = state.line.kind === "own" ? state.line.name : shippedLine(state.line.name).title;
    const line: LineChoice = { kind: "own", name: name || title, text };
    this.history.change({ ...state, line, changes: [] }, "text", key);
  }

  /** Opens another line; undo comes back to this one. */
  open(line: LineChoice): void {
    const name = line.kind === "own" ? line.name : shippedLine(line.name).title;
    this.history.change({ ...this.present.state, line, changes: [] }, `open ${name}`);
  }

  /** Looks at something else; undo passes over it. */
  look(view: Readonly<Record<string, string>>): void {
    const { state } = this.present;
    this.present = { ...this.present, state: { ...state, view: { ...state.view, ...view } } };
    this.tell();
  }

  /** Puts the whole state back: an address was followed, a draft found. Undo comes back from it. */
  restore(state: PageState, label: string): void {
    const { view } = state;
    this.history.change(state, label);
    this.look(view);
  }

  /** The next change is a step of undo of its own: a slider was let go. */
  settle(): void {
    this.history.settle();
  }

  undo(): void {
    this.history.undo();
  }

  redo(): void {
    this.history.redo();
  }

  /** Calls back at once and after every change; gives what ends it. */
  follow(listener: (now: LineNow) => void): () => void {
    const own = (now: LineNow): void => listener(now);
    this.listeners.add(own);
    own(this.present);
    return () => this.listeners.delete(own);
  }

  private show(state: PageState): void {
    // What is looked at is not part of what can be undone.
    const { view } = this.present.state;
    this.present = lineNow({ ...state, view: { ...state.view, ...view } }, this.present);
    this.tell();
  }

  private tell(): void {
    for (const listener of [...this.listeners]) listener(this.present);
  }
}

/** The text of a line as it was opened. */
export function baseText(line: LineChoice): string {
  return line.kind === "own" ? line.text : shippedLine(line.name).text;
}

function lineNow(state: PageState, before: LineNow | null): LineNow {
  const { text, refused } = applyChanges(baseText(state.line), state.changes);
  const { name } = state.line;
  if (before !== null && before.text === text) return { ...before, state, refused };
  const parsed = parseScenario(text, `${name}.yaml`);
  return { state, text, parsed, refused, title: parsed.about.title || name };
}

/** Later changes stand for earlier ones of the same path; what is changed below a path that is replaced goes with it. */
function mergeChanges(before: readonly Change[], added: readonly Change[]): readonly Change[] {
  return added.reduce<readonly Change[]>((kept, change) => {
    const rest = kept.filter(([path]) => !startsWith(path, change[0]));
    return [...rest, change];
  }, before);
}

function startsWith(path: Path, start: Path): boolean {
  return path.length >= start.length && start.every((step, i) => path[i] === step);
}
