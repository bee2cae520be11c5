import type { BatchResult, BrokenSample } from "../pool/evaluate.ts";
import { RUN_FIGURES } from "../pool/figures.ts";
import { isEndangered, isTold, OUTCOMES } from "../pool/outcome.ts";

/** What is kept of each run of a study: some 26 bytes, so that a million take no room. */
export interface Rows {
  /** Index of the first in the whole study. */
  readonly first: number;
  /** Places in `OUTCOMES`. */
  readonly outcomes: Uint8Array;
  /** 1 where a decisive level was missed or passed by less than 0.1 %. */
  readonly close: Uint8Array;
  /** Largest voltage at a load, V; NaN where nothing was told. */
  readonly peak: Float64Array;
  /** From the fault to the first trip, s; NaN where nothing tripped. */
  readonly trip: Float64Array;
  /** Peak over the load's maximum: above 1 it is endangered. */
  readonly share: Float64Array;
  /** The first hundred that could not be run or broke off. */
  readonly broken: readonly BrokenSample[];
}

/** Of broken samples no more are kept with what was said. */
const MOST_BROKEN = 100;

/** Takes batches in, in any order. */
export class RowKeeper {
  readonly rows: Rows;
  private readonly broken: BrokenSample[] = [];

  constructor(first: number, count: number) {
    const numbers = () => new Float64Array(count).fill(Number.NaN);
    this.rows = {
      first,
      outcomes: new Uint8Array(count),
      close: new Uint8Array(count),
      peak: numbers(),
      trip: numbers(),
      share: numbers(),
      broken: this.broken,
    };
  }

  take({ first, outcomes, close, figures, broken }: BatchResult): void {
    const at = first - this.rows.first;
    this.rows.outcomes.set(outcomes, at);
    this.rows.close.set(close, at);
    for (let k = 0; k < outcomes.length; k++) {
      const row = k * RUN_FIGURES.length;
      this.rows.peak[at + k] = figures[row];
      this.rows.trip[at + k] = figures[row + 1];
      this.rows.share[at + k] = figures[row + 2];
    }
    this.broken.push(...broken);
    // The first ones by index, in whatever order the batches come.
    this.broken.sort((a, b) => a.index - b.index);
    this.broken.length = Math.min(this.broken.length, MOST_BROKEN);
  }
}

/** Rows that follow one another, as one; at least one lot of them. @throws RangeError where there is a gap */
export function joined(parts: readonly Rows[]): Rows {
  const sorted = parts.toSorted((a, b) => a.first - b.first);
  const [start] = sorted;
  const total = sorted.reduce((sum, { outcomes }) => sum + outcomes.length, 0);
  const keeper = new RowKeeper(start.first, total).rows;
  let at = start.first;
  for (const part of sorted) {
    if (part.outcomes.length > 0 && part.first !== at) throw new RangeError(`rows from ${at} on are missing`);
    for (const name of ["outcomes", "close", "peak", "trip", "share"] as const)
      keeper[name].set(part[name], at - start.first);
    at += part.outcomes.length;
  }
  const broken = sorted.flatMap((part) => part.broken).toSorted((a, b) => a.index - b.index);
  return { ...keeper, broken: broken.slice(0, MOST_BROKEN) };
}

/** The place of the worst for a load: by how it was endangered, then by how far it went; the first of equals. Null where none tells. */
export function worstOf(rows: Rows, places: Iterable<number> = rows.outcomes.keys()): number | null {
  let worst: number | null = null;
  for (const each of places) {
    if (!isTold(OUTCOMES[rows.outcomes[each]])) continue;
    if (worst === null || isWorse(rows, each, rows, worst)) worst = each;
  }
  return worst;
}

/** Whether one run is worse for a load than another, by more than `least` of its peak where both fare alike. */
export function isWorse(rows: Rows, place: number, others: Rows, other: number, least = 0): boolean {
  const [rank, otherRank] = [dangerRank(rows.outcomes[place]), dangerRank(others.outcomes[other])];
  return rank === otherRank ? rows.share[place] > others.share[other] * (1 + least) : rank < otherRank;
}

/** Outcomes that leave the load safe are alike here. */
function dangerRank(outcome: number): number {
  return isEndangered(OUTCOMES[outcome]) ? outcome : OUTCOMES.length;
}
