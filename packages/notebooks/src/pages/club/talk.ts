import { FitMemory, type Slide } from "@railfault/sim";
import type { TalkPart } from "@railfault/sim/figures";
import { fileOf } from "../../kept/exchange/file-names.ts";
import type { LineChoice } from "../../kept/state.ts";
import { applyChanges } from "../../line/apply.ts";
import { baseText, type LineNow } from "../../line/line.ts";
import type { OpenedLine } from "../../line/open.ts";
import { shippedLine } from "../../line/shipped.ts";
import {
  ALL,
  type Arranged,
  keyOf,
  MOST_LINES,
  type Placed,
  readArranged,
  sayable,
  usual,
  type Words,
  writeArranged,
} from "./arranged.ts";
import { type TextRun, TextRuns } from "./runs.ts";

/** A scenario of the talk. */
export interface TalkLine extends TextRun {
  readonly title: string;
  readonly text: string;
}

/** A slide in the list; its picture is null until its scenario is answered. */
export interface Entry extends Placed {
  readonly key: string;
  /** What the verdict proposes. */
  readonly proposed: Slide | null;
  /** What a person wrote for it, also what it cannot say. */
  readonly written: Words;
  /** With those of a person's words that it can say. */
  readonly slide: Slide | null;
}

/** The talk as it stands. */
export interface TalkNow {
  readonly lines: readonly TalkLine[];
  readonly entries: readonly Entry[];
  /** Of the slides that can be shown: the talk's scenarios and the slides that count them. */
  readonly parts: readonly TalkPart[];
  /** Index of the slide that is looked at. */
  readonly at: number;
  /** False as long as nobody arranged anything: the talk is that of the line in hand. */
  readonly arranged: boolean;
  /** The line in hand, and whether the talk has it. */
  readonly inHand: { readonly title: string; readonly taken: boolean; readonly sound: boolean };
  /** What of the address cannot be used. */
  readonly lost: readonly string[];
}

/** A talk that is being made: the page's state with what came of its scenarios. What is arranged here is undone like a change of the line. */
export class Talk {
  private readonly runs = new TextRuns(() => this.show());
  private readonly memory = new FitMemory();
  private readonly listeners = new Set<(now: TalkNow) => void>();
  private readonly endFollowing: () => void;
  private present: TalkNow;

  constructor(private readonly opened: OpenedLine) {
    this.present = this.read(opened.line.now);
    this.endFollowing = opened.line.follow(() => this.show());
  }

  get now(): TalkNow {
    return this.present;
  }

  follow(listener: (now: TalkNow) => void): () => void {
    this.listeners.add(listener);
    listener(this.present);
    return () => this.listeners.delete(listener);
  }

  go(index: number): void {
    this.opened.look({ at: String(Math.max(0, Math.min(this.present.entries.length - 1, index)) + 1) });
  }

  move(from: number, to: number): void {
    const slides = this.slides();
    slides.splice(to, 0, ...slides.splice(from, 1));
    this.put(`move “${this.told(from)}”`, { slides });
    this.go(to);
  }

  remove(index: number): void {
    const label = `remove “${this.told(index)}”`;
    this.put(label, { slides: this.slides().toSpliced(index, 1) });
    if (index < this.present.at) this.go(this.present.at - 1);
  }

  /** Puts a slide behind the one that is looked at. */
  add(placed: Placed): void {
    const { at, lines } = this.present;
    const offered = lines[placed.line].offered.find(({ id }) => id === placed.id);
    this.put(`add “${offered?.slide.headline ?? placed.id}”`, { slides: this.slides().toSpliced(at + 1, 0, placed) });
    this.go(at + 1);
  }

  /** The line in hand at the end of the talk, with all its usual slides. */
  addInHand(): void {
    const { lines } = this.written();
    const { at, title } = { at: this.present.entries.length, ...this.present.inHand };
    const slides = [...this.slides(), { line: lines.length, id: ALL }];
    this.put(`add ${title}`, { lines: [...lines, this.choice(this.opened.line.now)], slides });
    this.go(at);
  }

  removeLine(index: number): void {
    const { lines, words } = this.written();
    const moved = (placed: Placed): Placed => ({
      ...placed,
      line: placed.line > index ? placed.line - 1 : placed.line,
    });
    const slides = this.slides().filter(({ line }) => line !== index);
    const kept = slides.flatMap((placed) => {
      const said = words.get(keyOf(placed));
      return said === undefined ? [] : [[keyOf(moved(placed)), said] as const];
    });
    const left = lines.toSpliced(index, 1);
    const shown = slides.length === 0 ? usual(left) : slides.map(moved);
    this.put(`remove ${this.present.lines[index].title}`, { lines: left, slides: shown, words: new Map(kept) });
  }

