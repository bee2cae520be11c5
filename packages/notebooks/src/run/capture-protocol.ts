import type {
  CaptureJudgement,
  CaptureLayout,
  CaptureLimits,
  captureData,
  FitAnswer,
  FitOptions,
  Issue,
  LayoutCorrections,
} from "@railfault/sim";

/** A capture that is judged, with the picture of it. */
export interface CaptureJudged {
  readonly judgement: CaptureJudgement;
  readonly picture: ReturnType<typeof captureData>;
}

/** What came of reading a file. Refused or stopped, the capture that was there before is still in the thread's hands. */
export interface CaptureRead {
  readonly status: "read" | "refused" | "stopped";
  readonly layout: CaptureLayout | null;
  readonly understood: readonly string[];
  readonly issues: readonly Issue[];
  readonly judged: CaptureJudged | null;
}

/** To the thread of captures: one question at a time, a new one takes the place of the old. */
export type ToCaptures = { readonly id: number } & (
  | {
      readonly kind: "read";
      readonly file: Blob;
      readonly name: string;
      readonly corrections: LayoutCorrections;
      readonly limits: CaptureLimits;
    }
  | { readonly kind: "judge"; readonly limits: CaptureLimits }
  | { readonly kind: "part"; readonly from: number | null; readonly to: number | null }
  | { readonly kind: "lay" | "fit"; readonly text: string; readonly file: string; readonly options: FitOptions }
  | { readonly kind: "stop" }
);

export type FromCaptures = { readonly id: number } & (
  | { readonly kind: "progress"; readonly share: number | null; readonly words: string }
  | { readonly kind: "read"; readonly read: CaptureRead }
  | { readonly kind: "judged"; readonly judged: CaptureJudged }
  | { readonly kind: "fitted"; readonly answer: FitAnswer }
  | { readonly kind: "stopped" }
  | { readonly kind: "failed"; readonly message: string }
);
