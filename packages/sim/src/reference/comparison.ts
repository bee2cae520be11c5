/** How closely figures must agree. */
export interface Accuracy {
  /** Relative, for everything. */
  readonly relative: number;
  /** Times agree to this at least, s. */
  readonly time: number;
}

export const ACCURACY = {
  default: { relative: 1e-3, time: 1e-6 },
  tight: { relative: 1e-5, time: 1e-8 },
} as const satisfies Record<string, Accuracy>;

/** One compared figure; `deviation` is over what is allowed, so above 1 it falls short. */
export interface Comparison {
  readonly figure: string;
  readonly expected: string;
  readonly found: string;
  readonly deviation: number;
}

/**
 * Collects comparisons. Relative accuracy holds of the larger of a value and a floor in its unit: 10 mV, 10 mA, 0.1 K, and for what the
 * reference gives no floor the same share of a usual value.
 */
export class Comparer {
  readonly list: Comparison[] = [];
  /** Expectations that contradict the file itself, with the reason. */
  readonly leftOut: string[] = [];

  constructor(readonly accuracy: Accuracy) {}

  /** A number against another; `extra` widens what is allowed in the value's own unit. */
  value(figure: string, expected: unknown, found: number | null | undefined, floor: number, extra = 0): void {
    if (expected === null || typeof expected !== "number" || typeof found !== "number") {
      this.same(figure, expected, found);
      return;
    }
    const allowed = this.accuracy.relative * Math.max(Math.abs(expected), floor) + extra;
    this.add(figure, expected, found, Math.abs(found - expected) / allowed);
  }

  /** A time or a duration. */
  time(figure: string, expected: unknown, found: number | null | undefined, since = 0): void {
    if (expected === null || typeof expected !== "number" || typeof found !== "number") {
      this.same(figure, expected, found);
      return;
    }
    const allowed = Math.max(this.accuracy.relative * Math.abs(expected - since), this.accuracy.time);
    this.add(figure, expected, found, Math.abs(found - expected) / allowed);
  }

  /** Two things that must be the same. */
  same(figure: string, expected: unknown, found: unknown): void {
    const equal = found !== undefined && JSON.stringify(expected) === JSON.stringify(found);
    this.add(figure, expected, found, equal ? 0 : Number.POSITIVE_INFINITY);
  }

  /** Sets an expectation aside, for a reason that is shown. */
  leaveOut(reason: string): void {
    this.leftOut.push(reason);
  }

  private add(figure: string, expected: unknown, found: unknown, deviation: number): void {
    const show = (value: unknown) => (value === undefined ? "not computed" : JSON.stringify(value));
    this.list.push({
      figure,
      expected: show(expected),
      found: show(found),
      deviation: Number.isNaN(deviation) ? Number.POSITIVE_INFINITY : deviation,
    });
  }
}
