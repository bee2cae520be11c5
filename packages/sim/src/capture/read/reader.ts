import type { CaptureLayout, CaptureResult, LayoutCorrections } from "../types.ts";
import { Decoder, looksBinary } from "./decode.ts";
import { finish } from "./finish.ts";
import { Problems } from "./problems.ts";
import { recognise } from "./recognise.ts";
import { RowReader } from "./rows.ts";
import { Store } from "./store.ts";

/** Bytes of the largest file that is read: 512 MiB. A table of ten million samples of two channels has about 400 MB. */
export const LARGEST_CAPTURE = 512 << 20;
/** Numbers that are held at most; 8 bytes each. */
const MOST_NUMBERS = 100e6;
/** Characters by which the writing of a file is recognised. */
const HEAD = 1 << 16;

/** How far the reading is. */
export interface ReadProgress {
  /** Bytes or characters taken. */
  readonly done: number;
  /** How many there are; null where nobody said. */
  readonly total: number | null;
  /** Rows of numbers taken. */
  readonly rows: number;
}

/** How a capture is read. */
export interface ReadOptions {
  /** For messages. */
  readonly file: string;
  /** Size of the file, bytes, where it is known. */
  readonly size?: number;
  /** What a person corrected; the rest is recognised. */
  readonly corrections?: LayoutCorrections;
  /** A whole layout, for instance one that was recognised, shown and changed: nothing is recognised then. */
  readonly layout?: CaptureLayout;
  /** Called now and then while it reads. */
  readonly progress?: (progress: ReadProgress) => void;
}

/**
 * Reads a file of samples that comes in pieces; never throws for what stands in it.
 *
 * @example
 * const reader = new CaptureReader({ file: "bench.csv" });
 * for await (const bytes of stream) reader.push(bytes);
 * const { capture, layout, issues } = reader.end();
 */
export class CaptureReader {
  private readonly options: ReadOptions;
  private readonly problems: Problems;
  private readonly decoder = new Decoder();
  private head = "";
  private layout: CaptureLayout | null = null;
  private understood: readonly string[] = [];
  private rows: RowReader | null = null;
  private store: Store | null = null;
  private taken = 0;
  private refused = false;
  private returnsOnly = false;
  private outcome: CaptureResult | null = null;

  constructor(options: ReadOptions) {
    this.options = options;
    this.problems = new Problems(options.file);
    if (options.size !== undefined && options.size > LARGEST_CAPTURE) this.refuseSize(options.size);
  }

  /** Whether more of the file would change nothing: it is refused already. */
  get done(): boolean {
    return this.refused;
  }

  /** Takes the next piece. */
  push(piece: Uint8Array | string): void {
    if (this.refused || this.outcome !== null) return;
    this.taken += piece.length;
    if (this.taken > LARGEST_CAPTURE) {
      this.refuseSize(this.taken);
      return;
    }
    const text = typeof piece === "string" ? piece : this.decoder.push(piece);
    if (text !== "") this.text(this.taken === piece.length && text.charCodeAt(0) === 0xfeff ? text.slice(1) : text);
    const { size = null, progress } = this.options;
    progress?.({ done: this.taken, total: size, rows: this.store?.rows ?? 0 });
  }

  /** What came of it; after that nothing more is taken. */
  end(): CaptureResult {
    if (!this.refused && this.outcome === null) {
      this.text(this.decoder.end());
      if (this.rows === null && !this.refused) this.begin();
      this.rows?.end();
    }
    return this.result(this.refused || this.problems.errors ? "refused" : "read");
  }

  /** Ends the reading before the end of the file, with what was read so far. */
  stop(): CaptureResult {
    return this.result("stopped");
  }

  private text(text: string): void {
    if (this.rows !== null) this.take(text);
    else {
      this.head += text;
      if (this.head.length >= HEAD) this.begin();
    }
  }

  private take(text: string): void {
    const { rows, store } = this;
    if (rows === null || store === null) return;
    rows.push(this.lineFeeds(text));
    if (store.rows * store.columns.length > MOST_NUMBERS) {
      this.problems.add({
        code: "too-many-samples",
        message: "There are more samples than are held at once.",
        received: `more than ${MOST_NUMBERS / 1e6} million numbers`,
        allowed: `${MOST_NUMBERS / 1e6} million numbers`,
        hint: "export a shorter piece of the recording, or fewer channels",
      });
      this.refused = true;
    }
  }

