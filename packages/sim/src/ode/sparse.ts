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
 */
export class SparseElimination {
  /** The matrix J by slot; the caller fills it. One entry more than there are slots stays 0: fill starts from it. */
  readonly values: number[];
  /**
   * In the order of use: the rows of L from the first, those of U from the last, then the diagonal, once factored the pivots' inverses, that of those
   * that follow behind that of the core.
   */
  private readonly lu: number[];
  /** Which slot each place of `lu` starts from. */
  private readonly source: readonly number[];
  /** Places on a diagonal that carry the shift. */
  private readonly shifted: readonly number[];
  /** Row k of L stands from `low[k]` to `low[k + 1]`, row k of U from `up[k + 1]` to `up[k]`; `columns` has their ranks. */
  private readonly low: readonly number[];
  private readonly up: readonly number[];
  private readonly columns: readonly number[];
  /** What is changed by the products of an entry of L with a row of U, in the order of use. */
  private readonly targets: readonly number[];
  /** The unknown of each rank; those that follow come behind the core. */
  private readonly order: readonly number[];
  /** What the k-th that follows depends on stands from `drive[k]` to `drive[k + 1]`: the slot and the rank. */
  private readonly drive: readonly number[];
  private readonly driveSlots: readonly number[];
  private readonly driveRanks: readonly number[];
  private readonly core: number = 0;
  private readonly diagonal: number = 0;
  private readonly work: number[];

  constructor(
    readonly size: number,
    entries: readonly { row: number; column: number }[],
    order: readonly number[],
    shifted: readonly boolean[],
  ) {
    const needed = new Set(entries.flatMap(({ row, column }) => (row === column ? [] : [column])));
    const ranked = [
      ...order.filter((unknown) => needed.has(unknown)),
      ...order.filter((unknown) => !needed.has(unknown)),
    ];
    const rank = new Int32Array(size);
    ranked.forEach((unknown, k) => {
      rank[unknown] = k;
    });
    this.order = ranked;
    this.core = needed.size;
    const { core } = this;
    const slots = entries.map(({ row, column }, slot) => ({ slot, row: rank[row], column: rank[column] }));
    const rows = filledRows(core, slots);

    const source: number[] = [];
    const columns: number[] = [];
    const places = rows.map(() => new Map<number, number>());
    const store = (k: number, wanted: (column: number) => boolean) => {
      for (const column of [...rows[k].keys()].filter(wanted).sort((a, b) => a - b)) {
        source.push(rows[k].get(column) ?? entries.length);
        places[k].set(column, columns.push(column) - 1);
      }
      return columns.length;
    };
    this.low = Array.from([0, ...rows.keys()], (k, at) => (at === 0 ? 0 : store(k, (column) => column < k)));
    const ups = [columns.length];
    for (let k = core - 1; k >= 0; k--) ups.push(store(k, (column) => column > k));
    this.up = ups.reverse();
    this.columns = columns;
    this.diagonal = columns.length;
    for (let k = 0; k < size; k++) source.push(entries.length);
    for (const { slot, row, column } of slots) if (row === column) source[this.diagonal + row] = slot;
    this.source = source;
    const { diagonal, low, up } = this;
    this.shifted = ranked.flatMap((unknown, k) => (shifted[unknown] ? [diagonal + k] : []));
    const targets: number[] = [];
    for (let k = 0; k < core; k++) {
      for (let l = low[k]; l < low[k + 1]; l++) {
        const pivot = columns[l];
        for (let u = up[pivot + 1]; u < up[pivot]; u++) {
          const column = columns[u];
          targets.push(column === k ? diagonal + k : (places[k].get(column) ?? -1));
        }
      }
    }
    this.targets = targets;

    const drives = Array.from({ length: size - core }, (_, k) =>
      slots.filter(({ row, column }) => row === core + k && column !== row),
    );
    this.drive = [0, ...drives.map((_, k) => drives.slice(0, k + 1).flat().length)];
    this.driveSlots = drives.flat().map(({ slot }) => slot);
    this.driveRanks = drives.flat().map(({ column }) => column);
    this.values = zeros(entries.length + 1);
    this.lu = zeros(source.length);
    this.work = zeros(size);
  }

