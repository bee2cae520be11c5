import { InvalidInput, type Issue } from "../../issue/issue.ts";
import type { Answered, Refused } from "../../report/run-scenario.ts";
import { changeTexts, FitMemory } from "../../scenario/index.ts";
import { answerOf } from "./answer.ts";
import { combine, keepsAll } from "./combine.ts";
import { fileWith, lineAlone } from "./line-alone.ts";
import { type ReadOptions, readOptions } from "./options.ts";
import { outcomeOf } from "./outcome.ts";
import { type Parts, planParts } from "./plan.ts";
import { remedyOf, strongerScr, type Try, triesFor } from "./remedy.ts";
import { keyOf, resumed } from "./saved.ts";
import type { Combination, MatchAnswer, MatchOptions, MatchRefused, Outcome, Remedy, SavedMatch } from "./types.ts";

/** What a study wants done next. */
export type MatchStep =
  | { readonly kind: "working" }
  /** A full run of a line: hand its result to `take`. */
  | { readonly kind: "run"; readonly id: string; readonly text: string; readonly file: string }
  | { readonly kind: "done" };

/** How far a study has come. */
export interface MatchProgress {
  /** What it is at. */
  readonly stage: "looking at parts" | "full runs" | "looking for a change" | "done";
  /** Full runs made. */
  readonly runs: number;
  /** Full runs that are planned; 0 while that is not known. */
  readonly of: number;
}

interface Wanted {
  readonly id: string;
  readonly text: string;
  readonly attempt: Try | null;
}

/**
 * What goes first, fuse, SCR or wire: holds every part class and the user's own parts against the line, cheap rules first, confirms what is
 * left by full runs, and tells why the others fell out. In pieces: it may be left after any of them, taken up again, stopped early, or saved
 * and resumed in another process. It makes no full run itself, so that a page may have them made in another thread; `MatchRun` makes them.
 * Never throws on bad input.
 *
 * @example
 * const study = new MatchStudy(text, "hut.yaml");
 * for (let step = study.next(); step.kind !== "done"; step = study.next()) {
 *   if (step.kind === "run") study.take(step.id, runScenario(step.text, step.file));
 * }
 * const answer = study.result();
 */
export class MatchStudy {
  protected readonly memory = new FitMemory();
  private readonly key: string;
  private readonly outcomes = new Map<string, Outcome>();
  private work: Iterator<void, void, void> | null = null;
  /** The line alone, which every full run is made of. */
  private bare = "";
  private parts: Parts | null = null;
  private all: readonly Combination[] = [];
  private kept: readonly Combination[] = [];
  private queue: readonly Combination[] = [];
  private tries: readonly Try[] | null = null;
  private tried = 0;
  private readonly shown: Outcome[] = [];
  private remedy: Remedy | null = null;
  private runs = 0;
  private stopped = false;
  private issues: readonly Issue[] | null = null;
  private answer: MatchAnswer | null = null;

  /**
   * @param text of a scenario file with a crowbar
   * @param file its name, for the places in messages
   * @param options which parts take part, what the line draws, how many full runs; all problems come back as issues
   */
  constructor(
    private readonly text: string,
    private readonly file: string,
    options: MatchOptions = {},
  ) {
    this.key = keyOf(text, options);
    this.guarded(() => {
      const read = readOptions(options);
      for (const outcome of resumed(options.resume, this.key)) this.outcomes.set(outcome.id, outcome);
      this.work = this.plan(read);
    });
  }

  /** Whether there is an answer. */
  get status(): "running" | "done" {
    return this.answer === null && this.issues === null ? "running" : "done";
  }

  /** How far it has come. */
  get progress(): MatchProgress {
    if (this.status === "done") return { stage: "done", runs: this.runs, of: this.runs };
    if (this.work !== null) return { stage: "looking at parts", runs: 0, of: 0 };
    if (this.tries !== null)
      return { stage: "looking for a change", runs: this.tried, of: this.tries.filter(({ runs }) => runs).length };
    return { stage: "full runs", runs: this.outcomes.size, of: this.queue.length };
  }

  /**
   * All combinations by their names, and how many of them keep every rule, so that no more can be sound; null until parts have been looked at.
   * Known before the first full run.
   */
  get planned(): { readonly names: readonly string[]; readonly kept: number } | null {
    if (this.work !== null || this.parts === null) return null;
    return { names: this.all.map(({ id }) => id), kept: this.kept.length };
  }

  /** Does one small piece of planning, or says which full run is wanted; the same run until its result is taken. */
  next(): MatchStep {
    if (this.status === "done") return { kind: "done" };
    if (this.work !== null) {
      this.guarded(() => {
        if (this.work?.next().done === true) this.work = null;
      });
      return { kind: "working" };
    }
    const wanted = this.wanted();
    if (wanted !== null) return { kind: "run", id: wanted.id, text: wanted.text, file: this.file };
    this.finish();
    return { kind: "done" };
  }

