import { excerptOf, type Issue, inBounds, type Position } from "../../issue/issue.ts";

/** Of each kind so many are told one by one; the rest is counted. */
const TOLD = 5;

type Problem = Pick<Issue, "code" | "message"> &
  Partial<Pick<Issue, "severity" | "path" | "received" | "allowed" | "hint">>;

/** Collects what is wrong with a file; hundreds of cells with the same mistake stay a few lines. */
export class Problems {
  private readonly found: Issue[] = [];
  private readonly counts = new Map<string, number>();

  constructor(readonly file: string) {}

  add(problem: Problem, position: Position | null = null): void {
    const count = (this.counts.get(problem.code) ?? 0) + 1;
    this.counts.set(problem.code, count);
    if (count > TOLD) return;
    const blank = { severity: "error", path: "", received: null, allowed: null, hint: null } as const;
    this.found.push(inBounds({ ...blank, ...problem, position }));
  }

  /** A place in the file; `column` counts characters. */
  at(line: number, excerpt: string, column = 1, length = excerpt.length): Position {
    return { file: this.file, line, column, length: Math.max(1, length), ...excerptOf(excerpt, column) };
  }

  count(code: string): number {
    return this.counts.get(code) ?? 0;
  }

  get errors(): boolean {
    return this.found.some(({ severity }) => severity === "error");
  }

  /** Everything found, with how many more of a kind there are. */
  list(): readonly Issue[] {
    return this.found.map((issue, index) => {
      const count = this.count(issue.code);
      const last = this.found.findLastIndex(({ code }) => code === issue.code) === index;
      return count > TOLD && last
        ? { ...issue, message: `${issue.message} There are ${count - TOLD} more of this kind.` }
        : issue;
    });
  }
}
