/** A slip of layout in one line, with the change that would mend it. */
export interface Slip {
  /** Counted from 0. */
  readonly line: number;
  readonly column: number;
  readonly length: number;
  readonly message: string;
  readonly hint: string;
  /** The line that the change is made in; lines are never added or taken away. */
  readonly mend: { readonly line: number; readonly of: (line: string) => string };
}

interface Block {
  readonly kind: "map" | "list";
  column: number;
  entries: number;
  readonly opener: number;
}

/** Something in brackets or quotes that goes on behind its line. */
interface Open {
  readonly mark: string;
  readonly line: number;
  readonly column: number;
  /** Column of the entry that it is the value of: nothing inside may begin there. */
  readonly owner: number;
}

const CLOSERS: Readonly<Record<string, string>> = { "{": "}", "[": "]", '"': '"', "'": "'" };
const KEY = /^("[^"]*"|'[^']*'|[^\s#{}[\],"'&*!|>%@`-][^#{}[\]:]*):(?=\s|$)/;
const KEY_WITHOUT_BLANK = /^([A-Za-z][A-Za-z ]*):(?=[^\s:/])/;

const partBefore = (text: string, remark: RegExp): string => text.slice(0, remark.exec(text)?.index);

function closedBefore(line: string, remark: RegExp, closers: string): string {
  const before = partBefore(line, remark);
  return `${before}${closers}${line.slice(before.length)}`;
}

/**
 * Looks over the lines of a text that YAML refused for the slips of those who write it by hand: a line in the wrong column,
 * no blank behind a colon or a dash, no colon, a colon inside a text, brackets and quotes that stay open.
 */
export function slipsOf(text: string): Slip[] {
  const reader = new Layout(text.split("\n").map((line) => line.replace(/\r$/, "")));
  return reader.read();
}

class Layout {
  private readonly slips: Slip[] = [];
  private blocks: Block[] = [];
  private open: Open[] = [];
  /** The last key or dash has nothing behind it yet. */
  private expects = true;
  /** Column of a key whose text stands in the lines below it. */
  private textBelow: number | null = null;
  private lastInside = 0;

  constructor(private readonly lines: readonly string[]) {}

  read(): Slip[] {
    this.lines.forEach((line, at) => {
      const column = line.search(/[^ ]/);
      if (column < 0 || line[column] === "#" || line[column] === "\r") return;
      if (this.textBelow !== null && column > this.textBelow) return;
      this.textBelow = null;
      const outer = this.open.at(0);
      if (outer !== undefined && column > outer.owner) {
        this.inside(line, column, at, outer.owner);
        return;
      }
      this.endOpen();
      this.entry(line, column, at);
    });
    this.endOpen();
    return this.slips;
  }

  private tell(line: number, column: number, length: number, words: Pick<Slip, "message" | "hint" | "mend">) {
    this.slips.push({ line, column, length, ...words });
  }

