import { InvalidInput } from "../../issue/issue.ts";
import type { Answered, Refused, ScenarioRunOptions } from "../../report/run-scenario.ts";
import type { FaultMeasured, NotMeasured, ServiceMeasured } from "./measure.ts";

/** A simulation that a study asks for; whoever drives it hands the result back. */
export interface WantedRun {
  /** What it is for, in a few words. */
  readonly name: string;
  /** A scenario file. */
  readonly text: string;
  readonly file: string;
  readonly options: Pick<ScenarioRunOptions, "secondRun" | "record">;
}

export type Measured = FaultMeasured | ServiceMeasured | NotMeasured;

/** What earlier runs showed, by their text: a study that is asked again with small changes runs only what is new. */
export class TripMemory {
  private readonly found = new Map<string, Measured>();

  constructor(private readonly most = 200) {}

  get(key: string): Measured | null {
    return this.found.get(key) ?? null;
  }

  put(key: string, measured: Measured): void {
    this.found.set(key, measured);
    const [oldest] = this.found.keys();
    if (this.found.size > this.most && oldest !== undefined) this.found.delete(oldest);
  }
}

/** Steps of a study: each asks for one run and is handed its result. */
export type Steps<T> = Generator<WantedRun, T, Answered | Refused>;

/** Counts and remembers the runs of one study. */
export class Bench {
  runs = 0;

  constructor(
    private readonly file: string,
    private readonly memory: TripMemory,
  ) {}

  /**
   * One run and what it showed.
   *
   * @param makeText of the scenario; where a change cannot be written into the file, there is no run
   */
  *measure<T extends Measured>(
    name: string,
    makeText: () => string,
    read: (result: Answered | Refused) => T | NotMeasured,
  ): Steps<T | NotMeasured> {
    let text: string;
    try {
      text = makeText();
    } catch (error) {
      if (!(error instanceof InvalidInput)) throw error;
      return { kind: "none", why: error.issues[0].message, code: "cannot-change" };
    }
    const known = this.memory.get(text);
    if (known !== null) return known as T | NotMeasured;
    this.runs += 1;
    const result = yield { name, text, file: this.file, options: { secondRun: false, record: { most: 60_000 } } };
    const measured = read(result);
    this.memory.put(text, measured);
    return measured;
  }
}