  /** Takes the result of a run that `next` asked for; of another one it is left aside. */
  take(id: string, result: Answered | Refused): void {
    const wanted = this.work === null && this.status === "running" ? this.wanted() : null;
    if (wanted === null || wanted.id !== id || this.parts === null) return;
    this.runs += 1;
    const outcome = outcomeOf(id, result, this.parts.place);
    if (wanted.attempt === null) {
      this.outcomes.set(id, outcome);
      return;
    }
    this.tried += 1;
    this.shown.push(outcome);
    if (outcome.sound) this.remedy = remedyOf(wanted.attempt, outcome);
    else this.goOnFrom(wanted.attempt, outcome);
  }

  /** Ends the study here: the answer tells of the runs that were made, and says that it was stopped. */
  stop(): void {
    if (this.status === "done") return;
    this.stopped = true;
    // Without its parts there is no answer at all; looking them up takes a second at the most.
    while (this.work !== null && this.issues === null) this.next();
    if (this.issues === null) this.finish();
  }

  /** What was found so far, as plain data for `resume`. */
  saved(): SavedMatch {
    return { format: "railfault match 1", key: this.key, outcomes: [...this.outcomes.values()] };
  }

  /**
   * The answer of a study that is done.
   *
   * @throws RangeError while it is still running
   */
  result(): MatchAnswer | MatchRefused {
    if (this.issues !== null) return { kind: "refused", issues: this.issues };
    if (this.answer === null) throw new RangeError("the study is not done: advance or stop it first");
    return this.answer;
  }

  /**
   * The scenario file with the parts of a combination, and what of its spreads and variants had to be left out, for it would contradict them.
   *
   * @throws RangeError where there is no such combination
   */
  fileOf(id: string): ReturnType<typeof fileWith> {
    const found = this.all.find((each) => each.id === id);
    if (found === undefined) throw new RangeError(`there is no combination "${id}"`);
    return fileWith(this.text, found.changes);
  }

  private *plan(options: ReadOptions): Generator<void, void, void> {
    const parts = yield* planParts(this.text, this.file, options, this.memory);
    this.bare = lineAlone(this.text, this.memory);
    this.all = yield* combine(parts, options.drop);
    this.parts = parts;
    this.kept = this.all.filter((each) => keepsAll(parts, each));
    this.queue = inOrder(this.kept, options.wires !== null).slice(0, options.most);
  }

  private wanted(): Wanted | null {
    if (this.stopped || this.parts === null) return null;
    const open = this.queue.find(({ id }) => !this.outcomes.has(id));
    if (open !== undefined) return { id: open.id, text: changeTexts(this.bare, open.changes), attempt: null };
    if (this.queue.some(({ id }) => this.outcomes.get(id)?.sound === true) || this.remedy !== null) return null;
    this.tries ??= triesFor(this.parts, this.all, this.told(this.queue));
    const attempt = this.tries.filter(({ runs }) => runs)[this.tried];
    if (attempt === undefined) return null;
    const text = changeTexts(this.bare, attempt.changes);
    return { id: `change ${this.tried + 1}: ${attempt.id}`, text, attempt };
  }

  /** A change that was not enough only for the SCR is tried again with a larger one. */
  private goOnFrom(attempt: Try, outcome: Outcome): void {
    const further = this.parts === null ? null : strongerScr(this.parts, attempt, outcome);
    if (further === null || this.tries === null || attempt.followed === true) return;
    const at = this.tries.indexOf(attempt) + 1;
    this.tries = [...this.tries.slice(0, at), { ...further, followed: true }, ...this.tries.slice(at)];
  }

  private told(list: readonly Combination[]): Combination[] {
    return list.map((each) => ({ ...each, outcome: this.outcomes.get(each.id) ?? null }));
  }

  private finish(): void {
    if (this.parts === null) return;
    const [cheapest] = this.tries ?? [];
    const shown = cheapest?.runs === true ? (this.shown[0] ?? null) : null;
    const remedy = this.remedy ?? (cheapest === undefined ? null : remedyOf(cheapest, shown));
    const all = this.told(this.all);
    this.answer = answerOf(this.parts, all, { remedy, runs: this.runs, stopped: this.stopped });
  }

  private guarded(work: () => void): void {
    try {
      work();
    } catch (error) {
      if (!(error instanceof InvalidInput)) throw error;
      this.work = null;
      this.issues = error.issues;
    }
  }
}

/**
 * The full runs and their order: for each fuse and SCR with the user's own wire and with the thinnest that keeps the rules (thicker ones differ
 * little); the fewest changes first, so that a bound on the runs leaves out what is farthest from the file.
 */
function inOrder(kept: readonly Combination[], everyWire: boolean): Combination[] {
  const seen = new Map<string, number>();
  const ranked = kept.flatMap((each) => {
    const pair = `${each.fuse} + ${each.scr}`;
    const before = seen.get(pair) ?? 0;
    seen.set(pair, before + 1);
    // Wires come thin ones first.
    return before === 0 || everyWire || each.yoursWire
      ? [{ each, at: before === 0 || each.yoursWire ? 0 : before }]
      : [];
  });
  return ranked.sort((a, b) => a.at - b.at || a.each.changed - b.each.changed).map(({ each }) => each);
}
