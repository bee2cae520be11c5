import type {
  Answered,
  Batch,
  BatchResult,
  BenchCard,
  CompareRefused,
  Comparison,
  Issue,
  ScenarioRunOptions,
  Setup,
  TalkRefused,
} from "@railfault/sim";

/** What is to be run. */
export interface RunRequest extends Pick<ScenarioRunOptions, "until" | "tolerance" | "secondRun"> {
  /** A scenario file. */
  readonly text: string;
  /** Its name, for the places in messages. */
  readonly file: string;
  /** Rows of waveforms kept while it runs; false: none at all. Left out: 120 000, some 20 MB. */
  readonly record?: false | { readonly most: number };
  /** Rows of waveforms handed over (left out: 60 000); where there are more, the trace says that it was thinned. */
  readonly rows?: number;
}

/**
 * All of a finished run that a page needs, as plain data that may be handed from thread to thread: the complete `scenario`, what became of the text
 * (`parsed`: issues, origins, fits for the chart of what goes first), the `run` with events, findings and waveforms, and the `verdict`.
 * `run.trace.thinned` tells where rows were left out.
 */
export type Answer = Answered;

export type ToWorker =
  | { readonly kind: "run"; readonly slot: string; readonly id: number; readonly request: RunRequest }
  | { readonly kind: "stop" | "cancel"; readonly slot: string; readonly id: number };

export type FromWorker = { readonly slot: string; readonly id: number } & (
  | { readonly kind: "progress"; readonly time: number; readonly end: number }
  | { readonly kind: "answer"; readonly answer: Answer }
  | { readonly kind: "refused"; readonly issues: readonly Issue[] }
  | { readonly kind: "failed"; readonly message: string }
);

/** A text of more characters is refused whatever stands in it, so no more of it need be handed over. */
export const LONGEST_TEXT = 256 * 1024 + 1;

/** To a worker of a crew: first which scenario, then batch after batch. */
export type ToCrew =
  | { readonly kind: "setup"; readonly setup: Setup }
  | { readonly kind: "batch"; readonly batch: Batch };

export type FromCrew =
  | { readonly kind: "batch"; readonly result: BatchResult }
  | { readonly kind: "batch failed"; readonly message: string };

/** Schemes side by side: one comparison at a time, a new one takes the place of the old; `end` tells what there is by then. */
export type ToComparer =
  | { readonly kind: "compare"; readonly id: number; readonly text: string; readonly file: string }
  | { readonly kind: "end comparison"; readonly id: number };

export type FromComparer =
  | {
      readonly kind: "comparing";
      readonly id: number;
      readonly done: number;
      readonly of: number;
      readonly name: string;
    }
  | { readonly kind: "compared"; readonly id: number; readonly found: Comparison | CompareRefused }
  | { readonly kind: "comparison failed"; readonly id: number; readonly message: string };

/** A bench test card, in a thread of its own. */
export interface ToBench {
  readonly kind: "bench card";
  readonly text: string;
  readonly file: string;
}

export type FromBench =
  | {
      readonly kind: "bench card";
      readonly found: { readonly kind: "card"; readonly card: BenchCard } | TalkRefused;
    }
  | { readonly kind: "bench failed"; readonly message: string };
