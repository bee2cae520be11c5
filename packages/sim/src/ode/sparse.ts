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
 * The factors are L·D·U with unit diagonals of L and U. Everything is numbered by rank in the order of elimination and stored in the order in
 * which it is used, so that solving is a few flat loops without a branch.
 */
export class SparseElimination {
  /** The matrix J by slot; the caller fills it. */
  readonly values: Float64Array;
  /** By rank: the pivots' inverses; then L column by column, then U row by row from the last. */
  private readonly lu: Float64Array;
  /** Where each slot of J goes in `lu`. */
  private readonly home: Int32Array;
  private readonly shifted: Int32Array;
  private readonly order: Int32Array;
  /** Column k of L stands from `low[k]` to `low[k + 1]`; its rows and its own rank are in `lowRow` and `lowColumn`. */
  private readonly low: Int32Array;
  private readonly lowRow: Int32Array;
  private readonly lowColumn: Int32Array;
  /** Row k of U, times its pivot, stands from `up[k + 1]` to `up[k]` in `lu`; `column` tells where each entry stands in `upper`. */
  private readonly up: Int32Array;
  private readonly column: Int32Array;
  /** U column by column from the last, so that no sum waits for the one before; rank of each entry's column and row. */
  private readonly upper: Float64Array;
  private readonly upColumn: Int32Array;
  private readonly upRow: Int32Array;
  /** What each pivot's products are subtracted from, pivot by pivot, row by row. */
  private readonly targets: Int32Array;
  private readonly work: Float64Array;

  constructor(
    readonly size: number,
    entries: readonly { row: number; column: number }[],
    order: readonly number[],
    shifted: readonly boolean[],
  ) {
    const rank = new Int32Array(size);
    order.forEach((unknown, k) => {
      rank[unknown] = k;
    });
    /** Place of entry (i, j), both by rank, in `lu`; −1 where there is none. */
    const place = new Int32Array(size * size).fill(-1);
    for (const { row, column } of entries) place[rank[row] * size + rank[column]] = 0;
    for (let k = 0; k < size; k++) place[k * size + k] = 0;
    for (let k = 0; k < size; k++) {
      for (let i = k + 1; i < size; i++) {
        if (place[i * size + k] < 0) continue;
        for (let j = k + 1; j < size; j++) if (place[k * size + j] === 0) place[i * size + j] = 0;
      }
    }
    const low: number[] = [];
    const lowRow: number[] = [];
    const lowColumn: number[] = [];
    const up = new Int32Array(size + 1);
    const upColumn: number[] = [];
    const upRow: number[] = [];
    for (let k = 0; k < size; k++) {
      place[k * size + k] = k;
      low.push(size + lowRow.length);
      for (let i = k + 1; i < size; i++) {
        if (place[i * size + k] !== 0) continue;
        place[i * size + k] = size + lowRow.push(i) - 1;
        lowColumn.push(k);
      }
    }
    const upStart = size + lowRow.length;
    low.push(upStart);
    up[size] = upStart;
    for (let k = size - 1; k >= 0; k--) {
      for (let j = k + 1; j < size; j++) {
        if (place[k * size + j] !== 0) continue;
        place[k * size + j] = upStart + upColumn.push(j) - 1;
        upRow.push(k);
      }
      up[k] = upStart + upColumn.length;
    }
    const targets: number[] = [];
    for (let k = 0; k < size; k++) {
      for (let l = low[k]; l < low[k + 1]; l++) {
        for (let u = up[k + 1]; u < up[k]; u++) targets.push(place[lowRow[l - size] * size + upColumn[u - upStart]]);
      }
    }
    this.values = new Float64Array(entries.length);
    this.lu = new Float64Array(upStart + upColumn.length);
    this.home = Int32Array.from(entries, ({ row, column }) => place[rank[row] * size + rank[column]]);
    this.shifted = Int32Array.from(
      order.filter((unknown) => shifted[unknown]),
      (unknown) => rank[unknown],
    );
    this.order = Int32Array.from(order);
    this.low = Int32Array.from(low);
    this.lowRow = Int32Array.from(lowRow);
    this.lowColumn = Int32Array.from(lowColumn);
    this.up = up;
    const byColumn = Array.from(upColumn.keys()).sort((a, b) => upColumn[b] - upColumn[a] || upRow[b] - upRow[a]);
    this.upColumn = Int32Array.from(byColumn, (u) => upColumn[u]);
    this.upRow = Int32Array.from(byColumn, (u) => upRow[u]);
    this.column = new Int32Array(byColumn.length);
    byColumn.forEach((u, at) => {
      this.column[u] = at;
    });
    this.upper = new Float64Array(byColumn.length);
    this.targets = Int32Array.from(targets);
    this.work = new Float64Array(size);
  }

  /** Number of stored entries after fill. */
  get stored(): number {
    return this.lu.length;
  }

  /** Multiplications of a factorization and of a solution: what they cost on any machine. */
  get operations(): { readonly factor: number; readonly solve: number } {
    const { size, lu, targets } = this;
    return { factor: targets.length + lu.length - size, solve: lu.length };
  }

  /** Factors shift·S − J, S the diagonal of the shifted unknowns; false where a pivot vanishes or is not finite. */
  factor(shift: number): boolean {
    const { lu, values, home, shifted, low, up, upper, column, targets, size } = this;
    const upStart = up[size];
    lu.fill(0);
    for (let s = 0; s < home.length; s++) lu[home[s]] -= values[s];
    for (let s = 0; s < shifted.length; s++) lu[shifted[s]] += shift;
    let p = 0;
    for (let k = 0; k < size; k++) {
      const pivot = lu[k];
      if (!(Math.abs(pivot) > 1e-280) || pivot - pivot !== 0) return false;
      const inverse = 1 / pivot;
      lu[k] = inverse;
      const from = up[k + 1];
      const to = up[k];
      for (let l = low[k]; l < low[k + 1]; l++) {
        const factor = lu[l] * inverse;
        lu[l] = factor;
        for (let u = from; u < to; u++) lu[targets[p++]] -= factor * lu[u];
      }
      for (let u = from; u < to; u++) upper[column[u - upStart]] = lu[u] * inverse;
    }
    return true;
  }

  /**
   * Solves with the last factors, in place; b has one entry an unknown, or leaves out the last unknowns: their right side is 0, and their values
   * are not told.
   */
  solve(b: Float64Array): void {
    const { lu, upper, order, lowRow, lowColumn, upColumn, upRow, work, size } = this;
    const given = b.length;
    for (let k = 0; k < size; k++) {
      const unknown = order[k];
      work[k] = unknown < given ? b[unknown] : 0;
    }
    for (let l = 0; l < lowRow.length; l++) work[lowRow[l]] -= lu[size + l] * work[lowColumn[l]];
    for (let k = 0; k < size; k++) work[k] *= lu[k];
    for (let u = 0; u < upper.length; u++) work[upRow[u]] -= upper[u] * work[upColumn[u]];
    for (let k = 0; k < size; k++) {
      const unknown = order[k];
      if (unknown < given) b[unknown] = work[k];
    }
  }
}
