import type { LineChoice } from "../../kept/state.ts";
import type { Entry } from "../../kept/store/records.ts";
import type { Line, LineNow } from "../line.ts";

/** What is kept of a line. */
export interface KeptAs {
  readonly entry: Entry;
  readonly text: string;
}

interface Copy {
  /** Null once it was deleted. */
  kept: KeptAs | null;
}

/**
 * Which kept line the one in hand was opened from or saved as. Only that one may be saved over without asking: a file or
 * a link may bring a line of the same name that is another one.
 */
export class KeptCopies {
  // The history hands the same objects back on undo and redo.
  private readonly copies = new WeakMap<LineChoice, Copy>();
  private readonly byName = new Map<string, Copy>();
  private last: Copy | null = null;
  private before: LineChoice;

  /** @param tell called whenever it is another answer */
  constructor(
    private readonly line: Line,
    private readonly tell: () => void,
  ) {
    this.before = line.now.state.line;
  }

  /** To be called on every change of the line: what is written on top of a kept line belongs to it. */
  follow(now: LineNow): void {
    const { line } = now.state;
    const copy = this.copies.get(this.before);
    if (line !== this.before && copy !== undefined && !this.copies.has(line) && this.line.undoLabel === "text")
      this.copies.set(line, copy);
    this.before = line;
  }

  /** The line in hand is what stands in the store as `entry`. */
  is(entry: Entry, text: string): void {
    const copy = this.byName.get(entry.name) ?? { kept: null };
    copy.kept = { entry, text };
    this.byName.set(entry.name, copy);
    this.copies.set(this.line.now.state.line, copy);
    this.last = copy;
    this.tell();
  }

  /** A kept line got another name, or was deleted (null). */
  changed(name: string, entry: Entry | null): void {
    const copy = this.byName.get(name);
    if (copy === undefined) return;
    this.byName.delete(name);
    if (entry !== null) this.byName.set(entry.name, copy);
    copy.kept = entry === null || copy.kept === null ? null : { ...copy.kept, entry };
    this.tell();
  }

  /** A line that was deleted while it was in hand is kept again. */
  restored(entry: Entry, before: KeptAs): void {
    const copy = this.copies.get(this.line.now.state.line);
    if (copy === undefined || copy.kept !== null) return;
    copy.kept = { ...before, entry };
    this.byName.set(entry.name, copy);
    this.tell();
  }

  /** What the line in hand is kept as; null when it is not. */
  get now(): KeptAs | null {
    return this.copies.get(this.line.now.state.line)?.kept ?? null;
  }

  /** What was kept last, whatever is in hand now. */
  get latest(): KeptAs | null {
    return this.last?.kept ?? null;
  }
}
