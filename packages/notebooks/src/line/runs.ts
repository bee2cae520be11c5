import type { Issue } from "@railfault/sim";
import { fileOf } from "../kept/exchange/file-names.ts";
import type { Change, PageState } from "../kept/state.ts";
import type { Answer, RunRequest } from "../run/protocol.ts";
import type { Runner } from "../run/runner.ts";
import { applyChanges } from "./apply.ts";
import { withoutSpreads } from "./for-run.ts";
import type { Line, LineNow } from "./line.ts";

/** One of the runs of a page: the line with changes of the page's own, on the same fault. */
export interface Scheme {
  readonly name: string;
  readonly label: string;
  /** A line of the scheme's own in place of the page's; the scheme's changes are made on it. */
  readonly text?: string;
  /** Changes on top of the line's; left out: none. Null: this scheme is not run at present. */
  readonly changes?: (now: LineNow) => readonly Change[] | null;
  /** A scheme that goes first: this one begins once that has its answer. */
  readonly after?: string;
  /** How it is run, beside text and file. */
  readonly options?: (now: LineNow) => Omit<RunRequest, "text" | "file">;
}

/** How a scheme's run stands. */
export interface SchemeRun {
  readonly name: string;
  readonly label: string;
  readonly text: string;
  readonly status: "running" | "answered" | "refused" | "failed";
  /** The latest good one; it stays while the next is computed, and while the text has errors. */
  readonly answer: Answer | null;
  /** The answer is of another line than the one in hand: it must not be taken for its. */
  readonly stale: boolean;
  /** Of a text that was refused, and changes that the line could not take. */
  readonly issues: readonly Issue[];
  /** Why the run failed. */
  readonly message: string | null;
  /** Time reached and end, s; null for runs too short to tell. */
  readonly progress: { readonly time: number; readonly end: number } | null;
}

export type RunMap = ReadonlyMap<string, SchemeRun>;

/**
 * Runs a line's schemes whenever the line changes; what did not change in a scheme is not run again.
 *
 * @example const runs = new Runs(line, [{ name: "line", label: "as it stands" }], runner); runs.follow((map) => draw(map));
 */
export class Runs {
  private map: RunMap = new Map();
  private readonly listeners = new Set<(map: RunMap) => void>();
  private readonly requests = new Map<string, string>();
  /** Of which line the newest request of a scheme is, and of which its answer. */
  private readonly wanted = new Map<string, string>();
  private readonly answered = new Map<string, string>();
  /** Schemes that run the page's line with a person's changes. */
  private readonly changed = new Set<string>();
  /** Runs that have not begun: others go first. */
  private readonly waiting = new Map<string, RunRequest>();
  private readonly endFollowing: () => void;
  private told = false;

  constructor(
    private readonly line: Line,
    private readonly schemes: readonly Scheme[],
    private readonly runner: Runner,
  ) {
    this.endFollowing = line.follow((now) => this.start(now));
  }

  get now(): RunMap {
    return this.map;
  }

  /** Calls back at once and whenever a run comes on; gives what ends it. */
  follow(listener: (map: RunMap) => void): () => void {
    const own = (map: RunMap): void => listener(map);
    this.listeners.add(own);
    own(this.map);
    return () => this.listeners.delete(own);
  }

  /** Looks again at what each scheme wants to change; a toggle of the page was moved. */
  refresh(): void {
    this.start(this.line.now);
  }

  /** Ends a long run early; its verdict says so. */
  stop(name: string): void {
    if (this.map.get(name)?.status === "running") this.runner.stop(name);
  }

  leave(): void {
    this.endFollowing();
    this.listeners.clear();
    for (const { name } of this.schemes) this.runner.cancel(name);
  }

  private start(now: LineNow): void {
    const next = new Map<string, SchemeRun>();
    for (const scheme of this.schemes) {
      const changes = scheme.changes === undefined ? [] : scheme.changes(now);
      if (changes === null) {
        this.runner.cancel(scheme.name);
        this.requests.delete(scheme.name);
        this.waiting.delete(scheme.name);
        continue;
      }
      const { run, request } = this.prepare(scheme, changes, now);
      next.set(scheme.name, run);
      // The first thread begins while the other runs are still being prepared.
      if (request !== null && scheme.after === undefined) this.send(scheme.name, request);
      else if (request !== null) this.waiting.set(scheme.name, request);
      else if (run.status !== "running") this.waiting.delete(scheme.name);
    }
    this.map = next;
    this.tell();
    this.begin();
  }

