import { InvalidInput } from "../../issue/issue.ts";
import type { Answered, Refused, ScenarioRunOptions } from "../../report/run-scenario.ts";
import { FitMemory, parseScenario, type ScenarioResult } from "../../scenario/index.ts";
import type { FaultMeasured, NotMeasured, ServiceMeasured } from "./measure.ts";

/** A simulation that a study asks for; whoever drives it hands the result back. */
export interface WantedRun {
  /** What it is for, in a few words. */
  readonly name: string;
  /** A scenario file. */
  readonly text: string;
  /** Its name, for messages. */
  readonly file: string;
  /** For `runScenario`. */
  readonly options: Pick<ScenarioRunOptions, "secondRun" | "record">;
}

export type Measured = FaultMeasured | ServiceMeasured | NotMeasured;

/** What earlier studies read and what their runs showed: a study that is asked again with small changes does only what is new. */
export class TripMemory {
  private readonly fits = new FitMemory();
  private readonly texts = new Map<string, ScenarioResult>();
  private readonly found = new Map<string, Measured>();

  /** A scenario file as the library reads it. */
  parse(text: string, file: string): ScenarioResult {
    const key = `${file}\n${text}`;
    const known = this.texts.get(key) ?? parseScenario(text, file, this.fits);
    remember(this.texts, key, known, MOST_TEXTS);
    return known;
  }

  /** What was measured before under this key; null: nothing. */
  get(key: string): Measured | null {
    return this.found.get(key) ?? null;
  }

  /** Keeps what was measured. */
  put(key: string, measured: Measured): void {
    remember(this.found, key, measured, MOST_RUNS);
  }
}

const MOST_TEXTS = 40;
const MOST_RUNS = 300;

function remember<T>(map: Map<string, T>, key: string, value: T, most: number): void {
  map.delete(key);
  map.set(key, value);
  const [oldest] = map.keys();
  if (map.size > most && oldest !== undefined) map.delete(oldest);
}

/** Steps of a study: each asks for one run and is handed its result. */
export type Steps<T> = Generator<WantedRun, T, Answered | Refused>;

/** Counts and remembers the runs of one study. */
export class Bench {
  runs = 0;

  constructor(
    private readonly file: string,
    readonly memory: TripMemory,
  ) {}

  /**
   * One run and what it showed.
   *
   * @param key tells it from all others: what it was made from
   * @param makeText of the scenario; where a change cannot be written into the file, there is no run
   */
  *measure<T extends Measured>(
    name: string,
    key: readonly unknown[],
    makeText: () => string,
    read: (result: Answered | Refused) => T | NotMeasured,
  ): Steps<T | NotMeasured> {
    // Changing a text costs more than asking whether that was done before.
    const found = JSON.stringify([name, ...key]);
    const known = this.memory.get(found);
    if (known !== null) return known as T | NotMeasured;
    let text: string;
    try {
      text = makeText();
    } catch (error) {
      if (!(error instanceof InvalidInput)) throw error;
      return { kind: "none", why: error.issues[0].message, code: "cannot-change", hint: null };
    }
    this.runs += 1;
    const result = yield { name, text, file: this.file, options: { secondRun: false, record: { most: 60_000 } } };
    const measured = read(result);
    this.memory.put(found, measured);
    return measured;
  }
}
