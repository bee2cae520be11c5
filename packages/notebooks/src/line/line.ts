import { FitMemory, type Issue, parseScenario, type ScenarioResult } from "@railfault/sim";
import { fileOf } from "../kept/exchange/file-names.ts";
import { type History, keepHistory } from "../kept/history.ts";
import type { Change, LineChoice, PageState, Path } from "../kept/state.ts";
import { applyChanges } from "./apply.ts";
import { mergeChanges, samePath } from "./merge.ts";
import { shippedLine } from "./shipped.ts";
import { withoutLostSpreads } from "./spreads.ts";

/** A line as it stands at one moment. */
export interface LineNow {
  readonly state: PageState;
  /** The scenario file. */
  readonly text: string;
  /** The file as the library reads it; its scenario is null where the text has errors. */
  readonly parsed: ScenarioResult;
  /** The file as it was opened, without the changes. */
  readonly original: ScenarioResult;
  /** What the line is called: its title, else its name. */
  readonly title: string;
  /** Changes that the text could not take, left out of it. */
  readonly refused: readonly Issue[];
  /** Paths of the spreads that the changes left behind, and that went with them. */
  readonly lostSpreads: readonly string[];
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
  /** Of all readings of this line. */
  readonly memory = new FitMemory();
  // The same changes are asked for twice in a row.
  private readonly applied = remembering((text: string, changes: readonly Change[]) =>
    applyChanges(text, changes, this.memory),
  );
  private present: LineNow;

  /**
   * @param clock ms
   * @param arranged keys of the view that are a person's work: undo brings back what they were
   */
  constructor(
    state: PageState,
    clock: () => number = () => performance.now(),
    private readonly arranged: readonly string[] = [],
  ) {
    this.history = keepHistory(state, clock);
    this.present = this.read(state, null);
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
   * @returns what the text could not take; then nothing is changed, and `now.refused` tells it too
   */
  set(label: string, changes: readonly Change[], key?: string): readonly Issue[] {
    const { state } = this.present;
    const base = baseText(state.line);
    // What an address wished and the text could not take must not stand in the way of all that follows.
    const standing = this.applied(base, state.changes).taken;
    return this.put(mergeChanges(base, standing, changes, this.memory), label, key);
  }

  /**
   * Takes back one change; the others stay.
   *
   * @returns which of the others cannot stay without it; then nothing is changed
   */
  takeBack(path: Path, label: string): readonly Issue[] {
    const rest = this.present.state.changes.filter(([at]) => !samePath(at, path));
    return this.put(rest, label);
  }

  /** Takes back everything that was changed since the line was opened. */
  reset(): void {
    if (this.present.state.changes.length > 0)
      this.history.change({ ...this.present.state, changes: [] }, "start over");
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

  /** The present text is kept under a name: from here on changes are counted from it. No step of undo. */
  keptAs(name: string): void {
    const { state, text } = this.present;
    this.history.replace({ ...state, line: { kind: "own", name, text }, changes: [] });
  }

  /** The line has another name. No step of undo. */
  rename(name: string): void {
    const { state } = this.present;
    if (state.line.kind === "own") this.history.replace({ ...state, line: { ...state.line, name } });
  }

  /** Looks at something else; undo passes over it. */
  look(view: Readonly<Record<string, string>>): void {
    const { state } = this.present;
    this.present = { ...this.present, state: { ...state, view: { ...state.view, ...view } } };
    this.tell();
  }

  /** Arranges something beside the line: a step of undo; `key` as in `set`. */
  arrange(label: string, view: Readonly<Record<string, string>>, key?: string): void {
    const { state } = this.present;
    this.history.change({ ...state, view: { ...state.view, ...view } }, label, key);
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

  private put(changes: readonly Change[], label: string, key?: string): readonly Issue[] {
    const { state } = this.present;
    const { refused } = this.applied(baseText(state.line), changes);
    if (refused.length === 0) this.history.change({ ...state, changes }, label, key);
    else {
      // Controls that showed the wish go back to what the line says.
      this.present = { ...this.present, refused };
      this.tell();
    }
    return refused;
  }

  private show(state: PageState): void {
    // What is only looked at is not part of what can be undone.
    const view = { ...state.view, ...this.present.state.view };
    for (const key of this.arranged) view[key] = state.view[key] ?? "";
    this.present = this.read({ ...state, view }, this.present);
    this.tell();
  }

  private read(state: PageState, before: LineNow | null): LineNow {
    const { name } = state.line;
    const base = baseText(state.line);
    const { text: changed, refused } = this.applied(base, state.changes);
    const parse = (wanted: string): ScenarioResult => {
      if (before?.text === wanted) return before.parsed;
      if (before !== null && baseText(before.state.line) === wanted) return before.original;
      return parseScenario(wanted, fileOf(name), this.memory);
    };
    const original = parse(base);
    const standing =
      changed === base
        ? { text: base, parsed: original, lost: [] }
        : original.scenario === null
          ? { text: changed, parsed: parse(changed), lost: [] }
          : withoutLostSpreads(changed, parse);
    const { text, parsed, lost } = standing;
    return { state, text, parsed, original, refused, lostSpreads: lost, title: parsed.about.title || name };
  }

  private tell(): void {
    for (const listener of this.listeners) listener(this.present);
  }
}

/** The text of a line as it was opened. */
export function baseText(line: LineChoice): string {
  return line.kind === "own" ? line.text : shippedLine(line.name).text;
}

/** Remembers the last answer. */
function remembering<A, B, Out>(compute: (a: A, b: B) => Out): (a: A, b: B) => Out {
  let last: { readonly a: A; readonly b: B; readonly out: Out } | null = null;
  return (a, b) => {
    if (last === null || last.a !== a || last.b !== b) last = { a, b, out: compute(a, b) };
    return last.out;
  };
}
