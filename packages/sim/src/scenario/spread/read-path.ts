import type { Path } from "../keys.ts";

/** What stands in a file, as far as a path needs to know: the names of sources and loads. */
interface Named {
  readonly sources?: unknown;
  readonly loads?: unknown;
}

/**
 * A place of a scenario from words: `crowbar.trip voltage`, `sources[0].set voltage`, or with the name of a source or load in front,
 * `bench supply.lead.length`.
 *
 * @param text keys with dots between them, indices in brackets
 * @param written the scenario as plain data, for the names
 * @returns null where the text is no path at all; whether something stands there is for the caller to see
 * @example readPath("relay radio.current", written) // ["loads", 0, "current"]
 */
export function readPath(text: string, written: unknown): Path | null {
  const words = text.trim();
  for (const list of ["sources", "loads"] as const) {
    const entries = (written as Named | null)?.[list];
    if (!Array.isArray(entries)) continue;
    for (const [index, entry] of entries.entries()) {
      const name = (entry as { readonly name?: unknown } | null)?.name;
      if (typeof name !== "string" || name === "" || !words.startsWith(`${name}.`)) continue;
      const rest = steps(words.slice(name.length + 1));
      return rest === null ? null : [list, index, ...rest];
    }
  }
  return steps(words);
}

function steps(text: string): Path | null {
  if (!/^[^.[\]]+(?:\[\d{1,4}\])?(?:\.[^.[\]]+(?:\[\d{1,4}\])?)*$/.test(text)) return null;
  return (text.match(/[^.[\]]+/g) ?? []).map((step) => (/^\d{1,4}$/.test(step) ? Number(step) : step.trim()));
}