  /** Line feeds at the line ends where a file has carriage returns alone; CR LF stays, for those who read lines know it. */
  private lineFeeds(text: string): string {
    return this.returnsOnly ? text.replaceAll("\r", "\n") : text;
  }

  /** The beginning is there: recognises the writing, then reads what has come. */
  private begin(): void {
    const { head, problems, options } = this;
    if (head.trim() === "") {
      problems.add({ code: "empty-file", message: "There is nothing in this file.", allowed: "lines of numbers" });
      this.refused = true;
      return;
    }
    if (looksBinary(head)) {
      problems.add({
        code: "binary-file",
        message: "This file is no text.",
        allowed: "text: UTF-8, or UTF-16 with a byte-order mark",
        hint: "export the samples as CSV instead of the instrument's own form",
      });
      this.refused = true;
      return;
    }
    this.returnsOnly = !head.includes("\n");
    const feeds = this.lineFeeds(head);
    // Most of a line may be missing at its end.
    const whole = head.length >= HEAD ? feeds.slice(0, feeds.lastIndexOf("\n") + 1) : feeds;
    const found =
      options.layout === undefined
        ? recognise(whole.replaceAll("\r\n", "\n"), problems, options.corrections)
        : { layout: options.layout, understood: ["The layout was given."] };
    if (found === null) {
      this.refused = true;
      return;
    }
    const { layout } = found;
    this.layout = layout;
    this.understood = found.understood;
    const { time: asked } = options.corrections ?? {};
    if (asked !== undefined && asked !== null && layout.time === null && options.layout === undefined) {
      // The column that is asked for is not there. All that could be told of the rest would only follow from that.
      this.refused = true;
      return;
    }
    this.store = new Store(layout.columns, this.expected(feeds));
    this.rows = new RowReader(layout, this.store, problems);
    this.head = "";
    this.take(fromLine(feeds, layout.firstLine));
  }

  /** Rows that the rest probably has, by the length of the lines seen. */
  private expected(head: string): number {
    const { size = 0 } = this.options;
    const lines = head.split("\n").length;
    return Math.min(MOST_NUMBERS / 4, 1.02 * (Math.max(size, head.length) / head.length) * lines);
  }

  private refuseSize(size: number): void {
    this.problems.add({
      code: "too-large",
      message: "This file is larger than any that is read.",
      received: `${Math.ceil(size / (1 << 20))} MB`,
      allowed: `${LARGEST_CAPTURE >> 20} MB`,
      hint: "export a shorter piece of the recording, or fewer digits",
    });
    this.refused = true;
  }

  private result(status: CaptureResult["status"]): CaptureResult {
    this.outcome ??= this.finished(status);
    return this.outcome;
  }

  private finished(status: CaptureResult["status"]): CaptureResult {
    const { layout, store, rows, problems, options } = this;
    const foreign = this.decoder.foreign;
    const understood =
      foreign === 0
        ? this.understood
        : [...this.understood, `${foreign} bytes are no UTF-8 and were taken for Latin-1.`];
    const capture =
      layout === null || store === null || rows === null ? null : finish(layout, store, rows, problems, options.file);
    return {
      status: status === "read" && problems.errors ? "refused" : status,
      layout,
      capture,
      understood,
      issues: problems.list(),
    };
  }
}

/** The text from the beginning of a line, counted from 1. */
function fromLine(text: string, line: number): string {
  let at = 0;
  for (let k = 1; k < line; k++) at = text.indexOf("\n", at) + 1;
  return text.slice(at);
}

/**
 * Reads a whole file of samples.
 *
 * @param pieces bytes or text, as a stream or a list gives them
 * @param options what is known of it; `signal`: raised, the reading ends after the piece it is at
 * @returns the samples, how they were read and every problem
 * @example const { capture } = await readCapture([text], { file: "bench.csv" });
 */
export async function readCapture(
  pieces: AsyncIterable<Uint8Array | string> | Iterable<Uint8Array | string>,
  options: ReadOptions & { readonly signal?: { readonly aborted: boolean } | null },
): Promise<CaptureResult> {
  const reader = new CaptureReader(options);
  if (!reader.done) {
    for await (const piece of pieces) {
      if (options.signal?.aborted === true) return reader.stop();
      reader.push(piece);
      if (reader.done) break;
    }
  }
  return reader.end();
}
