import {
  Cancelled,
  type Capture,
  type CaptureJudgement,
  type CaptureLimits,
  CaptureReader,
  captureData,
  fitScenario,
  judgeCapture,
  layCapture,
} from "@railfault/sim";
import type { CaptureJudged, CaptureRead, FromCaptures, ToCaptures } from "./capture-protocol.ts";

/** What captures need of the thread they run in. */
export interface CaptureSurroundings {
  readonly post: (message: FromCaptures) => void;
  /** A clock, ms. */
  readonly now: () => number;
  /** Calls back soon, after what has arrived meanwhile has been taken in. */
  readonly later: (task: () => void) => void;
}

/** Least time between two reports of progress, ms. */
const REPORT = 100;

type Asked<K extends ToCaptures["kind"]> = Extract<ToCaptures, { readonly kind: K }>;

/** Reads, judges and fits captures in a worker and listens meanwhile; keeps the last capture that could be read. */
export class Captures {
  private capture: Capture | null = null;
  private judgement: CaptureJudgement | null = null;
  private present = { aborted: false };
  private told = 0;

  constructor(private readonly around: CaptureSurroundings) {}

  take(message: ToCaptures): void {
    this.present.aborted = true;
    const signal = { aborted: false };
    this.present = signal;
    if (message.kind !== "stop") void this.answer(message, signal);
  }

  private async answer(message: Exclude<ToCaptures, Asked<"stop">>, signal: { aborted: boolean }): Promise<void> {
    const { id } = message;
    const { post } = this.around;
    try {
      if (message.kind === "read") post({ kind: "read", id, read: await this.read(message, signal) });
      else if (message.kind === "judge") post({ kind: "judged", id, judged: this.judged(message.limits) });
      else if (message.kind === "part") post({ kind: "judged", id, judged: this.part(message) });
      else post({ kind: "fitted", id, answer: await this.fit(message, signal) });
    } catch (error) {
      if (error instanceof Cancelled) post({ kind: "stopped", id });
      else post({ kind: "failed", id, message: error instanceof Error ? error.message : String(error) });
    }
  }

  private async read({ id, file, name, corrections, limits }: Asked<"read">, signal: { aborted: boolean }) {
    // A capture of tens of millions of numbers is not held beside the next one; where that is refused, the old one is read anew by whoever has its file.
    const reader = new CaptureReader({
      file: name,
      size: file.size,
      corrections,
      progress: ({ done, total, rows }) =>
        this.progress(id, total === null ? null : done / total, `${(done / 1e6).toFixed(1)} MB read, ${rows} rows`),
    });
    const stream = file.stream().getReader();
    while (!reader.done) {
      const { done, value } = await stream.read();
      if (done || signal.aborted) break;
      reader.push(value);
      await this.pause();
    }
    await stream.cancel();
    if (signal.aborted) {
      const { layout, understood, issues } = reader.stop();
      return { status: "stopped", layout, understood, issues, judged: null } satisfies CaptureRead;
    }
    const { status, capture, layout, understood, issues } = reader.end();
    if (status !== "read" || capture === null)
      return { status: "refused", layout, understood, issues, judged: null } satisfies CaptureRead;
    this.told = 0;
    this.progress(id, null, "judging");
    await this.pause();
    this.capture = capture;
    return { status, layout, understood, issues, judged: this.judged(limits) } satisfies CaptureRead;
  }

  private judged(limits: CaptureLimits): CaptureJudged {
    const capture = this.held();
    const judgement = judgeCapture(capture, limits);
    this.judgement = judgement;
    return { judgement, picture: captureData(capture, judgement) };
  }

  private part({ from, to }: Asked<"part">): CaptureJudged {
    const capture = this.held();
    const judgement = this.judgement ?? judgeCapture(capture, { low: null, high: null });
    const part = { ...(from === null ? {} : { from }), ...(to === null ? {} : { to }) };
    return { judgement, picture: captureData(capture, judgement, part) };
  }

  private fit({ id, kind, text, file, options }: Asked<"fit" | "lay">, signal: { aborted: boolean }) {
    const hooks = {
      signal,
      pause: () => this.pause(),
      progress: ({ done, total }: { done: number; total: number }) =>
        this.progress(id, Math.min(0.98, done / total), `${done} simulations`),
    };
    const capture = this.held();
    return kind === "lay"
      ? layCapture(text, file, capture, options, hooks)
      : fitScenario(text, file, capture, options, hooks);
  }

  private held(): Capture {
    if (this.capture === null) throw new Error("no capture was read");
    return this.capture;
  }

  private pause(): Promise<void> {
    return new Promise((done) => this.around.later(done));
  }

  private progress(id: number, share: number | null, words: string): void {
    const now = this.around.now();
    if (now - this.told < REPORT) return;
    this.told = now;
    this.around.post({ kind: "progress", id, share, words });
  }
}
