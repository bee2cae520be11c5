import { FitMemory, type Refused, ScenarioRun, type Trace, thinTrace } from "@railfault/sim";
import type { Answer, FromWorker, RunRequest, ToWorker } from "./protocol.ts";

/** What the jobs need of the thread they run in. */
export interface Surroundings {
  readonly post: (message: FromWorker, transfer: Transferable[]) => void;
  /** A clock, ms. */
  readonly now: () => number;
  /** Calls back soon, after what has arrived meanwhile has been taken in. */
  readonly later: (task: () => void) => void;
}

/** After so long the thread listens to messages, ms. */
const SLICE = 8;
/** Steps between two looks at the clock. */
const STEPS = 25;
/** Least time between two reports of progress, ms. */
const REPORT = 100;
const RECORDED = 120_000;
const HANDED_OVER = 60_000;

interface Job {
  readonly slot: string;
  readonly id: number;
  readonly request: RunRequest;
  run: ScenarioRun | null;
  told: number;
}

/**
 * Runs scenarios for several slots in turns, a slice of each, and listens between the slices. A new run of a slot takes the place of the old one.
 *
 * @example
 * const jobs = new Jobs({ post, now: () => performance.now(), later: (task) => setTimeout(task, 0) });
 * jobs.take({ kind: "run", slot: "line", id: 1, request: { text, file: "hut.yaml" } });
 */
export class Jobs {
  private readonly memory = new FitMemory();
  /** By slot, in the order of their turns. */
  private readonly jobs = new Map<string, Job>();
  private awaited = false;

  constructor(private readonly around: Surroundings) {}

  take(message: ToWorker): void {
    const { kind, slot, id } = message;
    if (kind === "run") {
      this.jobs.delete(slot);
      this.jobs.set(slot, { slot, id, request: message.request, run: null, told: this.around.now() });
      this.await();
      return;
    }
    const job = this.jobs.get(slot);
    // Of a run that has ended, or made way for another, meanwhile.
    if (job?.id !== id) return;
    if (kind === "cancel") this.jobs.delete(slot);
    else this.guarded(job, () => this.started(job).stop());
  }

  private await(): void {
    if (this.awaited || this.jobs.size === 0) return;
    this.awaited = true;
    this.around.later(() => {
      this.awaited = false;
      const [job] = this.jobs.values();
      if (job !== undefined) this.guarded(job, () => this.goOn(this.started(job)));
      this.await();
    });
  }

  private started(job: Job): ScenarioRun {
    const { text, file, record = { most: RECORDED }, rows: _, ...options } = job.request;
    job.run ??= new ScenarioRun(text, file, { ...options, record, memory: this.memory });
    return job.run;
  }

  private goOn(run: ScenarioRun): void {
    const { now } = this.around;
    const until = now() + SLICE;
    while (run.advance(STEPS) === "running" && now() < until);
  }

  /** Does something to a job and sees what has become of it; whatever goes wrong is told and hurts no other job. */
  private guarded(job: Job, work: () => void): void {
    const { slot, id } = job;
    this.jobs.delete(slot);
    try {
      work();
      if (job.run?.status === "done") this.answer(job, job.run.result());
      else {
        this.jobs.set(slot, job);
        this.report(job);
      }
    } catch (error) {
      this.jobs.delete(slot);
      const message = error instanceof Error ? error.message : String(error);
      this.around.post({ kind: "failed", slot, id, message }, []);
    }
  }

  private report(job: Job): void {
    const { slot, id, run } = job;
    const now = this.around.now();
    if (run === null || now - job.told < REPORT) return;
    job.told = now;
    this.around.post({ kind: "progress", slot, id, time: run.time, end: run.end }, []);
  }

  private answer({ slot, id, request }: Job, found: Refused | Answer): void {
    if (found.kind === "refused") {
      this.around.post({ kind: "refused", slot, id, issues: found.issues }, []);
      return;
    }
    const trace = thinTrace(found.run.trace, request.rows ?? HANDED_OVER);
    const answer: Answer = { ...found, run: { ...found.run, trace } };
    this.around.post({ kind: "answer", slot, id, answer }, buffersOf(trace));
  }
}

/** Waveforms are handed over, not copied. */
function buffersOf({ time, columns }: Trace): Transferable[] {
  return [time, ...columns.map(({ values }) => values)].map(({ buffer }) => buffer as ArrayBuffer);
}
