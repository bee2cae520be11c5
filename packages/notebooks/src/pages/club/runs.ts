import { FitMemory, type Issue } from "@railfault/sim";
import { type OfferedSlide, offeredSlides } from "@railfault/sim/figures";
import { fileOf } from "../../kept/exchange/file-names.ts";
import { withoutSpreads } from "../../line/for-run.ts";
import type { Answer } from "../../run/protocol.ts";
import { createRunner } from "../../run/runner.ts";

/** How the run of a text stands. */
export interface TextRun {
  readonly status: "running" | "answered" | "refused" | "failed";
  readonly answer: Answer | null;
  readonly offered: readonly OfferedSlide[];
  readonly issues: readonly Issue[];
  readonly message: string | null;
}

const BEGUN: TextRun = { status: "running", answer: null, offered: [], issues: [], message: null };
/** Answers kept for undo, beside those of the talk: each is some megabytes. */
const KEPT = 4;

/** Runs the texts of a talk, each once; whoever is told looks again. */
export class TextRuns {
  private readonly runner = createRunner();
  private readonly memory = new FitMemory();
  private readonly runs = new Map<string, TextRun>();
  private last = 0;

  constructor(private readonly tell: () => void) {}

  /** Of a scenario text; begun where it is new. */
  of(text: string, name: string): TextRun {
    const known = this.runs.get(text);
    if (known !== undefined) return known;
    this.runs.set(text, BEGUN);
    this.last += 1;
    const done = (run: Partial<TextRun>): void => {
      this.runs.set(text, { ...BEGUN, ...run });
      this.tell();
    };
    this.runner.run(
      `talk ${this.last}`,
      { text: withoutSpreads(text, this.memory), file: fileOf(name) },
      {
        answer: (answer) => done({ status: "answered", answer, offered: offeredSlides(answer, 0) }),
        refused: (issues) => done({ status: "refused", issues }),
        failed: (message) => done({ status: "failed", message }),
      },
    );
    return BEGUN;
  }

  /** Forgets the oldest runs that are not of these texts. */
  keep(texts: ReadonlySet<string>): void {
    const others = [...this.runs].filter(([text, { status }]) => !texts.has(text) && status !== "running");
    for (const [text] of others.slice(0, -KEPT)) this.runs.delete(text);
  }

  leave(): void {
    this.runner.dispose();
  }
}
