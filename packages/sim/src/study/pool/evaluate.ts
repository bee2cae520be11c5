import { type Answered, type Refused, ScenarioRun } from "../../report/run-scenario.ts";
import { FitMemory } from "../../scenario/index.ts";
import { figuresOf, RUN_FIGURES } from "./figures.ts";
import { OUTCOMES, type Outcome, outcomeOf } from "./outcome.ts";
import { Readings, type Varied } from "./readings.ts";

/** What an evaluator needs to know; plain data, so that it may be handed to another thread. */
export interface Setup {
  /** The scenario file. */
  readonly text: string;
  /** Its name, for messages. */
  readonly file: string;
  /** What each number of a vector is. */
  readonly varied: readonly Varied[];
}

/** What is to be run: vectors of values, one after the other, each as long as `varied`. */
export interface Batch {
  /** Of the first vector in the whole study. */
  readonly first: number;
  /** In the units of `varied`. */
  readonly values: Float64Array;
}

/** What came of a batch, vector by vector. */
export interface BatchResult {
  /** That of the batch. */
  readonly first: number;
  /** Places in `OUTCOMES`. */
  readonly outcomes: Uint8Array;
  /** 1 where a decisive level was missed or passed by less than 0.1 %. */
  readonly close: Uint8Array;
  /** `RUN_FIGURES` of each vector, one vector after the other; NaN where there is none. */
  readonly figures: Float64Array;
  /** Vectors that could not be run or broke off, with what was said. */
  readonly broken: readonly BrokenSample[];
}

/** A vector of values that came to nothing, and why. */
export interface BrokenSample {
  /** In the whole study. */
  readonly index: number;
  /** `crashed`: the one who ran it broke down. */
  readonly kind: "cannot be run" | "no verdict" | "crashed";
  /** A whole sentence, or what broke down said. */
  readonly message: string;
}

/** What a study asks of one run: nothing is drawn from it, and no second run for a melted fuse's available current. */
const LEAN = { record: false, secondRun: false } as const;

/**
 * Runs one scenario at many vectors of values. A vector that breaks off hurts no other.
 *
 * @example new Evaluator({ text, file: "hut.yaml", varied }).run({ first: 0, values: Float64Array.of(15.1, 0.2) })
 */
export class Evaluator {
  private readonly readings: Readings;

  constructor(private readonly setup: Setup) {
    this.readings = new Readings(setup.text, setup.file, setup.varied, new FitMemory());
  }

  /** Runs every vector of a batch, one after the other; gives what each came to. */
  run({ first, values }: Batch): BatchResult {
    const width = this.setup.varied.length;
    // A study without varied values asks for the scenario itself.
    const count = width === 0 ? 1 : values.length / width;
    const outcomes = new Uint8Array(count);
    const close = new Uint8Array(count);
    const figures = new Float64Array(count * RUN_FIGURES.length).fill(Number.NaN);
    const broken: BrokenSample[] = [];
    for (let k = 0; k < count; k++) {
      const vector = [...values.subarray(k * width, (k + 1) * width)];
      const index = first + k;
      try {
        const found = this.answer(vector);
        outcomes[k] = OUTCOMES.indexOf(found.outcome);
        close[k] = found.close ? 1 : 0;
        figures.set(found.figures, k * RUN_FIGURES.length);
        if (found.problem !== null)
          broken.push({ index, kind: found.outcome as BrokenSample["kind"], message: found.problem });
      } catch (error) {
        outcomes[k] = OUTCOMES.indexOf("no verdict");
        broken.push({ index, kind: "crashed", message: error instanceof Error ? error.message : String(error) });
      }
    }
    return { first, outcomes, close, figures, broken };
  }

  private answer(values: readonly number[]): Evaluated {
    const parsed = this.readings.at(values);
    const job = new ScenarioRun(this.setup.text, this.setup.file, { ...LEAN, parsed });
    while (job.advance(50_000) === "running");
    return evaluated(job.result());
  }
}

interface Evaluated {
  readonly outcome: Outcome;
  readonly close: boolean;
  readonly figures: readonly number[];
  readonly problem: string | null;
}

function evaluated(answer: Answered | Refused): Evaluated {
  if (answer.kind === "refused") {
    const [{ message }] = answer.issues.filter(({ severity }) => severity === "error");
    return { outcome: "cannot be run", close: false, figures: [], problem: message };
  }
  const { run, verdict } = answer;
  const outcome = outcomeOf(run, verdict);
  if (verdict.kind === "not a verdict") return { outcome, close: false, figures: [], problem: verdict.reason };
  return { outcome, close: verdict.tooClose.length > 0, figures: figuresOf(run), problem: null };
}
