/**
 * What was recorded of a run: one column of numbers a quantity, all of one length, in order of time. Around an event there are two rows of
 * the same time: the state just before it and just after it.
 */
export interface Trace {
  /** Time since the start of the run, s. */
  readonly time: Float64Array;
  /** Columns in SI units; the unit stands at the end of the name: `radio_V`, `supply_A`, `junction_degC`. */
  readonly columns: readonly TraceColumn[];
  /**
   * Only where rows were left out to save memory: how many there were, and whether the two rows of every event are still here. The first and the
   * last row and the extremes of every column are; how long something lasted between two rows is not told.
   */
  readonly thinned?: { readonly from: number; readonly everyEvent: boolean };
}

/** One recorded quantity; as many values as the trace has times, in the unit that it names. */
export interface TraceColumn {
  /** The part, the quantity and the unit: `radio_V`; spaces are underscores. */
  readonly name: string;
  /** V, A, K, J, degC, A_per_s, share (0…1); state: 0 off, 1 running, 2 limiting, 3 latched off, 4 not switched on. */
  readonly unit: string;
  readonly values: Float64Array;
}

/** An extremum: its value and when it was reached, s. */
export interface Peak {
  readonly value: number;
  readonly time: number;
}

/** Time spent beyond a level. */
export interface Excursion {
  /** The level itself, in the quantity's unit. */
  readonly level: number;
  /** Total time beyond it, s. */
  readonly total: number;
  /** Longest unbroken time beyond it, s. */
  readonly longest: number;
  /** Integral of the excess over time (for voltages V·s). */
  readonly area: number;
}