  /** Begins what waits for no other run any more; one that `ended` keeps nobody waiting, even where it is to run anew. */
  private begin(ended?: string): void {
    for (const { name, after } of this.schemes) {
      const request = this.waiting.get(name);
      const waits = after !== undefined && after !== ended && this.map.get(after)?.status === "running";
      if (request === undefined || waits) continue;
      this.waiting.delete(name);
      this.send(name, request);
    }
  }

  private prepare(scheme: Scheme, changes: readonly Change[], now: LineNow) {
    const { name, label } = scheme;
    const before = this.map.get(name);
    const base = scheme.text ?? now.text;
    const { text: changed, refused } = applyChanges(base, changes, this.line.memory);
    const text = withoutSpreads(changed, this.line.memory);
    const file = fileOf(scheme.text === undefined ? now.title : label);
    const request: RunRequest = { ...scheme.options?.(now), text, file };
    const key = JSON.stringify(request);
    const of = scheme.text === undefined ? nameOf(now.state) : "";
    this.wanted.set(name, of);
    if (before !== undefined && this.requests.get(name) === key) {
      // The same text under another name.
      if (before.status === "answered") this.answered.set(name, of);
      return { run: before, request: null };
    }
    this.requests.set(name, key);
    if (scheme.text === undefined && now.state.changes.length > 0) this.changed.add(name);
    else this.changed.delete(name);
    const issues = scheme.text === undefined ? [...now.refused, ...refused] : refused;
    const answer = before?.answer ?? null;
    const stale = answer !== null && this.answered.get(name) !== of;
    const common = { name, label, text, answer, stale, message: null, progress: null };
    // Only the line's own text was read here; the others are read where they are run, so that a slider need not wait for them.
    const problems = changed === now.text && now.parsed.scenario === null ? now.parsed.issues : null;
    if (problems === null) return { run: { ...common, status: "running" as const, issues }, request };
    this.runner.cancel(name);
    return { run: { ...common, status: "refused" as const, issues: [...problems, ...issues] }, request: null };
  }

  private send(name: string, request: RunRequest): void {
    const changed = this.changed.has(name);
    const key = this.requests.get(name);
    const of = this.wanted.get(name) ?? "";
    // A newer request may wait for this run to end: then it is still the run that counts.
    const ended = (change: Partial<SchemeRun>): void => {
      const newest = this.requests.get(name) === key;
      this.put(name, newest ? { ...change, progress: null } : { progress: null });
      this.begin(name);
    };
    this.runner.run(name, request, {
      progress: (time, end) => this.put(name, { progress: { time, end } }),
      answer: (answer) => {
        this.answered.set(name, of);
        const titled = changed ? changedTitle(answer) : answer;
        this.put(name, { answer: titled, stale: this.wanted.get(name) !== of });
        ended({ status: "answered" });
      },
      refused: (issues) => {
        const known = this.map.get(name)?.issues ?? [];
        ended({ status: "refused", issues: [...issues, ...known] });
      },
      failed: (message) => ended({ status: "failed", message }),
    });
  }

  private put(name: string, change: Partial<SchemeRun>): void {
    const run = this.map.get(name);
    if (run === undefined) return;
    this.map = new Map(this.map).set(name, { ...run, ...change });
    this.tell();
  }

  /** Several runs that come on at once are told once. */
  private tell(): void {
    if (this.told) return;
    this.told = true;
    queueMicrotask(() => {
      this.told = false;
      for (const listener of this.listeners) listener(this.map);
    });
  }
}

/** A title speaks of the file as it was; a picture of a changed line must not pass for it. */
function changedTitle(answer: Answer): Answer {
  const { run, scenario, verdict } = answer;
  if (scenario.title === "") return answer;
  const title = `${scenario.title} (changed)`;
  return {
    ...answer,
    scenario: { ...scenario, title },
    run: { ...run, scenario: { ...run.scenario, title } },
    verdict: { ...verdict, title },
  };
}

/** What tells one opened line from another, whatever is changed in it. */
const nameOf = ({ line }: PageState): string => `${line.kind} ${line.name}`;
