import type { FromCaptures, ToCaptures } from "./capture-protocol.ts";

/** What is asked of a worker; the browser's own fits. */
export interface CaptureWorker {
  postMessage(message: ToCaptures): void;
  terminate(): void;
  addEventListener(kind: "message" | "error" | "messageerror", listener: (event: Event) => void): void;
}

/** A question without its number. */
export type CaptureQuestion = ToCaptures extends infer Q
  ? Q extends { readonly id: number }
    ? Omit<Q, "id">
    : never
  : never;

/** An answer that ends a question; `superseded`: another one took its place. */
export type CaptureAnswer = Exclude<FromCaptures, { readonly kind: "progress" }> | { readonly kind: "superseded" };

export type CaptureProgress = Extract<FromCaptures, { readonly kind: "progress" }>;

/** Captures in another thread, one question at a time. */
export interface CaptureThread {
  ask(question: CaptureQuestion, progress?: (at: CaptureProgress) => void): Promise<CaptureAnswer>;
  /** Ends the question on its way; it is answered `stopped`, or `read` with what was understood so far. */
  stop(): void;
  dispose(): void;
}

/**
 * Makes a thread for captures; it starts with the first question. A thread that breaks down (a capture too large for this machine) makes room for a new one,
 * which knows of no capture.
 *
 * @example const found = await captureThread().ask({ kind: "read", file, name: file.name, corrections: {}, limits });
 */
export function captureThread(
  makeWorker: () => CaptureWorker = () =>
    new Worker(new URL("./capture.worker.ts", import.meta.url), { type: "module" }),
): CaptureThread {
  let worker: CaptureWorker | null = null;
  let last = 0;
  let present: {
    readonly done: (answer: CaptureAnswer) => void;
    readonly progress?: (at: CaptureProgress) => void;
  } | null = null;
  const end = (answer: CaptureAnswer): void => {
    const { done } = present ?? {};
    present = null;
    done?.(answer);
  };
  const hired = (): CaptureWorker => {
    const made = makeWorker();
    made.addEventListener("message", (event) => {
      const message = (event as MessageEvent<FromCaptures>).data;
      if (message.id !== last) return;
      if (message.kind === "progress") present?.progress?.(message);
      else end(message);
    });
    for (const kind of ["error", "messageerror"] as const)
      made.addEventListener(kind, (event) => {
        event.preventDefault?.();
        if (made !== worker) return;
        made.terminate();
        worker = null;
        end({ kind: "failed", id: last, message: (event as Partial<ErrorEvent>).message ?? "the worker broke down" });
      });
    return made;
  };
  return {
    ask(question, progress) {
      end({ kind: "superseded" });
      last += 1;
      worker ??= hired();
      worker.postMessage({ ...question, id: last });
      return new Promise((done) => {
        present = progress === undefined ? { done } : { done, progress };
      });
    },
    stop() {
      if (present !== null) worker?.postMessage({ kind: "stop", id: last });
    },
    dispose() {
      present = null;
      worker?.terminate();
      worker = null;
    },
  };
}