  /** Puts a person's words in the place of the proposed ones; an empty text brings those back. */
  write(of: string, field: keyof Words, text: string): void {
    const index = this.present.entries.findIndex(({ key }) => key === of);
    if (index < 0) return;
    const { key, proposed } = this.present.entries[index];
    const { [field]: _, ...others } = this.written().words.get(key) ?? {};
    const said = text === "" || text === proposed?.[field] ? others : { ...others, [field]: text };
    const words = new Map(this.written().words).set(key, said);
    this.put(`${field} of slide ${index + 1}`, { words, slides: this.slides() });
  }

  /** The talk that is proposed for the line in hand, whatever was arranged. */
  anew(): void {
    this.opened.line.arrange("begin the talk anew", { lines: "", slides: "", words: "" });
    this.go(0);
  }

  leave(): void {
    this.endFollowing();
    this.listeners.clear();
    this.runs.leave();
  }

  private told(index: number): string {
    return this.present.entries[index].slide?.headline ?? "slide";
  }

  private slides(): Placed[] {
    return this.present.entries.map(({ line, id }) => ({ line, id }));
  }

  private written(): Arranged {
    const { line } = this.opened;
    const { arranged } = readArranged(line.now.state.view);
    if (arranged !== null) return arranged;
    const lines = [this.choice(line.now)];
    return { lines, slides: usual(lines), words: new Map() };
  }

  private put(label: string, change: Partial<Arranged>): void {
    this.opened.line.arrange(label, writeArranged({ ...this.written(), ...change }));
  }

  /** A line in hand as the talk keeps it: with its changes it is a line of one's own. */
  private choice({ state, text, title }: LineNow): LineChoice {
    if (state.changes.length === 0) return state.line;
    const name = `${state.line.kind === "own" ? state.line.name : title} (changed)`;
    return { kind: "own", name, text: applyChanges(text, [[["title"], name]], this.memory).text };
  }

  private show(): void {
    this.present = this.read(this.opened.line.now);
    for (const listener of this.listeners) listener(this.present);
  }

  private read(now: LineNow): TalkNow {
    const { arranged, lost } = readArranged(now.state.view);
    const inHand = this.choice(now);
    const plain = { lines: [inHand], slides: usual([inHand]), words: new Map<string, Words>() };
    const { lines: choices, slides, words } = arranged ?? plain;
    const texts = choices.map(baseText);
    const lines = choices.map((choice, i): TalkLine => {
      const title = choice.kind === "own" ? choice.name : shippedLine(choice.name).title;
      return { title, text: texts[i], ...this.runs.of(texts[i], title) };
    });
    this.runs.keep(new Set(texts));
    const answered = lines.filter(({ answer }) => answer !== null);
    const missing = [...lost];
    const expanded = slides.flatMap((placed): Entry[] => {
      const line = lines[placed.line];
      if (line.status !== "answered")
        return [{ ...placed, key: keyOf(placed), proposed: null, written: {}, slide: null }];
      const part = answered.indexOf(line);
      const offered = line.offered.filter(({ id, usual: often }) => (placed.id === ALL ? often : id === placed.id));
      if (offered.length === 0) missing.push(`“${line.title}” has no slide “${placed.id}”: it is left out.`);
      return offered.map(({ id, slide }) => {
        const key = keyOf({ line: placed.line, id });
        const proposed = { ...slide, part };
        const written = words.get(key) ?? {};
        return { line: placed.line, id, key, proposed, written, slide: { ...proposed, ...sayable(written) } };
      });
    });
    const entries = [...new Map(expanded.map((entry) => [entry.key, entry])).values()];
    const { at: asked = "" } = now.state.view;
    const wanted = Number(asked || 1) - 1;
    return {
      lines,
      entries,
      parts: answered.map(({ title, answer }) => ({ file: fileOf(title), answered: answer! })),
      at: Math.max(0, Math.min(entries.length - 1, Number.isInteger(wanted) ? wanted : 0)),
      arranged: arranged !== null,
      inHand: {
        title: inHand.kind === "own" ? inHand.name : now.title,
        taken: texts.includes(baseText(inHand)) || choices.length >= MOST_LINES,
        sound: now.parsed.scenario !== null,
      },
      lost: missing,
    };
  }
}
