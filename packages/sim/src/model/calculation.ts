// How a run was calculated: rounds that were leapt over, values asked for at instants, the work it cost.

/** What became of rounds that are alike, where a run was allowed to leap over them. */
export interface Repetition {
  /**
   * Whole rounds that were worked out from the map of one round to the next. Times, counts, sums and temperatures of this run include them;
   * events and waveforms do not.
   */
  readonly leaps: readonly Leapt[];
  /** Why none was leapt over although hundreds lay ahead; null where there was no need, or no leave. */
  readonly refusal: string | null;
}

/** Rounds of a line that repeats itself which were worked out and not integrated: from and to in s. */
export interface Leapt {
  readonly from: number;
  readonly to: number;
  /** How many. */
  readonly rounds: number;
  /** Length of the last of them, s. */
  readonly period: number;
}

/** Values at a given time after an event (index −1: after the start). */
export interface Sample {
  /** Place of the event in the run's `events`. */
  readonly event: number;
  /** After that event, s. */
  readonly delay: number;
  /** Since the start of the run, s. */
  readonly time: number;
  /** By the names of the trace's columns. */
  readonly values: Readonly<Record<string, number>>;
}

/** What the run cost. */
export interface Work {
  /** Steps of the integrator that were accepted. */
  readonly steps: number;
  /** Steps that were tried and taken again shorter. */
  readonly rejected: number;
  /** Evaluations of the rates. */
  readonly evaluations: number;
  /** Jacobians that were evaluated. */
  readonly jacobians: number;
  /** Matrices that were factored. */
  readonly factorizations: number;
  /** Events that were logged. */
  readonly events: number;
  /** Changes of mode that are not logged as events. */
  readonly quietChanges: number;
}
