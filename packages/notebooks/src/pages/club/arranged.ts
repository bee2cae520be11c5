import { pack, unpack } from "../../kept/address/packed.ts";
import type { LineChoice } from "../../kept/state.ts";
import { unwantedCharacter } from "../../kept/words.ts";
import { shippedLines } from "../../line/shipped.ts";

/** A slide in its place: which of the talk's lines, counted from 0, and which of the slides that it offers; `*` stands for all the usual ones. */
export interface Placed {
  readonly line: number;
  readonly id: string;
}

/** What a person wrote in the place of what was proposed. */
export interface Words {
  readonly headline?: string;
  readonly sentence?: string;
}

/** A talk as somebody arranged it. Words are kept by `keyOf` the slide. */
export interface Arranged {
  readonly lines: readonly LineChoice[];
  readonly slides: readonly Placed[];
  readonly words: ReadonlyMap<string, Words>;
}

/** Keys of the page's view: the first three hold the talk, `at` the slide that is looked at. */
export const clubViews = { lines: "", slides: "", words: "", at: "" } as const;
/** Which of them are a person's work. */
export const clubArranged = ["lines", "slides", "words"] as const;

/** So much finds room above a picture. */
const LONGEST = { headline: 120, sentence: 300 } as const;

/** Why a slide cannot say this; null: it can. What it cannot say is kept with it all the same. */
export function wordProblem(of: keyof Words, text: string): string | null {
  const { length } = [...text];
  const problem =
    unwantedCharacter(text) !== null
      ? "This holds a character that cannot be seen."
      : length > LONGEST[of]
        ? `This has ${length} characters; allowed are ${LONGEST[of]}.`
        : null;
  return problem === null ? null : `${problem} Until it is mended, the slide says the proposed words.`;
}

/** Which of these words a slide can say. */
export const sayable = (words: Words): Words =>
  Object.fromEntries(Object.entries(words).filter(([of, text]) => wordProblem(of as keyof Words, text) === null));

/** Whether the slide says something else than was written for it. */
export const isUnsaid = (words: Words): boolean => Object.keys(sayable(words)).length < Object.keys(words).length;

export const MOST_LINES = 12;
export const ALL = "*";

/** Names a slide in the address: `2.step-1` is the first step of the second line. */
export const keyOf = ({ line, id }: Placed): string => `${line + 1}.${id}`;

/** A talk in words of the address. */
export function writeArranged({ lines, slides, words }: Arranged): Record<(typeof clubArranged)[number], string> {
  const used = new Set(slides.map(keyOf));
  const kept = [...words].filter(
    ([key, { headline, sentence }]) => used.has(key) && (headline !== undefined || sentence !== undefined),
  );
  return {
    lines: lines
      .map((line) =>
        line.kind === "shipped" ? line.name : `${OWN}${pack(line.text)}${OWN}${encodeURIComponent(line.name)}`,
      )
      .join(","),
    slides: slides.map(keyOf).join(","),
    words: kept.length === 0 ? "" : visible(JSON.stringify(Object.fromEntries(kept))),
  };
}

/** The same JSON: no address takes a character that cannot be seen. */
const visible = (json: string): string =>
  json.replace(/[\p{Cc}\p{Cf}\p{Zl}\p{Zp}]/gu, (sign) =>
    Array.from(sign.split(""), (unit) => `\\u${unit.charCodeAt(0).toString(16).padStart(4, "0")}`).join(""),
  );

/**
 * The talk that a view holds, and sentences about what of it cannot be used; null where it holds none.
 *
 * @example readArranged({ lines: "04-foldback", slides: "1.*", words: "" }).arranged
 */
export function readArranged(view: Readonly<Record<string, string>>): {
  readonly arranged: Arranged | null;
  readonly lost: readonly string[];
} {
  const { lines: written = "", slides: placed = "", words = "" } = view;
  if (written === "") return { arranged: null, lost: [] };
  const lost: string[] = [];
  const read = written.split(",").slice(0, MOST_LINES).map(lineFrom);
  const broken = read.filter((line) => line === null).length;
  if (broken > 0) lost.push(`${broken === 1 ? "One scenario" : `${broken} scenarios`} of this talk cannot be read.`);
  // Slides count the lines as they are written; those that are lost take theirs with them.
  const place = new Map(read.flatMap((line, i) => (line === null ? [] : [i])).map((from, to) => [from, to]));
  const tokens = placed.split(",").filter((token) => token !== "");
  const slides: Placed[] = [];
  for (const token of new Set(tokens)) {
    const [, number = "", id = ""] = /^(\d{1,2})\.([a-z0-9-]+|\*)$/.exec(token) ?? [];
    const line = place.get(Number(number) - 1);
    if (line !== undefined) slides.push({ line, id });
    else if (!(Number(number) - 1 < read.length && number !== ""))
      lost.push(`There is no slide “${token.slice(0, 30)}”.`);
  }
  const lines = read.filter((line) => line !== null);
  if (lines.length === 0) return { arranged: null, lost };
  return {
    arranged: { lines, slides: slides.length === 0 ? usual(lines) : slides, words: wordsFrom(words, place) },
    lost,
  };
}

/** All that lines usually show. */
export const usual = (lines: readonly LineChoice[]): readonly Placed[] => lines.map((_, line) => ({ line, id: ALL }));

/** Before each of the two parts of a line of one's own; no name of a shipped line has it. */
const OWN = "~";

function lineFrom(word: string): LineChoice | null {
  if (!word.startsWith(OWN))
    return shippedLines.some(({ name }) => name === word) ? { kind: "shipped", name: word } : null;
  const [, packed = "", ...written] = word.split(OWN);
  const unpacked = unpack(packed);
  if (unpacked.kind !== "text") return null;
  try {
    return { kind: "own", name: decodeURIComponent(written.join(OWN)), text: unpacked.text };
  } catch {
    return null;
  }
}

function wordsFrom(written: string, place: ReadonlyMap<number, number>): Map<string, Words> {
  const words = new Map<string, Words>();
  for (const [key, value] of Object.entries(parsed(written))) {
    const [number = "", id = ""] = key.split(".");
    const line = place.get(Number(number) - 1);
    if (line === undefined || typeof value !== "object" || value === null) continue;
    const { headline, sentence } = value as Record<string, unknown>;
    words.set(keyOf({ line, id }), {
      ...(typeof headline === "string" ? { headline } : {}),
      ...(typeof sentence === "string" ? { sentence } : {}),
    });
  }
  return words;
}

function parsed(text: string): object {
  try {
    const value: unknown = JSON.parse(text);
    return typeof value === "object" && value !== null ? value : {};
  } catch {
    return {};
  }
}
