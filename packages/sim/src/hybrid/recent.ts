import { zeros } from "../ode/vector.ts";
import type { Interval } from "./interval.ts";

interface Piece {
  readonly length: number;
  /** Integrals of every probe and of its square. */
  readonly sums: number[];
  readonly squares: number[];
}

/** Means of every probe, and of its square, over the last stretch of a run. */
export class RecentMeans {
  private readonly pieces: Piece[] = [];
  private readonly span: number;
  private held = 0;

  /** @param span length of the stretch, s */
  constructor(span: number) {
    this.span = span;
  }

  /** Takes in a piece whose looks are taken; lets go of what is older than the stretch. */
  add(interval: Interval): void {
    const piece = interval.moments();
    this.pieces.push(piece);
    this.held += piece.length;
    while (this.pieces.length > 1 && this.held - this.pieces[0].length >= this.span) {
      this.held -= this.pieces[0].length;
      this.pieces.shift();
    }
  }

  /** What was before says nothing any more. */
  forget(): void {
    this.pieces.length = 0;
    this.held = 0;
  }

  /** Null where nothing was taken in since it was told to forget; of less than a stretch what there is. */
  means(): { readonly mean: readonly number[]; readonly square: readonly number[] } | null {
    if (!(this.held > 0)) return null;
    const size = this.pieces[0].sums.length;
    const mean = zeros(size);
    const square = zeros(size);
    const span = Math.min(this.span, this.held);
    for (const [k, { length, sums, squares }] of this.pieces.entries()) {
      // The oldest piece reaches back beyond the stretch: its share of it stands for the part within.
      const share = (k === 0 ? 1 - (this.held - span) / length : 1) / span;
      for (let p = 0; p < size; p++) {
        mean[p] += share * sums[p];
        square[p] += share * squares[p];
      }
    }
    return { mean, square };
  }
}