  /** Number of stored entries after fill. */
  get stored(): number {
    return this.lu.length + this.driveSlots.length;
  }

  /** Multiplications of a factorization and of a solution: what they cost on any machine. */
  get operations(): { readonly factor: number; readonly solve: number } {
    const { low, targets, core, stored } = this;
    return { factor: targets.length + low[core], solve: stored };
  }

  /** Factors shift·S − J, S the diagonal of the shifted unknowns; false where a pivot vanishes or is not finite. */
  factor(shift: number): boolean {
    const { lu, values, source, shifted, low, up, columns, targets, diagonal, core, size } = this;
    for (let e = 0; e < source.length; e++) lu[e] = -values[source[e]];
    for (let s = 0; s < shifted.length; s++) lu[shifted[s]] += shift;
    let p = 0;
    for (let k = 0; k < core; k++) {
      const end = low[k + 1];
      for (let l = low[k]; l < end; l++) {
        const column = columns[l];
        const factor = lu[l] * lu[diagonal + column];
        lu[l] = factor;
        const to = up[column];
        for (let u = up[column + 1]; u < to; u++) lu[targets[p++]] -= factor * lu[u];
      }
      const pivot = lu[diagonal + k];
      if (!isUsable(pivot)) return false;
      lu[diagonal + k] = 1 / pivot;
    }
    for (let d = diagonal + core; d < diagonal + size; d++) {
      if (!isUsable(lu[d])) return false;
      lu[d] = 1 / lu[d];
    }
    return true;
  }

  /**
   * Solves with the last factors, in place; b has one entry an unknown, or leaves out the last unknowns: their right side is 0, and their values
   * are not told.
   */
  solve(b: Vector): void {
    const { lu, values, order, low, up, columns, drive, driveSlots, driveRanks, diagonal, core, size, work } = this;
    const given = b.length;
    let e = 0;
    for (let k = 0; k < core; k++) {
      const unknown = order[k];
      let x = unknown < given ? b[unknown] : 0;
      for (const end = low[k + 1]; e < end; e++) x -= lu[e] * work[columns[e]];
      work[k] = x;
    }
    for (let k = core - 1; k >= 0; k--) {
      let x = work[k];
      for (const end = up[k]; e < end; e++) x -= lu[e] * work[columns[e]];
      x *= lu[diagonal + k];
      work[k] = x;
      const unknown = order[k];
      if (unknown < given) b[unknown] = x;
    }
    for (let k = core; k < size; k++) {
      const unknown = order[k];
      let x = unknown < given ? b[unknown] : 0;
      for (let d = drive[k - core]; d < drive[k - core + 1]; d++) x += values[driveSlots[d]] * work[driveRanks[d]];
      if (unknown < given) b[unknown] = x * lu[diagonal + k];
    }
  }
}

/** A pivot that has not vanished and is finite. */
function isUsable(pivot: number): boolean {
  return Math.abs(pivot) > 1e-280 && pivot - pivot === 0;
}

/** The rows of the core with their fill: by column, the slot that the entry starts from; none where it is fill. */
function filledRows(
  core: number,
  slots: readonly { slot: number; row: number; column: number }[],
): Map<number, number | null>[] {
  const rows = Array.from({ length: core }, (_, k) => new Map<number, number | null>([[k, null]]));
  for (const { slot, row, column } of slots) if (row < core) rows[row].set(column, slot);
  for (let i = 0; i < core; i++) {
    for (let k = 0; k < i; k++) {
      if (!rows[i].has(k)) continue;
      for (const column of rows[k].keys()) if (column > k && !rows[i].has(column)) rows[i].set(column, null);
    }
  }
  return rows;
}
