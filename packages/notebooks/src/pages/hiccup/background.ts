import type { Issue } from "@railfault/sim";
import type { Answer, RunRequest } from "../../run/protocol.ts";
import type { Runner } from "../../run/runner.ts";

/** What became of a run in the background. */
export type Found =
  | { readonly kind: "answer"; readonly answer: Answer }
  | { readonly kind: "refused"; readonly issues: readonly Issue[] }
  | { readonly kind: "failed"; readonly message: string };

export interface Task {
  readonly name: string;
  /** Made when its turn comes, from what the lane has found by then: changing a text takes a while. Null: there is no such run. */
  readonly request: (found: ReadonlyMap<string, Found>) => RunRequest | null;
}

/** How a lane stands. */
export interface LaneNow {
  readonly found: ReadonlyMap<string, Found>;
  /** Whether something is still to come. */
  readonly busy: boolean;
  /** Of the run at hand; null for short ones. */
  readonly progress: { readonly time: number; readonly end: number } | null;
}

/** So long nothing must have changed before anything is run, ms: a slider that moves comes first. */
const PATIENCE = 350;
/** Answers without waveforms are small, and a slider that comes back asks for the same again. */
const REMEMBERED = 80;
const NOTHING: Found = { kind: "failed", message: "Not possible in this line." };

/** Runs that may wait: one after the other in each lane, begun when nothing has been asked for a while, dropped when something else is asked. */
export class Background {
  private readonly lanes = new Map<string, Lane>();
  private readonly memory = new Map<string, Found>();

  constructor(
    private readonly runner: Runner,
    private readonly patience = PATIENCE,
    /** Asked before each run; settles when what goes first is done. Null: nothing is under way. */
    private readonly free: () => Promise<void> | null = () => null,
  ) {}

  /**
   * Asks for the runs of a lane in place of those asked before; the same ones again change nothing.
   *
   * @param key two lists of runs with the same key are the same
   * @param tell called whenever something was found, or a long run has come on
   */
  ask(name: string, key: string, tasks: readonly Task[], tell: (now: LaneNow) => void): void {
    const before = this.lanes.get(name);
    if (before?.key === key) return;
    before?.drop();
    const lane = new Lane(name, key, tasks, this.runner, this.memory, this.free, tell);
    this.lanes.set(name, lane);
    lane.start(this.patience);
  }

  /** Nothing is wanted of a lane any more. */
  drop(name: string): void {
    this.lanes.get(name)?.drop();
    this.lanes.delete(name);
  }

  /** Ends the long run of a lane early; its verdict says so. */
  stop(name: string): void {
    this.runner.stop(name);
  }

  leave(): void {
    for (const lane of this.lanes.values()) lane.drop();
    this.lanes.clear();
    this.runner.dispose();
  }
}

class Lane {
  private readonly found = new Map<string, Found>();
  private readonly open: Task[];
  private timer: ReturnType<typeof setTimeout> | undefined;
  private dropped = false;

  constructor(
    private readonly name: string,
    readonly key: string,
    tasks: readonly Task[],
    private readonly runner: Runner,
    private readonly memory: Map<string, Found>,
    private readonly free: () => Promise<void> | null,
    private readonly tell: (now: LaneNow) => void,
  ) {
    this.open = [...tasks];
  }

  start(patience: number): void {
    this.timer = setTimeout(() => this.begin(), patience);
    this.say(null);
  }

  drop(): void {
    this.dropped = true;
    clearTimeout(this.timer);
    this.runner.cancel(this.name);
  }

  private say(progress: LaneNow["progress"]): void {
    if (!this.dropped) this.tell({ found: new Map(this.found), busy: this.open.length > 0, progress });
  }

  private begin(): void {
    const free = this.free();
    if (free === null) this.next();
    else void free.then(() => this.begin());
  }

  private next(): void {
    const task = this.open[0];
    if (task === undefined || this.dropped) return;
    const request = task.request(this.found);
    const key = JSON.stringify(request);
    const done = (found: Found): void => {
      if (this.dropped) return;
      if (request?.record === false) this.remember(key, found);
      this.found.set(task.name, found);
      this.open.shift();
      this.say(null);
      this.begin();
    };
    const known = request === null ? NOTHING : this.memory.get(key);
    if (request === null || known !== undefined) {
      done(known ?? NOTHING);
      return;
    }
    this.runner.run(this.name, request, {
      progress: (time, end) => this.say({ time, end }),
      answer: (answer) => done({ kind: "answer", answer }),
      refused: (issues) => done({ kind: "refused", issues }),
      failed: (message) => done({ kind: "failed", message }),
    });
  }

  private remember(key: string, found: Found): void {
    if (found.kind === "failed") return;
    this.memory.delete(key);
    this.memory.set(key, found);
    const [oldest] = this.memory.keys();
    if (this.memory.size > REMEMBERED && oldest !== undefined) this.memory.delete(oldest);
  }
}
