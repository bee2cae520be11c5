import * as z from "zod/mini";
import { allowedText, type Dimension, exampleOf, formatQuantity, nearest, parseQuantity } from "../../units/index.ts";
import { described } from "./build.ts";

export type Range = "any" | "positive" | "not negative" | "share" | "at least one" | keyof typeof BETWEEN;

/**
 * Bounds by sense of the trade. Ambient, °C: colder and hotter than any place where such a line stands and its parts are specified for; the law of
 * copper means nothing far below. Limits of parts, °C: up to where every metal of the line has melted. Filaments, K: from the coldest ambient to
 * where tungsten melts.
 */
const BETWEEN = { ambient: [-60, 150], "limit of a part": [-60, 3000], filament: [213, 3695] } as const;

/** What a leaf tells beside its message, so that the issue made of it is complete. */
export interface LeafProblem {
  readonly code: string;
  readonly allowed: string | null;
  readonly hint: string | null;
}

/** What helps where a spread stands in the place of a value. */
const spreadHint = (text: string): string | null =>
  /…|\.\.|±|\+-|\+\/-/.test(text) ? "write one value here, and its spread as a line of `tolerances`" : null;

/** A value with its unit, as text; its output is a number in the unit of the complete scenario. */
export function quantity(dimension: Dimension, range: Range, about: string) {
  const written = described(z.string(), { description: about, dimension, range, examples: [exampleOf(dimension)] });
  return z.pipe(
    written,
    z.transform((text: string, context) => {
      const parsed = parseQuantity(text, dimension);
      if (!parsed.ok)
        return refuse(context, text, parsed.message, { ...parsed, hint: spreadHint(text) ?? parsed.hint });
      const complaint = outside(parsed.value, dimension, range);
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
      if (!parsed.ok)
        return refuse(context, text, parsed.message, { ...parsed, allowed, hint: spreadHint(text) ?? parsed.hint });
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

function outside(value: number, dimension: Dimension, range: Range): string | null {
  if (range === "positive" && !(value > 0)) return "This must be greater than zero.";
  if (range === "not negative" && !(value >= 0)) return "This must not be negative.";
  if (range === "at least one" && !(value >= 1)) return "This must not be smaller than 1.";
  if (isBetween(range)) {
    const [least, most] = BETWEEN[range];
    return value >= least && value <= most ? null : `This must lie between ${boundsText(dimension, range, "and")}.`;
  }
  if (range === "share" && !(value >= 0 && value <= 1)) return "This must lie between 0 and 100 %.";
  return null;
}

/** Why a number in SI units (temperatures in °C) may not stand in a place of this range, and what may; null where it may. */
export function outOfRange(
  value: number,
  dimension: Dimension,
  range: Range,
): { readonly message: string; readonly allowed: string } | null {
  const message = outside(value, dimension, range);
  return message === null ? null : { message, allowed: rangeText(dimension, range) };
}

function rangeText(dimension: Dimension, range: Range): string {
  if (isBetween(range)) return `${boundsText(dimension, range, "to")}: ${allowedText(dimension)}`;
  const limits = {
    any: "",
    positive: "greater than zero: ",
    "not negative": "zero or more: ",
    share: "0 to 100 %: ",
    "at least one": "1 or more: ",
  };
  return `${limits[range]}${allowedText(dimension)}`;
}

function isBetween(range: Range): range is keyof typeof BETWEEN {
  return range in BETWEEN;
}

function boundsText(dimension: Dimension, range: keyof typeof BETWEEN, between: "and" | "to"): string {
  return BETWEEN[range].map((end) => formatQuantity(end, dimension, { digits: 4 })).join(` ${between} `);
}
