import { pack, type Unpacked, unpack } from "./address/packed.ts";
import { readParameters } from "./address/parameters.ts";
import { closedAddress, escapeWord, pathFrom, pathWord } from "./address/words.ts";
import { grouped, type Problem, problem } from "./problem.ts";
import type { Change, LineChoice, PageState } from "./state.ts";
import { changeProblem, lineProblem, MOST_CHANGES, stateProblems, tooManyChanges, viewProblem } from "./state.ts";

/** How addresses are written today. */
const VERSION = "1";
/** Longest state in an address, in characters behind the `#`; programs that pass addresses on cut longer ones. */
export const LONGEST_ADDRESS = 8000;
/** Enough to mend an address; a hostile one would fill the page. */
const MOST_PROBLEMS = 20;

/** An address for a state, or why it has none; the page goes on without. */
export type Encoded =
  | { readonly kind: "address"; readonly hash: string }
  | { readonly kind: "too-long"; readonly length: number; readonly allowed: number; readonly problem: Problem }
  | { readonly kind: "unfit"; readonly problems: readonly Problem[] };

/** What a page's addresses may say. */
export interface AddressRules {
  /** What the page shows when its address says nothing, and in place of what is broken. */
  readonly fallback: PageState;
  /** Names of the lines that come with the pages. */
  readonly shipped: readonly string[];
  /** Keys of the view that this page knows. */
  readonly views: readonly string[];
}

/** What an address says. */
export interface Decoded {
  readonly state: PageState;
  /** Everything that could not be taken as it stands; empty for a sound address and for none. */
  readonly problems: readonly Problem[];
  /** False when the address holds no state at all: nothing behind the `#`, or the mark of a place in the page. */
  readonly present: boolean;
}

/**
 * A state as the part of an address behind its `#`: readable where it is short, own text packed.
 *
 * @param state what the page shows
 * @returns at most 8 000 characters; else, with numbers, that it would be too long, or what no address can hold
 *
 * @example
 * encodeAddress({ line: { kind: "shipped", name: "04-foldback" }, changes: [[["main fuse"], "blade fuse 15 A"]], view: {} })
 * // { kind: "address", hash: "#v=1&line=04-foldback&set.main+fuse=blade+fuse+15+A" }
 */
export function encodeAddress(state: PageState): Encoded {
  const problems = stateProblems(state);
  if (problems.length > 0) return { kind: "unfit", problems };
  const { line, changes, view } = state;
  const words = [`v=${VERSION}`, `${line.kind === "shipped" ? "line" : "own"}=${escapeWord(line.name)}`];
  for (const [path, value] of changes) {
    const word = escapeWord(pathWord(path));
    words.push(value === null ? `without=${word}` : `set.${word}=${escapeWord(value)}`);
  }
  for (const [key, value] of Object.entries(view)) words.push(`view.${escapeWord(key)}=${escapeWord(value)}`);
  if (line.kind === "own") words.push(`text=${pack(line.text)}`);
  const written = closedAddress(words.join("&"));
  if (written.length <= LONGEST_ADDRESS) return { kind: "address", hash: `#${written}` };
  return { kind: "too-long", length: written.length, allowed: LONGEST_ADDRESS, problem: tooLong(written.length) };
}

/**
 * The state that an address says. Never throws: what is broken gives a problem, and the fallback stands in its place.
 * Changes belong to the line they were made on; without that line they are left out. A view that the address does not
 * say has no key.
 *
 * @param hash what stands behind the `#`, with it or without
 * @param rules what this page's addresses may say
 *
 * @example decodeAddress(location.hash, { fallback, shipped: ["04-foldback"], views: ["zoom"] }).state
 */
export function decodeAddress(hash: string, rules: AddressRules): Decoded {
  const written = hash.startsWith("#") ? hash.slice(1) : hash;
  const { fallback } = rules;
  if (written === "" || /^[\p{L}\p{N}_.%-]{1,200}$/u.test(written))
    return { state: fallback, problems: [], present: false };
  const refused = (...problems: Problem[]): Decoded => ({ state: fallback, problems, present: true });
  if (written.length > LONGEST_ADDRESS) return refused(tooLong(written.length));
  const read = readParameters(written);
  const version = read.single.get("v");
  if (version !== VERSION) return refused(wrongVersion(version));

  const problems = [...read.problems];
  const line = lineOf(read.single, rules, problems);
  const changes = changesOf(read.changes, problems);
  const view = viewOf(read.views, rules, problems);
  if (line === null && read.changes.length > 0) problems.push(withoutTheirLine(read.changes.length));
  const state = line === null ? { ...fallback, view } : { line, changes, view };
  return { state, problems: few(problems), present: true };
}

