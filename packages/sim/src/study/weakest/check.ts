import type { ScenarioResult } from "../../scenario/index.ts";
import type { Dimension } from "../../units/index.ts";
import type { Check, Mend, RuleName, RuleSubject } from "./types.ts";

interface Rule {
  readonly rule: RuleName;
  readonly subject: RuleSubject;
  readonly dimension: Dimension;
  readonly found: number;
  readonly allowed: number | null;
  /** Whether `allowed` is the most or the least. */
  readonly bound: "at most" | "at least";
  readonly sentence: string;
  readonly mend?: Mend | null;
  /** Subtracted from both before they are compared, for temperatures. */
  readonly base?: number;
}

/** Holds a found value against what is allowed; at the limit exactly it is kept; without a known limit it is not. */
export function checkOf(rule: Rule): Check {
  const { found, allowed, bound, base = 0, mend = null } = rule;
  const kept = allowed !== null && (bound === "at most" ? found <= allowed : found >= allowed);
  const ratio = allowed === null ? Number.NaN : (found - base) / (allowed - base);
  const times = bound === "at most" ? ratio : 1 / ratio;
  return {
    rule: rule.rule,
    subject: rule.subject,
    kept,
    dimension: rule.dimension,
    found,
    allowed,
    sentence: rule.sentence,
    shortBy: kept ? 1 : times >= 1 ? times : Number.POSITIVE_INFINITY,
    mend: kept ? null : mend,
  };
}

/** Of a part with which the file cannot be read: the first of what was found wrong; at least one error. */
export function unreadable(name: string, subject: RuleSubject, { issues }: Pick<ScenarioResult, "issues">): Check {
  const errors = issues.filter(({ severity }) => severity === "error");
  const [first] = errors;
  const at = first.path === "" ? "" : ` (${first.path})`;
  const allowed = first.allowed === null ? "" : ` Allowed: ${first.allowed}.`;
  return checkOf({
    rule: "file",
    subject,
    dimension: "number",
    found: errors.length,
    allowed: 0,
    bound: "at most",
    sentence: `With ${name} the file cannot be used${at}: ${first.message}${allowed}`,
  });
}

/** The rules that were broken. */
export function broken(checks: readonly Check[]): readonly Check[] {
  return checks.filter(({ kept }) => !kept);
}
