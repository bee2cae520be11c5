import type * as z from "zod/mini";
import { parseQuantity } from "../../units/index.ts";
import type { Path } from "../keys.ts";
import type { Sheet } from "../sheet.ts";
import type { LeafProblem } from "./leaf.ts";
import { scenarioSchema } from "./scenario.ts";
import { expectedAt, keysAt, shapesAt } from "./walk.ts";

/** What the schema makes of the text: quantities are numbers in SI units. */
export type ScenarioValues = z.output<typeof scenarioSchema>;

type Found = z.core.$ZodIssue;

/** Keys of a line that its variants have in common. */
const OF_THE_LINE = ["fault at", "run for", "start"];

/** Unions inside unions of the schema go no deeper than this. */
const PASSES = 4;

/**
 * Checks an input against the schema, writes every problem onto the sheet and returns what is left when the bad values
 * are taken out, so that the rest can still be examined.
 */
export function checkSchema(input: unknown, sheet: Sheet): ScenarioValues {
  const data: { root: unknown } = { root: copy(input) };
  for (let pass = 0; pass < PASSES; pass += 1) {
    const result = scenarioSchema.safeParse(data.root, { jitless: true });
    if (result.success) return result.data;
    for (const found of result.error.issues) report(found, found.path as Path, data, sheet);
  }
  return {};
}

function report(found: Found, path: Path, data: { root: unknown }, sheet: Sheet): void {
  if (found.code === "unrecognized_keys") {
    const known = keysAt(path);
    for (const key of found.keys) {
      if (path[0] === "variants" && path.length === 2 && OF_THE_LINE.includes(key)) {
        const message = `\`${key}\` has no place in a variant: all variants meet the same fault in the same time.`;
        const allowed = known.join(" | ");
        sheet.error("fault-in-variant", [...path, key], message, {
          allowed,
          hint: "write it on the line itself",
          at: "key",
        });
        remove(data, [...path, key]);
        continue;
      }
      const meant = sheet.unknownName(
        "unknown-key",
        [...path, key],
        `There is no key \`${key}\` here.`,
        key,
        known,
        "key",
      );
      tellComma(sheet, [...path, key]);
      // What a misspelt key was to give is not missed a second time.
      if (meant !== null && sheet.received([...path, meant]) === null) sheet.spoil([...path, meant]);
      remove(data, [...path, key]);
    }
    return;
  }
  if (found.code === "invalid_union") {
    const branch = bestBranch(found.errors);
    if (branch !== null) {
      for (const inner of branch) report(inner, [...path, ...(inner.path as Path)], data, sheet);
      return;
    }
  }
  tell(found, path, sheet);
  sheet.spoil(path);
  remove(data, path);
}

/** A comma in a number is told behind a wrong key too: with the key put right it would be the next refusal. */
function tellComma(sheet: Sheet, path: Path): void {
  const parsed = parseQuantity(sheet.received(path) ?? "", "number");
  if (!parsed.ok && (parsed.code === "decimal-comma" || parsed.code === "thousands-separator"))
    sheet.error(parsed.code, path, parsed.message, { hint: parsed.hint });
}

/** The branch that takes the kind of thing that was written: it knows best what is wrong with it. */
function bestBranch(branches: readonly (readonly Found[])[]): readonly Found[] | null {
  const fitting = branches.filter(
    (issues) => !issues.some(({ path, code }) => path.length === 0 && code === "invalid_type"),
  );
  const telling = fitting.find((issues) =>
    issues.some(({ code, path }) => code !== "invalid_value" || path.length > 0),
  );
  return telling ?? (fitting.length === 1 && branches.length === 1 ? fitting[0] : null);
}

function tell(found: Found, path: Path, sheet: Sheet): void {
  const received = sheet.received(path);
  if (found.code === "custom") {
    const problem = found.params as unknown as LeafProblem;
    const hint = problem.code === "wrong-unit" ? hintOfUnit(problem.hint, received ?? "", path) : problem.hint;
    sheet.error(problem.code, path, found.message, { allowed: problem.allowed, hint });
  } else if (found.code === "too_big" && found.origin === "string") {
    const allowed = `up to ${found.maximum} characters`;
    const length = received === null ? null : `${received.length} characters`;
    sheet.error("too-long", path, "This text is too long.", { allowed, received: length });
  } else if (found.code === "invalid_format") {
    const message = "A line break, a tab or a control character stands in this text.";
    sheet.error("not-one-line", path, message, { allowed: "one line of characters that can be seen" });
  } else if (received === null) {
    sheet.error("nothing-written", path, "Nothing is written here.", { allowed: expectedAt(path).text, at: "key" });
  } else if (found.code === "too_big" || found.code === "too_small") {
    const allowed = found.code === "too_big" ? `at most ${found.maximum}` : `at least ${found.minimum}`;
    sheet.error("wrong-number-of-entries", path, "This number of entries is not allowed.", { allowed });
  } else {
    const { text, words } = expectedAt(path);
    const isWord =
      found.code === "invalid_value" || (found.code === "invalid_union" && !/^[[{]|^a (map|list)/.test(received));
    if (isWord && words.length > 0) {
      sheet.unknownName(
        "unknown-word",
        path,
        `\`${received}\` is none of the words that belong here.`,
        received,
        words,
        "value",
        text,
      );
    } else {
      sheet.error("wrong-type", path, "This is not the kind of thing that belongs here.", { allowed: text });
    }
  }
}

/** The one key beside it that takes what was written; maps whose keys depend on a kind hold some that would have no effect. */
function hintOfUnit(hint: string | null, received: string, path: Path): string | null {
  const beside = keysAt(path.slice(0, -1));
  const own = path[path.length - 1];
  if (hint?.includes(" instead of ") || beside.includes("kind")) return hint;
  const taking = beside.filter(
    (key) =>
      key !== own &&
      shapesAt([...path.slice(0, -1), key]).some(
        (shape) => shape.kind === "quantity" && parseQuantity(received, shape.dimension).ok,
      ),
  );
  return taking.length === 1 ? `${hint}; ${received} belongs to \`${taking[0]}\`` : hint;
}

/** Takes a value out of the data; an entry of a list leaves an empty map, so that its neighbours keep their places. */
function remove(data: { root: unknown }, path: Path): void {
  if (path.length === 0) {
    data.root = {};
    return;
  }
  let holder: unknown = data.root;
  for (const step of path.slice(0, -1)) holder = isHolder(holder) ? holder[step] : null;
  const last = path[path.length - 1];
  if (!isHolder(holder)) return;
  if (Array.isArray(holder)) holder[last as number] = {};
  else delete holder[last];
}

function isHolder(value: unknown): value is Record<string | number, unknown> {
  return typeof value === "object" && value !== null;
}

function copy(value: unknown): unknown {
  if (Array.isArray(value)) return value.map(copy);
  if (typeof value !== "object" || value === null) return value;
  const map: Record<string, unknown> = Object.create(null);
  for (const [key, inner] of Object.entries(value)) {
    Object.defineProperty(map, key, { value: copy(inner), enumerable: true, configurable: true, writable: true });
  }
  return map;
}
