/** A node of a square lattice, counted from 0 to `PLANE` in both directions. */
export type Node = readonly [i: number, j: number];

/** Cells along a side where the picture is finest. */
export const PLANE = 64;
/** Cells along a side at first: nothing that is narrower than one of them is sure to be seen. */
const COARSEST = 16;

/** A square of the finished plane, from its lower left node (`i`, `j`) on, in 64ths of the sides. */
export interface Cell {
  readonly i: number;
  readonly j: number;
  /** Length of its sides, in 64ths of those of the plane. */
  readonly size: number;
  /** Places in `OUTCOMES`: lower left, lower right, upper left, upper right. */
  readonly corners: readonly [number, number, number, number];
}

/** A plane whose classes are known on a lattice that is fine only where they change. */
export interface Plane {
  readonly cells: readonly Cell[];
  /** Every node that was worked out, in the order in which that was asked. */
  readonly nodes: readonly { readonly node: Node; readonly kind: number }[];
  /** False where the budget ran out before every boundary was as fine as it gets. */
  readonly isComplete: boolean;
}

/**
 * Finds the class of a plane's points: first on a coarse lattice, then by halving again and again the cells that a boundary passes through, until
 * they are a 64th of the side. Boundaries alone cost work.
 *
 * @param classify tells the classes of many nodes, in their order
 * @param budget nodes at most; at least the 289 of the coarse lattice
 * @example await refine(async (nodes) => nodes.map(([i, j]) => (i > j ? 1 : 0)), 1000)
 */
export async function refine(
  classify: (nodes: readonly Node[]) => Promise<readonly number[]>,
  budget: number,
): Promise<Plane> {
  const known = new Map<number, number>();
  const nodes: { node: Node; kind: number }[] = [];
  const key = ([i, j]: Node): number => i * (PLANE + 1) + j;
  const ask = async (wanted: readonly Node[]): Promise<void> => {
    const unknown = [...new Map(wanted.map((node) => [key(node), node])).values()].filter(
      (node) => !known.has(key(node)),
    );
    const kinds = unknown.length === 0 ? [] : await classify(unknown);
    for (const [k, node] of unknown.entries()) {
      known.set(key(node), kinds[k]);
      nodes.push({ node, kind: kinds[k] });
    }
  };
  const at = (i: number, j: number): number | null => known.get(key([i, j])) ?? null;
  let cells: Square[] = [];
  const step = PLANE / COARSEST;
  for (let i = 0; i < PLANE; i += step) for (let j = 0; j < PLANE; j += step) cells.push({ i, j, size: step });
  await ask(cells.flatMap(cornersOf));
  const whole: Square[] = [];
  let isComplete = true;
  for (let size = step; size > 1 && isComplete; size /= 2) {
    const halves: Square[] = [];
    // A neighbour that was halved may show a boundary on the common side: then this one is halved too.
    for (let mixed = cells.filter(isMixed(at)); mixed.length > 0; mixed = cells.filter(isMixed(at))) {
      const affordable = within(budget - known.size, mixed, (square) => unknownOf(square, at));
      if (affordable.length < mixed.length) isComplete = false;
      await ask(affordable.flatMap(innerOf));
      halves.push(...affordable.flatMap(quartersOf));
      const done = new Set(affordable);
      cells = cells.filter((square) => !done.has(square));
      if (!isComplete) break;
    }
    whole.push(...cells);
    cells = halves;
  }
  const finished = [...whole, ...cells].map(({ i, j, size }): Cell => {
    const corners = cornersOf({ i, j, size }).map(([a, b]) => at(a, b) ?? 0);
    return { i, j, size, corners: [corners[0], corners[1], corners[2], corners[3]] };
  });
  return { cells: finished.toSorted((a, b) => a.j - b.j || a.i - b.i), nodes, isComplete };
}

interface Square {
  readonly i: number;
  readonly j: number;
  readonly size: number;
}

function cornersOf({ i, j, size }: Square): Node[] {
  return [
    [i, j],
    [i + size, j],
    [i, j + size],
    [i + size, j + size],
  ];
}

/** Middles of the sides, then of the square. */
function innerOf({ i, j, size }: Square): Node[] {
  const half = size / 2;
  return [
    [i + half, j],
    [i, j + half],
    [i + size, j + half],
    [i + half, j + size],
    [i + half, j + half],
  ];
}

function quartersOf({ i, j, size }: Square): Square[] {
  const half = size / 2;
  return cornersOf({ i, j, size: half }).map(([a, b]) => ({ i: a, j: b, size: half }));
}

type Known = (i: number, j: number) => number | null;

/** Whether a boundary passes through, as far as is known of its corners and of the middles of its sides. */
function isMixed(at: Known): (square: Square) => boolean {
  return (square) => {
    const first = at(square.i, square.j);
    return [...cornersOf(square), ...innerOf(square)].some(([i, j]) => {
      const kind = at(i, j);
      return kind !== null && kind !== first;
    });
  };
}

function unknownOf(square: Square, at: Known): number {
  return innerOf(square).filter(([i, j]) => at(i, j) === null).length;
}

/** As many of the first as the budget allows. */
function within<T>(budget: number, all: readonly T[], cost: (one: T) => number): T[] {
  let left = budget;
  return all.filter((one) => {
    left -= cost(one);
    return left >= 0;
  });
}