  private endOpen(): void {
    const first = this.open.at(0);
    if (first === undefined) return;
    const missing = this.open.map(({ mark }) => CLOSERS[mark]).toReversed();
    const { mark, line, column } = first;
    const what = mark === "{" ? "A brace" : mark === "[" ? "A bracket" : "A quote";
    const last = this.lastInside;
    // In other files a # begins a number, not a comment.
    const hidden = this.lines
      .slice(line, last + 1)
      .some((each) => each.includes(missing[0], each.search(/\s#/) + 1 || each.length));
    this.tell(line, column, 1, {
      message: `${what} is opened here and never closed.`,
      hint: `put \`${missing.join("")}\` where it ends${hidden ? ", before the #: it begins a comment (a gauge is written as 14 AWG)" : ""}`,
      mend: { line: last, of: (old) => closedBefore(old, /\s#/, missing.join("")) },
    });
    this.open = [];
  }

  /** Follows brackets and quotes from a column on. */
  private inside(line: string, from: number, at: number, owner: number): void {
    this.lastInside = at;
    for (let column = from; column < line.length; column += 1) {
      const character = line[column];
      const innermost = this.open.at(-1)?.mark;
      if (innermost === '"' || innermost === "'") {
        if (innermost === '"' && character === "\\") column += 1;
        else if (character === innermost) this.open.pop();
      } else if (character === "#" && /\s/.test(line[column - 1] ?? " ")) return;
      else if (innermost !== undefined && character === CLOSERS[innermost]) this.open.pop();
      else if (/[{["']/.test(character) && (/[{[]/.test(character) || /[\s,{[:]/.test(line[column - 1] ?? " ")))
        this.open.push({ mark: character, line: at, column, owner });
      if (this.open.length === 0) return;
    }
  }

  private entry(line: string, begin: number, at: number): void {
    let column = begin;
    let moved = 0;
    let body = line.slice(column);
    while (/^-(\s|$)/.test(body) || /^-[A-Za-z]/.test(body)) {
      moved += this.place("list", column + moved, at, begin, line);
      if (/^-[A-Za-z]/.test(body)) {
        const dash = column;
        this.tell(at, dash, 1, {
          message: "A dash that begins an entry of a list needs a blank behind it.",
          hint: `write \`- ${body.slice(1, 40)}\``,
          mend: { line: at, of: (old) => old.replace(/-(?=[A-Za-z])/, "- ") },
        });
        moved += 1;
        column += 1;
      } else column += (/^-\s*/.exec(body)?.[0] ?? "-").length;
      body = line.slice(column);
      this.expects = true;
      if (body === "" || body.startsWith("#")) return;
    }
    const key = KEY.exec(body) ?? KEY_WITHOUT_BLANK.exec(body);
    if (key === null) {
      this.withoutKey(line, body, column + moved, at);
      return;
    }
    moved += this.place("map", column + moved, at, column === begin ? begin : null, line);
    const value = column + key[0].length;
    if (!/^(\s|$)/.test(line.slice(value))) {
      this.tell(at, value - 1, 1, {
        message: "The colon behind a key needs a blank behind it.",
        hint: `write \`${key[0]} ${line.slice(value, value + 40)}\``,
        mend: { line: at, of: (old) => old.replace(`${key[0]}${line.slice(value)}`, `${key[0]} ${line.slice(value)}`) },
      });
    }
    this.value(line, value, column + moved, at);
  }

  private withoutKey(line: string, body: string, column: number, at: number): void {
    const isText = !/^[{["']/.test(body);
    const beside = this.blocks.some((block) => block.kind === "map" && block.column === column);
    if (isText && (this.expects ? this.isKeyNext(column, at) : beside)) {
      this.tell(at, line.indexOf(body), body.trimEnd().length, {
        message: "No colon stands in this line, so that no key can be told from its value.",
        hint: "write the key, a colon, a blank and the value",
        mend: { line: at, of: (old) => old.replace(/ (?=[{[])|$/, ": ") },
      });
      this.place("map", column, at, null, line);
      const bracket = line.search(/[{[]/);
      this.expects = bracket < 0;
      if (bracket >= 0) this.inside(line, bracket, at, column);
      return;
    }
    this.expects = false;
    if (!isText) this.inside(line, line.indexOf(body), at, Math.min(column - 1, this.blocks.at(-1)?.column ?? -1));
  }

  private value(line: string, from: number, owner: number, at: number): void {
    const behind = line.slice(from);
    const written = partBefore(behind, /(?:^|\s)#/).trim();
    this.expects = written === "";
    if (written === "") return;
    const start = line.indexOf(written, from);
    if (/^[{["']/.test(written)) this.inside(line, start, at, owner);
    else if (/^[|>]/.test(written)) this.textBelow = owner;
    else if (/:(\s|$)/.test(written)) {
      const quoted = JSON.stringify(written);
      this.tell(at, start, written.length, {
        message: "A text that holds a colon and a blank looks like a key with its value.",
        hint: `put the text into quotes: \`${quoted}\`; a further key needs a line of its own`,
        mend: { line: at, of: (old) => old.replace(written, () => quoted) },
      });
    }
  }

  /** Puts an entry into the block that it belongs to; gives by how many columns it ought to stand elsewhere. */
  private place(kind: Block["kind"], column: number, at: number, begin: number | null, line: string): number {
    const top = this.blocks.at(-1);
    const deeper =
      top === undefined || column > top.column || (kind === "list" && top.kind === "map" && column === top.column);
    if (this.expects && deeper) {
      this.blocks.push({ kind, column, entries: 1, opener: at });
      return 0;
    }
    const same = this.blocks.findLast((block) => block.kind === kind && block.column === column);
    if (same !== undefined) {
      this.enter(same);
      return 0;
    }
    const alike = this.blocks.filter((block) => block.kind === kind);
    // Behind a dash there is nothing to be moved.
    if (alike.length === 0 || begin === null) return 0;
    const first = alike.at(-1);
    if (kind === "map" && first !== undefined && first === top && first.entries === 1 && this.severalAt(column, at))
      return this.blameOpener(first, column);
    const nearest = alike.reduce((best, block) =>
      Math.abs(block.column - column) <= Math.abs(best.column - column) ? block : best,
    );
    this.enter(nearest);
    this.tellColumn(at, column, nearest.column, line);
    return nearest.column - column;
  }

  private enter(block: Block): void {
    this.blocks = this.blocks.slice(0, this.blocks.indexOf(block) + 1);
    block.entries += 1;
  }

  /** The lines that follow agree with each other: the first one stands wrong. */
  private blameOpener(block: Block, column: number): number {
    const by = column - block.column;
    const line = this.lines[block.opener];
    const begin = line.search(/[^ ]/);
    this.tellColumn(block.opener, begin, begin + by, line, by === 2 && line[begin] !== "-");
    for (const each of this.blocks) if (each.opener === block.opener) each.column += by;
    block.entries += 1;
    return 0;
  }

  private tellColumn(at: number, column: number, wanted: number, line: string, noDash = false): void {
    const by = wanted - column;
    const count = Math.abs(by) === 1 ? "one column" : `${Math.abs(by)} columns`;
    this.tell(at, column, Math.max(1, line.trim().length), {
      message: `Line ${at + 1} begins ${count} further ${by > 0 ? "left" : "right"} than its neighbours.`,
      hint: `move it to column ${wanted + 1}${noDash ? ", or put a dash and a blank before it if an entry of a list begins there" : ""}`,
      mend: {
        line: at,
        of: (old) => (by > 0 ? `${" ".repeat(by)}${old}` : old.slice(Math.min(-by, old.search(/[^ ]|$/)))),
      },
    });
  }

  /** Whether the next line is a key in this column. */
  private isKeyNext(column: number, at: number): boolean {
    let next = at + 1;
    while (next < this.lines.length && !/^ *[^ #]/.test(this.lines[next])) next += 1;
    const line = this.lines[next] ?? "";
    return line.search(/[^ ]/) === column && KEY.test(line.slice(column));
  }

  /** Whether two entries of maps or more, from here on, begin in this column, one below the other. */
  private severalAt(column: number, from: number): boolean {
    let count = 0;
    for (let at = from; at < this.lines.length && count < 2; at += 1) {
      const line = this.lines[at];
      const begin = line.search(/[^ ]/);
      if (begin < 0 || line[begin] === "#" || begin > column) continue;
      if (begin < column || line[begin] === "-") break;
      count += 1;
    }
    return count > 1;
  }
}
