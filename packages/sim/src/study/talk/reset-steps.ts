import type { Answered } from "../../report/run-scenario.ts";

/**
 * What to do after a fault before the line is used again, in the verdict's order. Without a verdict, what it takes to get one; nothing where
 * nothing tripped and nothing was hurt.
 *
 * @param answered of `runScenario`
 * @example resetSteps(answered)[0] // "Switch every source off, then every load."
 */
export const resetSteps = ({ verdict }: Answered): readonly string[] =>
  verdict.kind === "verdict" ? verdict.replace : [verdict.remedy];
