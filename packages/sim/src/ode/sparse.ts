import { type Vector, zeros } from "./vector.ts";

/**
 * Elimination without pivoting for a matrix whose pattern and order of elimination are fixed once. The pattern of fill is found at the
 * start; a factorization then walks a flat list of positions and allocates nothing. Listing the unknowns of each branch before the
 * unknowns that join the branches makes the cost grow with the number of branches, not with its square.
 */
export class SparsePattern {
  private readonly slots = new Map<number, number>();
  readonly entries: { row: number; column: number }[] = [];

  constructor(readonly size: number) {}

  /** The slot of an entry; the same entry asked for twice has one slot. */
  slot(row: number, column: number): number {
    const key = row * this.size + column;
    let slot = this.slots.get(key);
    if (slot === undefined) {
      slot = this.entries.length;
      this.slots.set(key, slot);
      this.entries.push({ row, column });
    }
    return slot;
  }

  /** Fixes the order of elimination and finds the fill. `shifted[i]` tells whether unknown i carries the shift on its diagonal. */
  compile(order: readonly number[], shifted: readonly boolean[]): SparseElimination {
    return new SparseElimination(this.size, this.entries, order, shifted);
  }
}

/**
 * The factors are L·U with a unit diagonal of L. Unknowns that nothing depends on, such as an integral or a temperature that only follows, stay
 * out of it: they are worked out last, one by one. The others, the core, are numbered by rank in the order of elimination and stored row by row:
 * each row of a solution is then one sum that never leaves the processor's registers.
 *
 * All that changes stands in one array and all positions in another: every round of a loop looks anew at each array that it reads.
 */
export class SparseElimination {
  /** The matrix J by slot; the caller fills it. One entry more than there are slots stays 0: fill starts from it. */
  readonly values: number[];
  /**
   * First the solution of the moment by rank. Then in the order of use: the rows of L from the first, those of U from the last, what drives those
   * that follow, and the diagonal, once factored the pivots' inverses.
   */
  private readonly numbers: number[];
  /** Which slot each place of `numbers` behind the solution starts from. */
  private readonly source: readonly number[];
  /** Places on a diagonal that carry the shift. */
  private readonly shifted: readonly number[];
  /** Row by row: how many entries of L; for each the place of its pivot, how many places it changes, the first of what it changes them by, and those. */
  private readonly factoring: readonly number[];
  /** Row by row, the rows of L, those of U, and those that follow: the unknown, how many entries, and their ranks. */
  private readonly solving: readonly number[];
  private readonly core: number = 0;
  private readonly diagonal: number = 0;
  readonly operations: { readonly factor: number; readonly solve: number };

  constructor(
    readonly size: number,
    entries: readonly { row: number; column: number }[],
    order: readonly number[],
    shifted: readonly boolean[],
  ) {
    const needed = order.map(() => false);
    for (const { row, column } of entries) if (row !== column) needed[column] = true;
    const ranked = [...order.filter((unknown) => needed[unknown]), ...order.filter((unknown) => !needed[unknown])];
    const rank = new Int32Array(size);
    for (let k = 0; k < size; k++) rank[ranked[k]] = k;
    const core = needed.filter(Boolean).length;
    const { slots, lower, upper } = filledRows(core, size, rank, entries);
    const empty = entries.length;
    const slotAt = (row: number, column: number) =>
      slots[row * size + column] > 0 ? slots[row * size + column] - 1 : empty;

    const source: number[] = [];
    const solving: number[] = [];
    const store = (row: number, columns: readonly number[]) => {
      solving.push(ranked[row], columns.length);
      for (const column of columns) {
        source.push(slotAt(row, column));
        solving.push(column);
      }
    };
    /** Where a row of L or of U begins among the numbers. */
    const [lowFrom, upFrom] = [new Int32Array(core), new Int32Array(core)];
    for (let k = 0; k < core; k++) {
      lowFrom[k] = size + source.length;
      store(k, lower[k]);
    }
    for (let k = core - 1; k >= 0; k--) {
      upFrom[k] = size + source.length;
      store(k, upper[k]);
    }
    for (let k = core; k < size; k++) store(k, drivesOf(slots, k, size));
    const diagonal = size + source.length;
    for (let k = 0; k < size; k++) source.push(slotAt(k, k));

    const placeOf = (row: number, column: number) => {
      if (column === row) return diagonal + row;
      return column < row ? lowFrom[row] + lower[row].indexOf(column) : upFrom[row] + upper[row].indexOf(column);
    };
    const factoring: number[] = [];
    let changes = 0;
    for (let k = 0; k < core; k++) {
      factoring.push(lower[k].length);
      for (const pivot of lower[k]) {
        const columns = upper[pivot];
        factoring.push(diagonal + pivot, columns.length, upFrom[pivot]);
        for (const column of columns) factoring.push(placeOf(k, column));
        changes += 1 + columns.length;
      }
    }
    this.source = source;
    this.solving = solving;
    this.factoring = factoring;
    this.core = core;
    this.diagonal = diagonal;
    this.shifted = Array.from({ length: size }, (_, k) => k)
      .filter((k) => shifted[ranked[k]])
      .map((k) => diagonal + k);
    this.operations = { factor: changes, solve: source.length };
    this.values = zeros(empty + 1);
    this.numbers = zeros(size + source.length);
  }

