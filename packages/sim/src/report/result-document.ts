import type { Issue } from "../issue/issue.ts";
import type { Run } from "../model/result.ts";
import type { FuseFitPoint } from "../scenario/parts/fuse-fit-types.ts";
import type { Origin } from "../scenario/sheet.ts";
import type { Scenario } from "../scenario/types.ts";
import type { Verdict } from "../verdict/types.ts";

/** What the result should say of itself. */
export interface ResultOrigin {
  /** Name of the scenario file. */
  readonly file: string;
  /** Version of the program. */
  readonly version: string;
  /** How the run was asked for; null where the default holds. */
  readonly options: {
    /** Integration method. */
    readonly method: string | null;
    /** Relative, as a number or a word. */
    readonly tolerance: string | number | null;
    /** Earlier end of the run, s. */
    readonly until: number | null;
  };
}

type Head = ResultOrigin & {
  /** The form and its number, which goes up whenever a reader of the old form could stumble. */
  readonly format: "railfault-result 1";
};

/** There was no run. */
export type RefusedDocument = Head & {
  readonly status: "refused";
  /** That of the command. */
  readonly exitStatus: 2;
  /** In the order of the text; at least one is an error. */
  readonly issues: readonly Issue[];
};

/** How well a fitted fuse model meets its published points. */
export interface FitDocument {
  /** Path of the fuse in the scenario file. */
  readonly path: string;
  /** What the user calls it. */
  readonly label: string;
  /** Largest |ln(time/target)|: 0.1 is about 10 % off; 0 without targets. */
  readonly worstDeviation: number;
  /** Whether the model keeps every published time gate. */
  readonly insideGates: boolean;
  /** What the fit had to meet, one by one. */
  readonly points: readonly FuseFitPoint[];
}

/** A run with its verdict, or with the reason why there is none. */
export type AnsweredDocument = Head & {
  /** `no verdict`: the run is no basis for one; `verdict` tells why. */
  readonly status: "judged" | "no verdict";
  /** That of the command. */
  readonly exitStatus: Verdict["exitStatus"];
  /** Title and question of the file; empty where it has none. */
  readonly about: { readonly title: string; readonly question: string };
  /** Warnings about the scenario. */
  readonly issues: readonly Issue[];
  /** What `judge` made of the run. */
  readonly verdict: Verdict;
  /** What the run found; its waveforms stand in `trace`. */
  readonly run: Omit<Run, "scenario" | "trace" | "samples">;
  /** The complete scenario that was run, in SI units. */
  readonly scenario: Scenario;
  /** Every value that the file does not state. */
  readonly origins: readonly Origin[];
  /** One for each fuse whose thermal stages were fitted. */
  readonly fuseFits: readonly FitDocument[];
  /** Waveforms, where they were asked for; the first column is `time_s`. */
  readonly trace?: {
    readonly columns: readonly { readonly name: string; readonly unit: string; readonly values: readonly number[] }[];
  };
};

/** What `railfault run FILE --json` prints: `docs/result-format.md` tells what stands where. A number that is not finite is null there. */
export type ResultDocument = RefusedDocument | AnsweredDocument;
