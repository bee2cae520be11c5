import type { Issue } from "@railfault/sim";
import { type Answer, type FromWorker, LONGEST_TEXT, type RunRequest, type ToWorker } from "./protocol.ts";
import { takeThread } from "./thread.ts";

/** What a runner needs of a worker; the browser's own fits. */
export interface RunWorker {
  postMessage(message: ToWorker): void;
  terminate(): void;
  addEventListener(kind: "message" | "error" | "messageerror", listener: (event: Event) => void): void;
}

/** Who is told of a run; exactly one of `answer`, `refused`, `failed` is called, unless the run is cancelled or replaced. */
export interface RunHandlers {
  /** Time reached and end, s; at most every 100 ms, never for short runs. */
  readonly progress?: (time: number, end: number) => void;
  readonly answer: (answer: Answer) => void;
  readonly refused: (issues: readonly Issue[]) => void;
  /** It could not be carried out, through no fault of the file. */
  readonly failed: (message: string) => void;
}

export interface RunnerOptions {
  /** Threads at the most; left out: two, or one on a machine with a single core. */
  readonly workers?: number;
  readonly makeWorker?: () => RunWorker;
}

/** Runs scenarios in other threads, one at a time in each slot. */
export interface Runner {
  /** Begins a run; what still runs in this slot is cancelled. */
  run(slot: string, request: RunRequest, handlers: RunHandlers): void;
  /** Ends the slot's run early: its answer tells of the time reached, and its verdict says that it was stopped. */
  stop(slot: string): void;
  /** Drops the slot's run; nobody is told. */
  cancel(slot: string): void;
  /** Drops everything and ends the threads. */
  dispose(): void;
}

/**
 * Makes a runner. Threads are started when they are first needed; each slot stays with one of them.
 *
 * @example
 * const runner = createRunner();
 * runner.run("line", { text, file: "hut.yaml" }, { answer: draw, refused: showIssues, failed: say });
 */
export function createRunner(options: RunnerOptions = {}): Runner {
  return new ThreadRunner(options.workers ?? defaultWorkers(), options.makeWorker ?? takeThread);
}

function defaultWorkers(): number {
  return Math.max(1, Math.min(2, globalThis.navigator?.hardwareConcurrency || 1));
}

interface Active {
  readonly id: number;
  readonly handlers: RunHandlers;
}

interface Place {
  worker: RunWorker | null;
  readonly slots: Map<string, Active>;
}

class ThreadRunner implements Runner {
  private readonly places: readonly Place[];
  private readonly home = new Map<string, Place>();
  private lastId = 0;
  private disposed = false;

  constructor(
    workers: number,
    private readonly makeWorker: () => RunWorker,
  ) {
    if (!Number.isInteger(workers) || workers < 1)
      throw new RangeError(`workers must be a whole number of at least 1, received ${workers}`);
    this.places = Array.from({ length: workers }, () => ({ worker: null, slots: new Map() }));
  }

  run(slot: string, request: RunRequest, handlers: RunHandlers): void {
    if (this.disposed) throw new Error("this runner was disposed of");
    const place = this.placeOf(slot);
    this.lastId += 1;
    const id = this.lastId;
    place.slots.set(slot, { id, handlers });
    const text = request.text.slice(0, LONGEST_TEXT);
    try {
      place.worker ??= this.start(place);
      place.worker.postMessage({ kind: "run", slot, id, request: { ...request, text } });
    } catch (error) {
      const message = error instanceof Error ? error.message : String(error);
      // Told later, as everything else is.
      queueMicrotask(() => this.ended(place, slot, id)?.failed(`The computation could not be started: ${message}`));
    }
  }

  stop(slot: string): void {
    this.send("stop", slot);
  }

  cancel(slot: string): void {
    this.send("cancel", slot);
    this.home.get(slot)?.slots.delete(slot);
  }

  dispose(): void {
    this.disposed = true;
    for (const place of this.places) {
      place.worker?.terminate();
      place.worker = null;
      place.slots.clear();
    }
    this.home.clear();
  }

  private send(kind: "stop" | "cancel", slot: string): void {
    const place = this.home.get(slot);
    const active = place?.slots.get(slot);
    if (active !== undefined) place?.worker?.postMessage({ kind, slot, id: active.id });
  }

  /** A slot keeps its place, so that a new run meets the old one there. */
  private placeOf(slot: string): Place {
    const known = this.home.get(slot);
    if (known !== undefined) return known;
    const counts = this.places.map((place) => [...this.home.values()].filter((each) => each === place).length);
    const place = this.places[counts.indexOf(Math.min(...counts))];
    this.home.set(slot, place);
    return place;
  }

  private start(place: Place): RunWorker {
    const worker = this.makeWorker();
    worker.addEventListener("message", (event) => {
      if (place.worker === worker) this.take(place, (event as MessageEvent<FromWorker>).data);
    });
    for (const kind of ["error", "messageerror"] as const)
      worker.addEventListener(kind, (event) => this.crashed(place, worker, event));
    return worker;
  }

  private take(place: Place, message: FromWorker): void {
    const { slot, id } = message;
    if (message.kind === "progress") {
      const active = place.slots.get(slot);
      if (active?.id === id) active.handlers.progress?.(message.time, message.end);
      return;
    }
    const handlers = this.ended(place, slot, id);
    if (message.kind === "answer") handlers?.answer(message.answer);
    else if (message.kind === "refused") handlers?.refused(message.issues);
    else handlers?.failed(message.message);
  }

  /** Takes a run off the list; null where it was cancelled or replaced. */
  private ended(place: Place, slot: string, id: number): RunHandlers | null {
    const active = place.slots.get(slot);
    if (active?.id !== id) return null;
    place.slots.delete(slot);
    return active.handlers;
  }

  /** The next run starts a new thread; those that this one was at are told. */
  private crashed(place: Place, worker: RunWorker, event: Event): void {
    if (place.worker !== worker) return;
    const why = (event as Partial<ErrorEvent>).message;
    event.preventDefault?.();
    worker.terminate();
    place.worker = null;
    const hurt = [...place.slots.values()];
    place.slots.clear();
    const message = `The computation broke off${why ? `: ${why}` : ""}. It starts anew with the next change.`;
    for (const { handlers } of hurt) handlers.failed(message);
  }
}