function lineOf(single: ReadonlyMap<string, string>, rules: AddressRules, problems: Problem[]): LineChoice | null {
  const shipped = single.get("line");
  const own = single.get("own");
  const packed = single.get("text");
  let line: LineChoice | null = null;
  let found: Problem | null;
  if (shipped !== undefined && own === undefined && packed === undefined) {
    line = { kind: "shipped", name: shipped };
    found = lineProblem(line, rules.shipped);
  } else if (shipped === undefined && own !== undefined && packed !== undefined) {
    const unpacked = unpack(packed);
    if (unpacked.kind === "text") line = { kind: "own", name: own, text: unpacked.text };
    found = unpacked.kind === "text" ? lineProblem({ kind: "own", name: own, text: unpacked.text }) : spoilt(unpacked);
  } else {
    const received = ["line", "own", "text"].filter((key) => single.has(key)).join(", ") || "none of them";
    found = problem("no-line", "line", "The address does not say which line is meant.", {
      received,
      allowed: "the name of a line that comes with these pages, or a line of one's own with its text",
      hint: "Ask for the whole address or the file.",
    });
  }
  if (found === null) return line;
  problems.push(found);
  return null;
}

const SPOILT = {
  "not-packed": "The line's own text is not written as such a text is.",
  "too-large": "The line's own text is larger than a line may be.",
  "not-whole": "A part of the line's own text was lost or changed on the way.",
  "not-text": "The line's own text is no text.",
} as const;

function spoilt({ kind }: Exclude<Unpacked, { kind: "text" }>): Problem {
  const allowed = kind === "too-large" ? { allowed: "up to 256 KB" } : {};
  return problem(`text-${kind}`, "text", SPOILT[kind], { ...allowed, hint: "Ask for the whole address or the file." });
}

function changesOf(written: readonly (readonly [string, string | null])[], problems: Problem[]): Change[] {
  if (written.length > MOST_CHANGES) {
    problems.push(tooManyChanges(written.length));
    return [];
  }
  const changes = new Map<string, Change | null>();
  for (const [word, value] of written) {
    const path = pathFrom(word);
    const change: Change | null = path === null ? null : [path, value];
    const found =
      change === null
        ? problem("path-unreadable", word, "This path cannot be read.", {
            allowed: "keys and places with dots between",
          })
        : changeProblem(change, word);
    const key = JSON.stringify(path);
    if (found !== null) problems.push(found);
    else if (changes.has(key)) {
      if (changes.get(key) !== null) problems.push(problem("twice", word, "This value is changed twice."));
      changes.set(key, null);
    } else changes.set(key, change);
  }
  return [...changes.values()].filter((change) => change !== null);
}

function viewOf(
  written: ReadonlyMap<string, string>,
  rules: AddressRules,
  problems: Problem[],
): Record<string, string> {
  const sound = [...written].filter(([key, value]) => {
    const found = viewProblem(key, value, rules.views);
    if (found !== null) problems.push(found);
    return found === null;
  });
  return Object.fromEntries(sound);
}

function tooLong(length: number): Problem {
  return problem("too-long", "address", "This state is too long for an address.", {
    received: `${grouped(length)} characters`,
    allowed: `up to ${grouped(LONGEST_ADDRESS)} characters`,
    hint: "Save the line as a file to pass it on.",
  });
}

function wrongVersion(version: string | undefined): Problem {
  const message =
    version === undefined
      ? "The address is not whole, or does not come from these pages."
      : "The address was written by another version of these pages, or was changed on the way.";
  const received = version === undefined ? {} : { received: `v=${version}` };
  return problem("wrong-version", "address", message, {
    ...received,
    allowed: `an address as “Copy link” gives it, with v=${VERSION} behind the #`,
    hint: "Ask for the link again, or for the file.",
  });
}

function withoutTheirLine(count: number): Problem {
  const message = "The changes belong to a line that could not be opened; they are left out.";
  return problem("without-line", "changes", message, { received: grouped(count) });
}

function few(problems: readonly Problem[]): Problem[] {
  if (problems.length <= MOST_PROBLEMS) return [...problems];
  const more = `There are ${grouped(problems.length - MOST_PROBLEMS)} further problems.`;
  return [...problems.slice(0, MOST_PROBLEMS), problem("more-problems", "address", more)];
}
