import { InvalidInput } from "../../issue/issue.ts";
import type { Run } from "../../model/result.ts";
import { Simulation } from "../../model/run.ts";
import type { ScenarioResult } from "../../scenario/index.ts";
import type { Readings, Varied } from "../pool/readings.ts";
import type { Channel } from "./channels.ts";
import { LineCurve } from "./curve.ts";
import { type Edge, edgesOf } from "./edges.ts";

/** A run as the fit looks at it. */
export interface Simulated {
  readonly run: Run;
  /** One a channel. */
  readonly lines: readonly LineCurve[];
  readonly edges: readonly (readonly Edge[])[];
}

/** Of what a sample may be off by, the share by which a straight line between two rows of a run may miss its curve: thousands of samples tell less than a hundredth. */
const CHORD = 1 / 300;
/** Runs that are remembered. */
const KEPT = 30;
/** A second or two of work: a fit takes a hundred runs. */
const MOST_STEPS = 100_000;

/** Runs a scenario at other values, and remembers the last of them. */
export class Simulator {
  private readonly kept: { readonly key: string; readonly found: Simulated | null }[] = [];
  /** Runs so far. */
  count = 0;

  constructor(
    private readonly readings: Readings,
    private readonly varied: readonly Varied[],
    private readonly channels: readonly Channel[],
    /** Until when a run has to go, s. */
    readonly until: number,
  ) {}

  /** The same with another end, and what was counted. */
  to(until: number): Simulator {
    const other = new Simulator(this.readings, this.varied, this.channels, until);
    other.count = this.count;
    return other;
  }

  /** Null where the values contradict the rest of the line, or the run breaks off. */
  at(values: readonly number[]): Simulated | null {
    const key = values
      .slice(0, this.varied.length)
      .map((value) => value.toPrecision(7))
      .join();
    const known = this.kept.find((each) => each.key === key);
    if (known !== undefined) return known.found;
    const found = this.run(values);
    this.kept.unshift({ key, found });
    this.kept.length = Math.min(this.kept.length, KEPT);
    return found;
  }

  private run(values: readonly number[]): Simulated | null {
    this.count++;
    const parsed = this.readings.at(values.slice(0, this.varied.length));
    const within = Object.fromEntries(this.channels.map(({ column, off }) => [column, CHORD * off]));
    const run = runFor(parsed, this.until, within);
    if (run === null) return null;
    const lines = this.channels.map(({ column }) => lineOf(run, column));
    const edges = this.channels.map(({ level }, c) => (level === null ? [] : edgesOf(lines[c], level, 0)));
    return { run, lines, edges };
  }
}

/**
 * A whole run of a scenario that was read, to an end of one's own; null where there is none, or only with more work than a fit can have.
 *
 * @param within by how much straight lines between rows may miss a column, V or A
 */
export function runFor(
  { scenario }: ScenarioResult,
  until: number,
  within: Readonly<Record<string, number>> = {},
): Run | null {
  if (scenario === null) return null;
  try {
    const simulation = new Simulation({ ...scenario, endTime: until }, { record: { within }, maxSteps: MOST_STEPS });
    while (simulation.advance(50_000) === "running");
    const run = simulation.result();
    return run.outcome.status === "failed" || run.outcome.status === "stopped" ? null : run;
  } catch (error) {
    // Values that leave the line without an operating point are a way that leads nowhere, not the end.
    if (error instanceof InvalidInput) return null;
    throw error;
  }
}

function lineOf({ trace: { time, columns } }: Run, column: string): LineCurve {
  return new LineCurve(time, columns.find(({ name }) => name === column)?.values ?? new Float64Array(time.length));
}
