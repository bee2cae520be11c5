/**
 * Elimination without pivoting for a matrix whose pattern and order of elimination are fixed once. The pattern of fill is found at the
 * start; a factorization then walks a flat list of positions and allocates nothing. Listing the unknowns of each branch before the
 * unknowns that join the branches makes the cost grow with the number of branches, not with its square.
 */
export class SparsePattern {
  private readonly rows: Set<number>[];
  private readonly slots = new Map<number, number>();
  readonly entries: { row: number; column: number }[] = [];

  constructor(readonly size: number) {
    this.rows = Array.from({ length: size }, (_, i) => new Set([i]));
  }

  /** The slot of an entry; the same entry asked for twice has one slot. */
  slot(row: number, column: number): number {
    const key = row * this.size + column;
    let slot = this.slots.get(key);
    if (slot === undefined) {
      slot = this.entries.length;
      this.slots.set(key, slot);
      this.entries.push({ row, column });
      this.rows[row]?.add(column);
    }
    return slot;
  }

  /** Fixes the order of elimination and finds the fill. `shifted[i]` tells whether unknown i carries the shift on its diagonal. */
  compile(order: readonly number[], shifted: readonly boolean[]): SparseElimination {
    return new SparseElimination(this.size, this.entries, this.rows, order, shifted);
  }
}

export class SparseElimination {
  /** The matrix J by slot; the caller fills it. */
  readonly values: Float64Array;
  private readonly lu: Float64Array;
  private readonly home: Int32Array;
  private readonly diagonal: Int32Array;
  private readonly shiftedDiagonal: Int32Array;
  private readonly order: Int32Array;
  /** For each pivot in order: number of rows below; for each: position of the multiplier, its row; then number of columns, pairs of positions. */
  private readonly program: Int32Array;
  private readonly forward: Int32Array;
  private readonly backward: Int32Array;

  constructor(
    readonly size: number,
    entries: readonly { row: number; column: number }[],
    rows: readonly ReadonlySet<number>[],
    order: readonly number[],
    shifted: readonly boolean[],
  ) {
    const rank = new Int32Array(size);
    order.forEach((unknown, k) => {
      rank[unknown] = k;
    });
    const pattern = rows.map((row) => new Set(row));
    for (const k of order) {
      for (let i = 0; i < size; i++) {
        if (rank[i] > rank[k] && pattern[i]?.has(k)) {
          for (const j of pattern[k] ?? []) if (rank[j] > rank[k]) pattern[i]?.add(j);
        }
      }
    }
    const position = new Map<number, number>();
    pattern.forEach((row, i) => {
      for (const j of row) position.set(i * size + j, position.size);
    });
    const at = (i: number, j: number) => position.get(i * size + j) ?? -1;
    const program: number[] = [];
    const forward: number[] = [];
    const backward: number[] = [];
    for (const k of order) {
      const later = (j: number) => rank[j] > rank[k];
      const columns = [...(pattern[k] ?? [])].filter(later);
      const below = order.filter((i) => later(i) && pattern[i]?.has(k));
      program.push(below.length, columns.length);
      for (const i of below) program.push(at(i, k), ...columns.flatMap((j) => [at(i, j), at(k, j)]));
      forward.push(below.length, ...below.flatMap((i) => [at(i, k), i]));
    }
    for (const k of [...order].reverse()) {
      const columns = [...(pattern[k] ?? [])].filter((j) => rank[j] > rank[k]);
      backward.push(columns.length, ...columns.flatMap((j) => [at(k, j), j]));
    }
    this.values = new Float64Array(entries.length);
    this.lu = new Float64Array(position.size);
    this.home = Int32Array.from(entries, ({ row, column }) => at(row, column));
    this.diagonal = Int32Array.from(order, (k) => at(k, k));
    this.shiftedDiagonal = Int32Array.from(
      order.filter((k) => shifted[k]),
      (k) => at(k, k),
    );
    this.order = Int32Array.from(order);
    this.program = Int32Array.from(program);
    this.forward = Int32Array.from(forward);
    this.backward = Int32Array.from(backward);
  }

  /** Number of stored entries after fill. */
  get stored(): number {
    return this.lu.length;
  }

  /** Factors shift·S − J, S the diagonal of the shifted unknowns; false where a pivot vanishes or is not finite. */
  factor(shift: number): boolean {
    const { lu, values, home, diagonal, shiftedDiagonal, program } = this;
    lu.fill(0);
    for (let s = 0; s < home.length; s++) lu[home[s]] -= values[s];
    for (let s = 0; s < shiftedDiagonal.length; s++) lu[shiftedDiagonal[s]] += shift;
    let p = 0;
    for (let k = 0; k < diagonal.length; k++) {
      const pivot = lu[diagonal[k]];
      if (!(Math.abs(pivot) > 1e-280) || pivot - pivot !== 0) return false;
      const inverse = 1 / pivot;
      lu[diagonal[k]] = inverse;
      const below = program[p++];
      const columns = program[p++];
      for (let r = 0; r < below; r++) {
        const at = program[p++];
        const factor = lu[at] * inverse;
        lu[at] = factor;
        for (let c = 0; c < columns; c++) {
          lu[program[p]] -= factor * lu[program[p + 1]];
          p += 2;
        }
      }
    }
    return true;
  }

  /** Solves with the last factors, in place; b has one entry an unknown. */
  solve(b: Float64Array): void {
    const { lu, order, diagonal, forward, backward } = this;
    let p = 0;
    for (let k = 0; k < order.length; k++) {
      const x = b[order[k]];
      const below = forward[p++];
      for (let r = 0; r < below; r++) {
        b[forward[p + 1]] -= lu[forward[p]] * x;
        p += 2;
      }
    }
    p = 0;
    for (let k = order.length - 1; k >= 0; k--) {
      let x = b[order[k]];
      const columns = backward[p++];
      for (let c = 0; c < columns; c++) {
        x -= lu[backward[p]] * b[backward[p + 1]];
        p += 2;
      }
      b[order[k]] = x * lu[diagonal[k]];
    }
  }
}
