import type { Batch, BatchResult, Crew, CrewMaker, Setup } from "@railfault/sim";
import type { FromCrew, ToCrew } from "./protocol.ts";
import { newThread } from "./thread.ts";

/** What a crew needs of a worker; the browser's own fits. */
export interface CrewWorker {
  postMessage(message: ToCrew): void;
  terminate(): void;
  addEventListener(kind: "message" | "error" | "messageerror", listener: (event: Event) => void): void;
}

/** More would only wait for memory. */
const MOST = 8;

/** All cores, as far as the browser tells. */
function cores(): number {
  return Math.max(1, Math.min(MOST, globalThis.navigator?.hardwareConcurrency || 2));
}

/** A crew that can be sent away in the middle of its work. */
export interface PageCrew extends Crew {
  /** Ends the workers at once; what they were at rejects. */
  dismiss(): void;
}

interface Waiting {
  readonly batch: Batch;
  readonly done: (result: BatchResult) => void;
  readonly failed: (error: Error) => void;
}

/**
 * Makes crews of web workers for studies of many runs.
 *
 * @param hired told of each crew, for whoever wants to send it away
 * @example await collect(text, "hut.yaml", options, pageCrew((crew) => (present = crew)));
 */
export function pageCrew(
  hired: (crew: PageCrew) => void = () => {},
  size = cores(),
  makeWorker: () => CrewWorker = newThread,
): CrewMaker {
  return (setup) => {
    const crew = new WorkerCrew(setup, size, makeWorker);
    hired(crew);
    return crew;
  };
}

class WorkerCrew implements PageCrew {
  private readonly idle: CrewWorker[] = [];
  private readonly working = new Map<CrewWorker, Waiting>();
  private readonly queue: Waiting[] = [];
  private dismissed = false;

  constructor(
    private readonly setup: Setup,
    readonly size: number,
    private readonly makeWorker: () => CrewWorker,
  ) {}

  run(batch: Batch): Promise<BatchResult> {
    return new Promise((done, failed) => {
      if (this.dismissed) failed(new Error("the crew was sent away"));
      else {
        this.queue.push({ batch, done, failed });
        this.next();
      }
    });
  }

  async close(): Promise<void> {
    this.dismiss();
  }

  dismiss(): void {
    this.dismissed = true;
    for (const worker of [...this.idle, ...this.working.keys()]) worker.terminate();
    const left = [...this.working.values(), ...this.queue];
    this.idle.length = 0;
    this.queue.length = 0;
    this.working.clear();
    for (const { failed } of left) failed(new Error("the crew was sent away"));
  }

  private next(): void {
    const first = this.queue[0];
    if (first === undefined) return;
    const worker = this.idle.pop() ?? (this.working.size < this.size ? this.hire() : null);
    if (worker === null) return;
    this.queue.shift();
    this.working.set(worker, first);
    worker.postMessage({ kind: "batch", batch: first.batch });
    this.next();
  }

  private hire(): CrewWorker {
    const worker = this.makeWorker();
    worker.addEventListener("message", (event) => this.answered(worker, (event as MessageEvent<FromCrew>).data));
    for (const kind of ["error", "messageerror"] as const)
      worker.addEventListener(kind, (event) => {
        event.preventDefault?.();
        this.broken(worker, (event as Partial<ErrorEvent>).message ?? "the worker broke down");
      });
    worker.postMessage({ kind: "setup", setup: this.setup });
    return worker;
  }

  private answered(worker: CrewWorker, answer: FromCrew): void {
    const task = this.working.get(worker);
    if (task === undefined) return;
    this.working.delete(worker);
    this.idle.push(worker);
    if (answer.kind === "batch") task.done(answer.result);
    else task.failed(new Error(answer.message));
    this.next();
  }

  /** Another takes its place with the next batch. */
  private broken(worker: CrewWorker, message: string): void {
    const task = this.working.get(worker);
    worker.terminate();
    this.working.delete(worker);
    task?.failed(new Error(message));
    this.next();
  }
}
