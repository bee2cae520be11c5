/** Where a number stands in plain data. */
export type Leaf = readonly (string | number)[];

/** A leaf whose value differs between two pieces of plain data, with both. */
export interface Difference {
  readonly leaf: Leaf;
  readonly a: unknown;
  readonly b: unknown;
}

/** Every leaf at which two pieces of plain data differ. */
export function differences(a: unknown, b: unknown, leaf: Leaf = []): Difference[] {
  if (Object.is(a, b)) return [];
  if (!isHolder(a) || !isHolder(b) || Array.isArray(a) !== Array.isArray(b)) return [{ leaf, a, b }];
  const keys = new Set([...Object.keys(a), ...Object.keys(b)]);
  return [...keys].flatMap((key) => differences(a[key], b[key], [...leaf, Array.isArray(a) ? Number(key) : key]));
}

/** The same data with another value at a leaf; what does not change is shared. */
export function withLeaf<T>(data: T, leaf: Leaf, value: number, depth = 0): T {
  if (depth === leaf.length) return value as T;
  const step = leaf[depth];
  if (Array.isArray(data)) {
    const list = [...data];
    list[Number(step)] = withLeaf(list[Number(step)], leaf, value, depth + 1);
    return list as T;
  }
  const map = data as Record<string, unknown>;
  return { ...map, [step]: withLeaf(map[step], leaf, value, depth + 1) } as T;
}

function isHolder(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null;
}
