import { type Issue, inBounds, type Position } from "../issue/issue.ts";
import { editDistance, namesHolding, nearest } from "../units/index.ts";
import { FitMemory } from "./fit-memory.ts";
import { type Path, pathText } from "./keys.ts";
import type { FuseFit } from "./parts/fuse-fit.ts";
import type { Mark } from "./parts/types.ts";

/** A value that the user did not write: where it came from. The verdict prints those marked "assumed". */
export interface Origin {
  /** Path of the value in the file: `sources[0].source resistance`. */
  readonly path: string;
  /** In the words of the file, for instance `bench supply: source resistance`. */
  readonly label: string;
  /** Formatted with its unit. */
  readonly value: string;
  /** Publication, sheet or reasoning, as a sentence fragment. */
  readonly source: string;
  /** How well it is known. */
  readonly mark: Mark;
  /** The part class that gives it; null for a default. */
  readonly partClass: string | null;
}

/** The fit of one fuse to its published points, to be shown with its worst deviation. */
export interface FittedFuse {
  /** Path of the fuse in the file: `main fuse`. */
  readonly path: string;
  /** What the user calls it. */
  readonly label: string;
  /** The fitted model, and how well it meets what was published. */
  readonly fit: FuseFit;
}

/**
 * Finds the place and the written text of a path; both null where the input is no text or nothing stands there. `path`: where it stands in the
 * file, when that is elsewhere.
 */
export type Locate = (
  path: Path,
  what: "key" | "value",
) => { position: Position | null; received: string | null; path?: Path };

export interface ProblemDetails {
  readonly allowed?: string | null;
  readonly hint?: string | null;
  readonly received?: string | null;
  /** Point at the key instead of the value. */
  readonly at?: "key" | "value";
}

/** Of a longer list of names, only the nearest are shown. */
const SHOWN = 16;

function someOf(name: string, known: readonly string[]): string {
  const word = name.toLowerCase().slice(0, 60);
  const sorted = known
    .map((candidate) => ({ candidate, distance: editDistance(word, candidate.toLowerCase()) }))
    .sort((a, b) => a.distance - b.distance);
  const first = sorted.slice(0, SHOWN / 2).map(({ candidate }) => candidate);
  return `one of ${known.length} names, such as ${first.join(" | ")}`;
}

/** More problems than anybody reads are not collected. */
const MOST = 200;

/** Where one reading of a scenario writes down what it finds. */
export class Sheet {
  readonly issues: Issue[] = [];
  readonly origins: Origin[] = [];
  readonly fits: FittedFuse[] = [];
  /** Numbers of part classes and defaults by path, exactly; an origin tells them rounded. */
  readonly amounts = new Map<string, number>();
  private readonly bad = new Set<string>();

  constructor(
    private readonly locate: Locate,
    /** Of earlier readings. */
    readonly memory: FitMemory = new FitMemory(),
  ) {}

  error(code: string, path: Path, message: string, details: ProblemDetails = {}): void {
    this.add("error", code, path, message, details);
  }

  warn(code: string, path: Path, message: string, details: ProblemDetails = {}): void {
    this.add("warning", code, path, message, details);
  }

  /**
   * An unknown name: with the nearest known one, or with all of them where none is near.
   *
   * @param allowed what may stand there, where that is more than the known names
   * @returns the name that was probably meant, or null
   */
  unknownName(
    code: string,
    path: Path,
    message: string,
    name: string,
    known: readonly string[],
    at: "key" | "value",
    allowed: string | null = null,
  ): string | null {
    const near = nearest(name, known);
    const meant = near === null ? namesHolding(name, known) : [near];
    this.error(code, path, message, {
      allowed: allowed ?? (known.length > SHOWN ? someOf(name, known) : known.join(" | ")),
      hint: meant.length === 0 ? null : `did you mean ${meant.map((each) => `\`${each}\``).join(" or ")}?`,
      received: name,
      at,
    });
    return meant[0] ?? null;
  }

  /** Nothing more is said about this path and what lies below it: a problem there has been reported. */
  spoil(path: Path): void {
    this.bad.add(pathText(path));
  }

  isSpoilt(path: Path): boolean {
    if (this.bad.size === 0) return false;
    for (let length = 0; length <= path.length; length += 1) {
      if (this.bad.has(pathText(path.slice(0, length)))) return true;
    }
    return false;
  }

  /** What was written at a path, as text. */
  received(path: Path): string | null {
    return this.locate(path, "value").received;
  }

  /** Whether an error stands at this path or below it. */
  hasErrorAt(path: Path): boolean {
    const start = pathText(path);
    return this.issues.some(({ severity, path: found }) => {
      if (severity !== "error" || !found.startsWith(start)) return false;
      return (
        start === "" || found.length === start.length || found[start.length] === "." || found[start.length] === "["
      );
    });
  }

  get hasErrors(): boolean {
    return this.issues.some((issue) => issue.severity === "error");
  }

  private add(severity: "error" | "warning", code: string, path: Path, message: string, details: ProblemDetails): void {
    if (this.issues.length >= MOST) return;
    const found = this.locate(path, details.at ?? "value");
    const issue = {
      severity,
      code,
      path: pathText(found.path ?? path),
      message,
      received: details.received === undefined ? found.received : details.received,
      allowed: details.allowed ?? null,
      hint: details.hint ?? null,
      position: found.position,
    };
    this.issues.push(inBounds(issue));
  }
}
