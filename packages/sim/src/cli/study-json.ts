import type { Issue } from "../issue/issue.ts";
import { formatIssues } from "../scenario/index.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";

/** Prints a study as JSON, with the name of its form and the program's version before it. */
export function printStudyJson(format: string, body: object, terminal: Terminal): void {
  terminal.out(`${JSON.stringify({ format, version: version(), ...body }, null, 1)}\n`);
}

/** Says why there is no study; gives the exit status. */
export function refuseStudy(format: string, issues: readonly Issue[], json: boolean, terminal: Terminal): number {
  if (json) printStudyJson(format, { status: "refused", exitStatus: 2, issues }, terminal);
  terminal.sayText(formatIssues(issues));
  return 2;
}
