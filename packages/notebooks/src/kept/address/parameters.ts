import { type Problem, problem } from "../problem.ts";
import { unescapeWord } from "./words.ts";

/** The words of an address, taken apart; nothing of them is judged yet but that each is readable and stands once. */
export interface Parameters {
  readonly single: ReadonlyMap<string, string>;
  /** In their order; a path may stand twice. */
  readonly changes: readonly (readonly [path: string, value: string | null])[];
  readonly views: ReadonlyMap<string, string>;
  readonly problems: readonly Problem[];
}

const SINGLE = new Set(["v", "line", "own", "text"]);
const KNOWN = "what “Copy link” writes: v, line, own, text, set.…, without, view.…";

/** Takes `key=value&key=value` apart. A key that stands twice counts as if it stood nowhere. */
export function readParameters(written: string): Parameters {
  const single = new Map<string, string>();
  const views = new Map<string, string>();
  const changes: [string, string | null][] = [];
  const problems: Problem[] = [];
  const twice = new Set<string>();
  const once = (map: Map<string, string>, entry: string, key: string, value: string): void => {
    if (map.has(entry) && !twice.has(key)) {
      twice.add(key);
      problems.push(problem("twice", key, "This stands twice in the address.", { allowed: "once" }));
    }
    map.set(entry, value);
  };
  for (const part of written.split("&")) {
    if (part === "") continue;
    const split = part.indexOf("=");
    const key = unescapeWord(split < 0 ? part : part.slice(0, split));
    const value = split < 0 ? null : unescapeWord(part.slice(split + 1));
    if (key === null || value === null) {
      const message = split < 0 ? "A word without a value stands here." : "What stands here cannot be read as text.";
      const where = key === null ? "address" : key;
      problems.push(problem("unreadable", where, message, { received: part, allowed: "a word, =, and its value" }));
    } else if (SINGLE.has(key)) once(single, key, key, value);
    else if (key.startsWith("set.")) changes.push([key.slice(4), value]);
    else if (key === "without") changes.push([value, null]);
    else if (key.startsWith("view.")) once(views, key.slice(5), key, value);
    else {
      const message = "The address holds a word that means nothing here.";
      problems.push(problem("unknown-word", "address", message, { received: key, allowed: KNOWN }));
    }
  }
  for (const key of twice) {
    if (SINGLE.has(key)) single.delete(key);
    else views.delete(key.slice(5));
  }
  return { single, changes, views, problems };
}
