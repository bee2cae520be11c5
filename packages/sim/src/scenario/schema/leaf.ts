import * as z from "zod/mini";
import { allowedText, type Dimension, exampleOf, nearest, parseQuantity } from "../../units/index.ts";
import { described } from "./build.ts";

export type Range = "any" | "positive" | "not negative" | "share" | "at least one";

/** What a leaf tells beside its message, so that the issue made of it is complete. */
export interface LeafProblem {
  readonly code: string;
  readonly allowed: string | null;
  readonly hint: string | null;
}

/** A value with its unit, as text; its output is a number in the unit of the complete scenario. */
export function quantity(dimension: Dimension, range: Range, about: string) {
  const written = described(z.string(), { description: about, dimension, range, examples: [exampleOf(dimension)] });
  return z.pipe(
    written,
    z.transform((text: string, context) => {
      const parsed = parseQuantity(text, dimension);
      if (!parsed.ok) return refuse(context, text, parsed.message, parsed);
      const complaint = outside(parsed.value, range);
      if (complaint === null) return parsed.value;
      return refuse(context, text, complaint, {
        code: "out-of-range",
        allowed: rangeText(dimension, range),
        hint: null,
      });
    }),
  );
}

/** A quantity or one of a few words, for instance `fast`; its output is a number or the word. */
export function quantityOrWord<Word extends string>(dimension: Dimension, words: readonly Word[], about: string) {
  const examples = [...words, exampleOf(dimension)];
  const written = described(z.string(), { description: about, dimension, range: "not negative", words, examples });
  return z.pipe(
    written,
    z.transform((text: string, context): number | Word => {
      const word = words.find((candidate) => candidate === text);
      if (word !== undefined) return word;
      const allowed = `${words.join(", ")}, or ${allowedText(dimension)}`;
      const parsed = parseQuantity(text, dimension);
      const near = nearest(text, words);
      if (!parsed.ok && near !== null) {
        const message = `\`${text}\` is none of the words that belong here.`;
        return refuse(context, text, message, { code: "unknown-word", allowed, hint: `did you mean \`${near}\`?` });
      }
      if (!parsed.ok) return refuse(context, text, parsed.message, { ...parsed, allowed });
      if (parsed.value >= 0) return parsed.value;
      return refuse(context, text, "This must not be negative.", { code: "out-of-range", allowed, hint: null });
    }),
  );
}

/** A whole number from 0 to 1000 without unit. */
export function count(about: string) {
  const written = described(z.string(), { description: about, dimension: "number", range: "count", examples: ["4"] });
  return z.pipe(
    written,
    z.transform((text: string, context) => {
      const parsed = parseQuantity(text, "number");
      if (!parsed.ok)
        return refuse(context, text, parsed.message, { ...parsed, allowed: "a whole number from 0 to 1000" });
      if (Number.isInteger(parsed.value) && parsed.value >= 0 && parsed.value <= 1000) return parsed.value;
      const problem = { code: "out-of-range", allowed: "a whole number from 0 to 1000", hint: null };
      return refuse(context, text, "This is not a whole number from 0 to 1000.", problem);
    }),
  );
}

/** `yes` or `no`. */
export function yesNo(about: string) {
  const written = described(z.enum(["yes", "no", "true", "false"]), { description: about, flag: true });
  return z.pipe(
    written,
    z.transform((text: "yes" | "no" | "true" | "false") => text === "yes" || text === "true"),
  );
}

export function words<const Words extends readonly [string, ...string[]]>(list: Words, about: string) {
  return described(z.enum(list), { description: about });
}

/**
 * One line of at most so many characters. Line ends and controls would put lines of the file's author among those of the verdict, or write over
 * them on a terminal.
 */
export function text(about: string, most: number) {
  return described(z.string().check(z.maxLength(most), z.regex(ONE_LINE)), { description: about });
}

const ONE_LINE = /^[^\p{Cc}\u2028-\u202e\u2066-\u2069]*$/u;

/** What something is called in sentences and figures: longer names leave them no room. */
export function name(about: string) {
  return text(about, 80);
}

export const none = described(z.literal("none"), { description: "there is none, whatever the part class says" });

function refuse(context: z.core.ParsePayload, input: string, message: string, problem: LeafProblem): never {
  const { code, allowed, hint } = problem;
  context.issues.push({ code: "custom", input, message, params: { code, allowed, hint } satisfies LeafProblem });
  return z.NEVER;
}

function outside(value: number, range: Range): string | null {
  if (range === "positive" && !(value > 0)) return "This must be greater than zero.";
  if (range === "not negative" && !(value >= 0)) return "This must not be negative.";
  if (range === "at least one" && !(value >= 1)) return "This must not be smaller than 1.";
  if (range === "share" && !(value >= 0 && value <= 1)) return "This must lie between 0 and 100 %.";
  return null;
}

function rangeText(dimension: Dimension, range: Range): string {
  const limits: Record<Range, string> = {
    any: "",
    positive: "greater than zero: ",
    "not negative": "zero or more: ",
    share: "0 to 100 %: ",
    "at least one": "1 or more: ",
  };
  return `${limits[range]}${allowedText(dimension)}`;
}
