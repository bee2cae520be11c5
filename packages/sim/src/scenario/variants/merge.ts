import type { Path } from "../keys.ts";
import { mainKey } from "../schema/short-form.ts";
import { shapesAt } from "../schema/walk.ts";
import { withChange } from "../text/expected.ts";
import { isPlainMap, sameValue } from "../text/written.ts";
import type { LineChange } from "./change.ts";

/** Lists whose entries are known by their names. */
export const NAMED_LISTS = ["sources", "loads"] as const;

/** Keys of a variant that are no changes of the line. */
const OWN_KEYS = ["name", "about", "scheme"];

/**
 * What a variant changes: maps are laid over maps key by key, sources and loads over those of the same name, anything else takes the place
 * of what stood there. A short form counts as the map it stands for. `none` takes a part away.
 *
 * @param base the line as plain data
 * @param variant its map, or nothing but the word of a scheme
 * @param from where the variant stands in the file
 * @returns changes to be made one after the other; none where the variant says what the line says anyway
 */
export function changesOf(base: unknown, variant: unknown, from: Path): readonly LineChange[] {
  if (!isPlainMap(variant)) return [];
  const changes = Object.entries(variant)
    .filter(([key]) => !OWN_KEYS.includes(key))
    .flatMap(([key, value]) => overlay(valueAt(base, key), value, [key], [...from, key]));
  return [...changes.filter((change) => !takesEntry(change)), ...changes.filter(takesEntry)];
}

/** The line as plain data after the changes. */
export function withChanges(base: unknown, changes: readonly LineChange[]): unknown {
  return changes.reduce((data, { path, value }) => withChange(data, path, value), base);
}

/** Whether a change takes an entry out of a list: those after it get other numbers. */
const takesEntry = ({ path, value }: LineChange): boolean =>
  value === undefined && typeof path[path.length - 1] === "number";

export const valueAt = (map: unknown, key: string): unknown =>
  isPlainMap(map) && Object.hasOwn(map, key) ? map[key] : undefined;

function overlay(was: unknown, over: unknown, path: Path, from: Path): LineChange[] {
  if (over === "none") return withoutPart(was, path, from);
  if (Array.isArray(was) && Array.isArray(over) && path.length === 1 && NAMED_LISTS.some((key) => key === path[0]))
    return namedEntries(was, over, path, from);
  if (sameValue(was, over)) return [];
  if (isPlainMap(over)) {
    const long = longForm(was, path);
    if (long === null) return [{ path, value: over, from }];
    return Object.entries(over).flatMap(([key, value]) =>
      overlay(valueAt(long, key), value, [...path, key], [...from, key]),
    );
  }
  const main = typeof over === "string" && isPlainMap(was) ? mainKey(path, over) : null;
  return main === null ? [{ path, value: over, from }] : overlay(valueAt(was, main), over, [...path, main], from);
}

/** The map that stands there, or that a short form stands for; null where there is none. */
function longForm(was: unknown, path: Path): unknown {
  if (isPlainMap(was)) return was;
  const main = typeof was === "string" ? mainKey(path, was) : null;
  return main === null ? null : { [main]: was };
}

/** Whether a file itself may say `none` at this path. */
export function mayBeNone(path: Path): boolean {
  const shapes = shapesAt(path);
  return shapes.some(
    (shape) =>
      (shape.kind === "words" && shape.words.includes("none")) ||
      (shape.kind === "part" && shapes.some(({ kind }) => kind === "map")),
  );
}

function withoutPart(was: unknown, path: Path, from: Path): LineChange[] {
  const value = mayBeNone(path) ? "none" : undefined;
  const absent = was === undefined || was === "none";
  // A part class may bring what the file does not name; nothing brings a part of the line itself.
  return absent && (value === undefined || path.length === 1) ? [] : [{ path, value, from }];
}

function namedEntries(before: readonly unknown[], over: readonly unknown[], path: Path, from: Path): LineChange[] {
  let next = before.length;
  const changes = over.flatMap((entry, k): LineChange[] => {
    const place = [...from, k];
    const index = before.findIndex((each) => valueAt(each, "name") === valueAt(entry, "name"));
    if (isTakenAway(entry)) return index < 0 ? [] : [{ path: [...path, index], value: undefined, from: place }];
    if (index >= 0) return overlay(before[index], entry, [...path, index], place);
    next += 1;
    return [{ path: [...path, next - 1], value: entry, from: place }];
  });
  // From the last on, so that the numbers of the others stay.
  const last = ({ path: at }: LineChange): number => Number(at[at.length - 1]);
  const kept = changes.filter((change) => !takesEntry(change));
  return [...kept, ...changes.filter(takesEntry).sort((a, b) => last(b) - last(a))];
}

/** `{name: hut battery, part: none}`: this source or load is not there. */
export function isTakenAway(entry: unknown): boolean {
  return valueAt(entry, "part") === "none";
}

/**
 * Where the file says what the changed line says at a path.
 *
 * @returns a path of the file; null where only a ready-made scheme says it
 */
export function writtenWhere(changes: readonly LineChange[], path: Path): Path | null {
  const before = beforeRemovals(changes, path);
  const gone = changes.find((change) => change.value === undefined && isGone(change.path, before));
  if (gone !== undefined) return gone.from;
  const puts = changes.filter(({ value }) => value !== undefined);
  const above = puts.filter((change) => startsWith(before, change.path));
  const nearest = above.sort((a, b) => b.path.length - a.path.length)[0];
  if (nearest === undefined) return before;
  return nearest.from === null ? null : [...nearest.from, ...before.slice(nearest.path.length)];
}

function beforeRemovals(changes: readonly LineChange[], path: Path): Path {
  const [list, index] = path;
  if (typeof index !== "number") return path;
  const gone = changes.filter((change) => takesEntry(change) && change.path[0] === list).map(({ path: at }) => at[1]);
  let number = -1;
  for (let left = index; left >= 0; left -= 1) {
    number += 1;
    while (gone.includes(number)) number += 1;
  }
  return [list, number, ...path.slice(2)];
}

/** A value that was taken out, or a list that lost an entry. */
const isGone = (gone: Path, path: Path): boolean =>
  startsWith(gone, path) && gone.length - path.length === (typeof gone[gone.length - 1] === "number" ? 1 : 0);

const startsWith = (path: Path, start: Path): boolean =>
  path.length >= start.length && start.every((step, i) => path[i] === step);
