import type { Issue } from "../../issue/issue.ts";
import { Sheet } from "../sheet.ts";
import type { Scenario } from "../types.ts";
import { checkErrors } from "./errors.ts";

/**
 * The refusals of a complete scenario whose numbers were changed after it was resolved.
 *
 * @returns errors without a place in a text; empty where it may be run
 * @example refusalsOf({ ...scenario, endTime: 0.001 })
 */
export function refusalsOf(scenario: Scenario): readonly Issue[] {
  const sheet = new Sheet(() => ({ position: null, received: null }));
  checkErrors(sheet, scenario);
  return sheet.issues.filter(({ severity }) => severity === "error");
}
