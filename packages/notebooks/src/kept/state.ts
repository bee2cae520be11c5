import { grouped, type Problem, problem } from "./problem.ts";
import { nameProblem, textProblem, unwantedCharacter } from "./words.ts";

/** Keys and places in lists that lead to a value of a scenario. */
export type Path = readonly (string | number)[];

/** One change of a line: what is written at a path; null takes away what stands there. */
export type Change = readonly [path: Path, value: string | null];

/** A line that comes with the pages, by its name, or one's own with its text. */
export type LineChoice =
  | { readonly kind: "shipped"; readonly name: string }
  | { readonly kind: "own"; readonly name: string; readonly text: string };

/** All that a page needs to stand again as it stood. */
export interface PageState {
  readonly line: LineChoice;
  /** In the order in which they are applied. */
  readonly changes: readonly Change[];
  /** What is looked at, in words of the page's own. */
  readonly view: Readonly<Record<string, string>>;
}

const DEEPEST_PATH = 12;
export const MOST_CHANGES = 200;
const MOST_VIEWS = 40;
const LARGEST_INDEX = 9999;
const LONGEST_KEY = 80;
const LONGEST_VIEW = 200;
/** What a person arranged and wrote is as long as it is; an address has its own limit. */
const ARRANGED = new Set(["lines", "slides", "words"]);
const LONGEST_ARRANGED = 100_000;
// Names that mean something to the language itself.
const TAKEN = new Set(["__proto__", "constructor", "prototype"]);
const SHIPPED = /^[a-z0-9](?:[a-z0-9-]{0,78}[a-z0-9])?$/;

/** What is wrong with the name of a line that comes with the pages, or null. */
export function shippedProblem(name: string, known?: readonly string[]): Problem | null {
  if (SHIPPED.test(name) && (known === undefined || known.includes(name))) return null;
  const allowed = known === undefined ? "small letters, digits and dashes" : known.join(", ");
  return problem("unknown-line", "line", "No line of this name comes with these pages.", { received: name, allowed });
}

/** What is wrong with a line, or null. */
export function lineProblem(line: LineChoice, known?: readonly string[]): Problem | null {
  if (line.kind === "shipped") return shippedProblem(line.name, known);
  return nameProblem(line.name) ?? textProblem(line.text, "text");
}

/** What is wrong with one change, or null. */
export function changeProblem([path, value]: Change, where: string): Problem | null {
  if (path.length === 0 || path.length > DEEPEST_PATH)
    return problem("path-depth", where, `The path has ${grouped(path.length)} steps.`, { allowed: "1 to 12 steps" });
  for (const step of path) {
    if (typeof step === "number") {
      if (Number.isInteger(step) && step >= 0 && step <= LARGEST_INDEX && !Object.is(step, -0)) continue;
      return problem("path-index", where, "A place in a list is a whole number.", {
        received: String(step),
        allowed: "0 to 9999",
      });
    }
    if (step === "" || step.length > LONGEST_KEY || TAKEN.has(step) || unwantedCharacter(step) !== null)
      return problem("path-key", where, "A key of the path cannot be one of a scenario's.", {
        received: step,
        allowed: "1 to 80 visible characters",
      });
  }
  if (value === null || unwantedCharacter(value, true) === null) return null;
  return problem("value-invisible", where, "The value holds a character that cannot be seen.", {
    received: value,
    allowed: "visible characters",
  });
}

/** What is wrong with one entry of the view, or null; `allowed` are the page's own keys. */
export function viewProblem(key: string, value: string, allowed?: readonly string[]): Problem | null {
  const where = `view ${key}`;
  const known = allowed === undefined || allowed.includes(key);
  if (!known || key === "" || key.length > LONGEST_KEY || TAKEN.has(key) || unwantedCharacter(key) !== null)
    return problem("unknown-view", where, "This page knows no such view.", {
      received: key,
      allowed: allowed === undefined ? "1 to 80 visible characters" : allowed.join(", ") || "none on this page",
    });
  const most = ARRANGED.has(key) ? LONGEST_ARRANGED : LONGEST_VIEW;
  if (value.length > most || unwantedCharacter(value) !== null)
    return problem("view-value", where, "This view is too long or holds a character that cannot be seen.", {
      received: value,
      allowed: `up to ${grouped(most)} visible characters`,
    });
  return null;
}

/** Everything that keeps a state from being written into an address or the storage. */
export function stateProblems({ line, changes, view }: PageState): Problem[] {
  const found: (Problem | null)[] = [lineProblem(line)];
  if (changes.length > MOST_CHANGES) found.push(tooManyChanges(changes.length));
  else {
    found.push(...changes.map((change) => changeProblem(change, change[0].join("."))));
    const seen = new Set<string>();
    for (const [path] of changes) {
      const key = JSON.stringify(path);
      if (seen.has(key)) found.push(problem("twice", path.join("."), "This value is changed twice."));
      seen.add(key);
    }
  }
  const views = Object.entries(view);
  if (views.length > MOST_VIEWS)
    found.push(problem("too-many-views", "view", "There are too many views.", { allowed: `up to ${MOST_VIEWS}` }));
  else found.push(...views.map(([key, value]) => viewProblem(key, value)));
  return found.filter((one) => one !== null);
}

export function tooManyChanges(count: number): Problem {
  return problem("too-many-changes", "changes", "There are too many changes.", {
    received: grouped(count),
    allowed: `up to ${MOST_CHANGES}`,
  });
}

/** A state out of what claims to be one (a kept record), or null when its shape or its content is none. */
export function stateFrom(value: unknown): PageState | null {
  if (!isRecord(value) || !isLine(value.line) || !Array.isArray(value.changes) || !isRecord(value.view)) return null;
  const views = Object.entries(value.view);
  if (!value.changes.every(isChange) || !views.every((entry) => typeof entry[1] === "string")) return null;
  const { line, changes } = value;
  const state = { line, changes, view: Object.fromEntries(views) as Record<string, string> };
  return stateProblems(state).length === 0 ? state : null;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

function isLine(value: unknown): value is LineChoice {
  if (!isRecord(value) || typeof value.name !== "string") return false;
  return value.kind === "shipped" || (value.kind === "own" && typeof value.text === "string");
}

function isChange(value: unknown): value is Change {
  if (!Array.isArray(value) || value.length !== 2 || !Array.isArray(value[0])) return false;
  const steps = value[0].every((step) => typeof step === "string" || typeof step === "number");
  return steps && (value[1] === null || typeof value[1] === "string");
}
