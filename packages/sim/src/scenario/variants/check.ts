import type { Path } from "../keys.ts";
import { shapesAt } from "../schema/walk.ts";
import type { Sheet } from "../sheet.ts";
import { isPlainMap } from "../text/written.ts";
import { isTakenAway, mayBeNone, NAMED_LISTS, valueAt } from "./merge.ts";

const VARIANTS = "variants";
/** What the line itself is called beside its variants. */
export const AS_IT_STANDS = "as it stands";

/** What a comparison calls a variant of the file: its name, or the word of its scheme; null where it has neither. */
export function nameOf(variant: unknown): string | null {
  if (typeof variant === "string") return variant;
  if (!isPlainMap(variant)) return null;
  const name = variant.name ?? variant.scheme;
  return typeof name === "string" && name.trim() !== "" ? name : null;
}

/** Names that a reader could not tell apart count as the same. */
const folded = (name: string): string => name.trim().toLowerCase().replaceAll(/\s+/g, " ");

/** The variants of a scenario as plain data, each as it was written. */
export function writtenVariants(written: unknown): readonly unknown[] {
  const list = isPlainMap(written) ? written[VARIANTS] : undefined;
  return Array.isArray(list) ? list : [];
}

/**
 * The input for the schema: in variants `none` may stand in the place of any value, and takes it out; the schema knows it only where a file
 * itself may say it.
 */
export function withoutTakenOut(written: unknown): unknown {
  const variants = writtenVariants(written);
  if (variants.length === 0 || !isPlainMap(written)) return written;
  return { ...written, [VARIANTS]: variants.map((variant) => stripped(variant, [])) };
}

function stripped(value: unknown, path: Path): unknown {
  if (Array.isArray(value)) return value.map((item, index) => stripped(item, [...path, index]));
  if (!isPlainMap(value)) return value;
  // A key that there is not is left for the schema to tell.
  const isKept = (key: string, inner: unknown): boolean =>
    inner !== "none" || mayBeNone([...path, key]) || shapesAt([...path, key]).length === 0;
  const kept = Object.entries(value).filter(([key, inner]) => isKept(key, inner));
  return Object.fromEntries(kept.map(([key, inner]) => [key, stripped(inner, [...path, key])]));
}

/** Problems of the variants themselves, whatever comes of them: names, entries, faults of their own. That one comes to the line itself is no matter of a run. */
export function checkVariants(sheet: Sheet, written: unknown): void {
  const seen = new Map<string, number>([[folded(AS_IT_STANDS), -1]]);
  for (const [index, variant] of writtenVariants(written).entries()) {
    const path = [VARIANTS, index];
    if (sheet.isSpoilt(path)) continue;
    checkName(sheet, path, variant, seen);
    if (!isPlainMap(variant)) continue;
    for (const list of NAMED_LISTS) checkEntries(sheet, written, [...path, list], variant[list], list);
  }
}

function checkName(sheet: Sheet, path: Path, variant: unknown, seen: Map<string, number>): void {
  const name = nameOf(variant);
  const isShort = typeof variant === "string";
  if (name === null) {
    if (sheet.isSpoilt([...path, "name"])) return;
    sheet.error("missing", [...path, "name"], "This variant needs a name: the comparison speaks of it.", {
      received: null,
      allowed: "text of up to 80 characters",
      hint: "write `name: …`",
    });
    return;
  }
  const before = seen.get(folded(name));
  const index = Number(path[path.length - 1]);
  if (before === undefined) {
    seen.set(folded(name), index);
    return;
  }
  const holder = isPlainMap(variant) && variant.name === undefined ? "scheme" : "name";
  const place = isShort ? path : [...path, holder];
  const owner = before < 0 ? "the line itself" : `variants[${before}]`;
  sheet.error("duplicate-name", place, `The name \`${name}\` is already that of ${owner}.`, {
    allowed: "a name that no other variant has",
    hint: isShort ? `write \`{name: …, scheme: ${name}}\`` : "give each variant a name of its own",
  });
}

/** Sources or loads of a variant: known by their names, and without faults of their own. */
function checkEntries(
  sheet: Sheet,
  written: unknown,
  path: Path,
  over: unknown,
  list: (typeof NAMED_LISTS)[number],
): void {
  if (!Array.isArray(over)) return;
  const base = valueAt(written, list);
  const names = (Array.isArray(base) ? base : []).map((each: unknown) => valueAt(each, "name"));
  // While the line does not say whom it has, nobody knows what a variant speaks of.
  if (names.length === 0 || !names.every((name) => typeof name === "string")) return;
  const seen = new Set<string>();
  for (const [index, entry] of over.entries()) {
    const place = [...path, index];
    if (!isPlainMap(entry) || sheet.isSpoilt(place)) continue;
    const { name } = entry;
    const what = list.slice(0, -1);
    if (typeof name !== "string") {
      const message = `This ${what} needs a name: a variant changes the ${what} of that name, or adds one.`;
      const allowed = `${names.join(" | ")}, or a new name`;
      sheet.error("missing", [...place, "name"], message, { received: null, allowed, hint: "write `name: …`" });
      continue;
    }
    if (seen.has(name))
      sheet.error("duplicate-name", [...place, "name"], `This variant speaks twice of \`${name}\`.`, {
        hint: "put both into one entry",
      });
    seen.add(name);
    if (isTakenAway(entry)) checkTakenAway(sheet, place, entry, names, what);
    if (entry.fault !== undefined && (names.includes(name) || entry.fault !== "none"))
      sheet.error(
        "fault-in-variant",
        [...place, "fault"],
        "A variant has no fault of its own: all meet the one of the line.",
        {
          allowed: names.includes(name) ? "no `fault` here" : "`fault: none`, for a new source without one",
          hint: "compare two faults as two files",
          at: "key",
        },
      );
  }
}

function checkTakenAway(
  sheet: Sheet,
  place: Path,
  entry: Readonly<Record<string, unknown>>,
  names: readonly string[],
  what: string,
): void {
  const name = String(entry.name);
  if (!names.includes(name)) {
    sheet.unknownName(
      "unknown-name",
      [...place, "name"],
      `There is no ${what} \`${name}\` to take away.`,
      name,
      names,
      "value",
    );
    return;
  }
  const others = Object.keys(entry).filter((key) => key !== "name" && key !== "part");
  for (const key of others)
    sheet.error("key-without-effect", [...place, key], `\`${key}\` has no effect on a ${what} that is taken away.`, {
      hint: "delete the line, or `part: none`",
      at: "key",
    });
}
