import type { Path } from "../keys.ts";
import { mainKey } from "../schema/short-form.ts";
import { isPlainMap } from "./written.ts";

/**
 * What a text is to say after a change: the plain data of the old one with the value put at the path, or with the place taken out where the
 * value is undefined. Maps above it that are not there yet are added; a short form becomes the map it stands for.
 */
export function withChange(before: unknown, path: Path, value: unknown, depth = 0): unknown {
  if (depth === path.length) return value;
  const step = path[depth];
  const isLast = depth === path.length - 1;
  if (Array.isArray(before) && typeof step === "number") {
    const list: unknown[] = [...before];
    if (isLast && value === undefined) list.splice(step, 1);
    else list[step] = withChange(list[step], path, value, depth + 1);
    return list;
  }
  const key = String(step);
  if (typeof before === "string") {
    const main = mainKey(path.slice(0, depth), before);
    if (main === key && isLast && typeof value === "string") return value;
    const long = main === null ? [] : [[main, before] as const];
    return mapOf([...long, [key, withChange(undefined, path, value, depth + 1)]]);
  }
  const entries = isPlainMap(before) ? Object.entries(before) : [];
  const others = entries.filter(([name]) => name !== key);
  if (isLast && value === undefined) return mapOf(others);
  const old = entries.find(([name]) => name === key)?.[1];
  return mapOf([...others, [key, withChange(old, path, value, depth + 1)]]);
}

/** Without a prototype, so that a key such as `constructor` is only a key. */
function mapOf(entries: readonly (readonly [string, unknown])[]): unknown {
  const map: Record<string, unknown> = Object.create(null);
  for (const [key, value] of entries)
    Object.defineProperty(map, key, { value, enumerable: true, configurable: true, writable: true });
  return map;
}
