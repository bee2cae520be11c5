import type { CompareRefused, Comparison } from "@railfault/sim";
import type { FromComparer, ToComparer } from "./protocol.ts";
import { takeThread } from "./thread.ts";

/** What a comparer needs of a worker; the browser's own fits. */
export interface CompareWorker {
  postMessage(message: ToComparer): void;
  terminate(): void;
  addEventListener(kind: "message" | "error" | "messageerror", listener: (event: Event) => void): void;
}

/** Who is told of a comparison; exactly one of `found` and `failed` is called, unless another takes its place. */
export interface CompareHandlers {
  /** How many lines were run, of how many; the name of the one at hand. */
  readonly progress: (at: { readonly done: number; readonly of: number; readonly name: string }) => void;
  readonly found: (found: Comparison | CompareRefused) => void;
  readonly failed: (message: string) => void;
}

/** Compares schemes in another thread, the newest question only. */
export interface Comparer {
  ask(text: string, file: string, handlers: CompareHandlers): void;
  /** Ends the comparison on its way; what has been run by then is told. */
  stop(): void;
  dispose(): void;
}

/**
 * Makes a comparer; its thread starts with the first question.
 *
 * @example createComparer().ask(text, "hut.yaml", { progress, found: show, failed: say })
 */
export function createComparer(makeWorker: () => CompareWorker = takeThread): Comparer {
  let worker: CompareWorker | null = null;
  let last = 0;
  let present: CompareHandlers | null = null;
  const broken = (message: string): void => {
    worker?.terminate();
    worker = null;
    present?.failed(message);
    present = null;
  };
  const told = (message: FromComparer): void => {
    if (message.id !== last || present === null) return;
    const handlers = present;
    if (message.kind === "comparing") {
      handlers.progress(message);
      return;
    }
    present = null;
    if (message.kind === "compared") handlers.found(message.found);
    else handlers.failed(message.message);
  };
  const hired = (): CompareWorker => {
    const made = makeWorker();
    made.addEventListener("message", (event) => told((event as MessageEvent<FromComparer>).data));
    for (const kind of ["error", "messageerror"] as const)
      made.addEventListener(kind, (event) => {
        event.preventDefault?.();
        if (made === worker) broken((event as Partial<ErrorEvent>).message ?? "the worker broke down");
      });
    return made;
  };
  return {
    ask(text, file, handlers) {
      last += 1;
      present = handlers;
      worker ??= hired();
      worker.postMessage({ kind: "compare", id: last, text, file });
    },
    stop() {
      if (present !== null) worker?.postMessage({ kind: "end comparison", id: last });
    },
    dispose() {
      present = null;
      worker?.terminate();
      worker = null;
    },
  };
}
