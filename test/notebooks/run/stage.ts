import { readFileSync } from "node:fs";
import { join } from "node:path";
import { Jobs } from "../../../packages/notebooks/src/run/jobs.ts";
import type { FromWorker, ToWorker } from "../../../packages/notebooks/src/run/protocol.ts";
import type { RunHandlers, RunWorker } from "../../../packages/notebooks/src/run/runner.ts";

const folder = join(import.meta.dirname, "../../../packages/sim/scenarios");

export function shipped(name: string): string {
  return readFileSync(join(folder, `${name}.yaml`), "utf8");
}

/** A thread without a thread: its clock goes on by a millisecond with each look, and a task runs when it is told to. */
export class Stage {
  readonly sent: FromWorker[] = [];
  readonly jobs: Jobs;
  looks = 0;
  private tasks: (() => void)[] = [];

  constructor() {
    this.jobs = new Jobs({
      post: (message, transfer) => {
        this.sent.push(structuredClone(message, { transfer }));
      },
      now: () => {
        this.looks += 1;
        return this.looks;
      },
      later: (task) => this.tasks.push(task),
    });
  }

  /** One slice; false where there was nothing to do. */
  turn(): boolean {
    const task = this.tasks.shift();
    task?.();
    return task !== undefined;
  }

  finish(): void {
    while (this.turn());
  }

  of(kind: FromWorker["kind"], slot?: string): FromWorker[] {
    return this.sent.filter((message) => message.kind === kind && (slot === undefined || message.slot === slot));
  }
}

/** A worker whose messages are delivered by hand, driving the same jobs. */
export class FakeWorker implements RunWorker {
  readonly received: ToWorker[] = [];
  readonly stage = new Stage();
  isTerminated = false;
  private readonly listeners: { kind: string; listener: (event: Event) => void }[] = [];
  private delivered = 0;

  postMessage(message: ToWorker): void {
    const copy = structuredClone(message);
    this.received.push(copy);
    this.stage.jobs.take(copy);
  }

  terminate(): void {
    this.isTerminated = true;
  }

  addEventListener(kind: string, listener: (event: Event) => void): void {
    this.listeners.push({ kind, listener });
  }

  tell(kind: string, details: object): void {
    for (const each of this.listeners) if (each.kind === kind) each.listener(Object.assign(new Event(kind), details));
  }

  /** Delivers what the jobs have sent so far. */
  deliver(): void {
    for (; this.delivered < this.stage.sent.length; this.delivered++)
      this.tell("message", { data: this.stage.sent[this.delivered] });
  }

  work(): void {
    this.stage.finish();
    this.deliver();
  }
}

/** Handlers that write down what they are told. */
export function witness(): RunHandlers & { readonly told: { kind: string; what: unknown }[] } {
  const told: { kind: string; what: unknown }[] = [];
  const note = (kind: string) => (what: unknown) => {
    told.push({ kind, what });
  };
  return {
    told,
    progress: (time, end) => note("progress")([time, end]),
    answer: note("answer"),
    refused: note("refused"),
    failed: note("failed"),
  };
}