  /** Number of stored entries after fill. */
  get stored(): number {
    return this.source.length;
  }

  /** Factors shift·S − J, S the diagonal of the shifted unknowns; false where a pivot vanishes or is not finite. */
  factor(shift: number): boolean {
    const { numbers, values, source, shifted, factoring, diagonal, core, size } = this;
    for (let e = 0; e < source.length; e++) numbers[size + e] = -values[source[e]];
    for (let s = 0; s < shifted.length; s++) numbers[shifted[s]] += shift;
    let low = size;
    let p = 0;
    for (let k = 0; k < core; k++) {
      let left = factoring[p++];
      for (; left > 0; left--) {
        const factor = numbers[low] * numbers[factoring[p]];
        numbers[low++] = factor;
        let count = factoring[p + 1];
        let up = factoring[p + 2];
        p += 3;
        for (; count > 1; count -= 2, up += 2, p += 2) {
          numbers[factoring[p]] -= factor * numbers[up];
          numbers[factoring[p + 1]] -= factor * numbers[up + 1];
        }
        if (count > 0) numbers[factoring[p++]] -= factor * numbers[up];
      }
      const pivot = numbers[diagonal + k];
      if (!isUsable(pivot)) return false;
      numbers[diagonal + k] = 1 / pivot;
    }
    for (let d = diagonal + core; d < diagonal + size; d++) {
      if (!isUsable(numbers[d])) return false;
      numbers[d] = 1 / numbers[d];
    }
    return true;
  }

  /**
   * Solves with the last factors, in place; b has one entry an unknown, or leaves out the last unknowns: their right side is 0, and their values
   * are not told.
   */
  solve(b: Vector): void {
    const { numbers, solving, diagonal, core, size } = this;
    const given = b.length;
    let e = size;
    let p = 0;
    for (let k = 0; k < core; k++) {
      const unknown = solving[p];
      let count = solving[p + 1];
      let x = unknown < given ? b[unknown] : 0;
      p += 2;
      for (; count > 1; count -= 2, e += 2, p += 2)
        x = x - numbers[e] * numbers[solving[p]] - numbers[e + 1] * numbers[solving[p + 1]];
      if (count > 0) x -= numbers[e++] * numbers[solving[p++]];
      numbers[k] = x;
    }
    for (let k = core - 1; k >= 0; k--) {
      const unknown = solving[p];
      let count = solving[p + 1];
      let x = numbers[k];
      p += 2;
      for (; count > 1; count -= 2, e += 2, p += 2)
        x = x - numbers[e] * numbers[solving[p]] - numbers[e + 1] * numbers[solving[p + 1]];
      if (count > 0) x -= numbers[e++] * numbers[solving[p++]];
      x *= numbers[diagonal + k];
      numbers[k] = x;
      if (unknown < given) b[unknown] = x;
    }
    for (let k = core; k < size; k++) {
      const unknown = solving[p];
      let x = unknown < given ? b[unknown] : 0;
      let count = solving[p + 1];
      for (p += 2; count > 0; count--) x -= numbers[e++] * numbers[solving[p++]];
      if (unknown < given) b[unknown] = x * numbers[diagonal + k];
    }
  }
}

/** A pivot that has not vanished and is finite. */
function isUsable(pivot: number): boolean {
  return Math.abs(pivot) > 1e-280 && pivot - pivot === 0;
}

/**
 * The rows by rank with the fill of the core: what stands in a square of entries (0 nothing, −1 fill, else one more than its slot), and by row of the
 * core the columns before and behind the diagonal.
 */
function filledRows(
  core: number,
  size: number,
  rank: Int32Array,
  entries: readonly { row: number; column: number }[],
): { slots: Int32Array; lower: number[][]; upper: number[][] } {
  const slots = new Int32Array(size * size);
  for (let slot = 0; slot < entries.length; slot++) {
    const { row, column } = entries[slot];
    slots[rank[row] * size + rank[column]] = slot + 1;
  }
  const lower: number[][] = [];
  const upper: number[][] = [];
  for (let i = 0; i < core; i++) {
    const own = i * size;
    const before: number[] = [];
    const behind: number[] = [];
    for (let k = 0; k < i; k++) {
      if (slots[own + k] === 0) continue;
      before.push(k);
      for (const column of upper[k]) if (slots[own + column] === 0) slots[own + column] = -1;
    }
    for (let k = i + 1; k < core; k++) if (slots[own + k] !== 0) behind.push(k);
    lower.push(before);
    upper.push(behind);
  }
  return { slots, lower, upper };
}

/** The columns on which one that only follows depends. */
function drivesOf(slots: Int32Array, row: number, size: number): number[] {
  const columns: number[] = [];
  for (let column = 0; column < size; column++)
    if (column !== row && slots[row * size + column] > 0) columns.push(column);
  return columns;
}
