import type { Issue } from "../issue/issue.ts";
import type { ScenarioResult } from "../scenario/index.ts";
import { visible } from "../scenario/text/characters.ts";
import { type Arguments, type Command, UsageError } from "./command.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import type { Terminal } from "./terminal.ts";

export const check: Command = {
  name: "check",
  usage: "FILE... [options]",
  summary: "say every problem of scenario files without running them",
  about: [
    "Reads each file, tells all its errors and warnings at once with line, column and what helps, and tries whether the healthy line has an operating point. Nothing is run.",
  ],
  options: [{ name: "json", value: null, about: "as JSON: a list of files with their issues" }],
  statuses: [
    [0, "every file can be run; warnings may have been given"],
    [2, "at least one file cannot be run"],
  ],
  examples: ["railfault check hut.yaml", "railfault check stations/*.yaml"],
  names: { what: "The scenario file", least: 1, most: Number.POSITIVE_INFINITY },
  run: checkFiles,
};

interface Checked {
  readonly file: string;
  readonly usable: boolean;
  readonly issues: readonly Issue[];
}

async function checkFiles({ names, switches }: Arguments, terminal: Terminal): Promise<number> {
  const { formatIssues } = await import("../scenario/index.ts");
  const { checkScenario } = await import("../report/run-scenario.ts");
  const checked: Checked[] = [];
  for (const file of names) {
    const result = checkFile(file, checkScenario);
    checked.push(result);
    // File by file: who checks many need not wait for the last.
    if (!switches.has("json")) terminal.out(textOf(result, formatIssues));
  }
  if (switches.has("json")) terminal.out(`${JSON.stringify(checked, null, 2)}\n`);
  const bad = checked.filter(({ usable }) => !usable).length;
  if (names.length > 1 && !switches.has("json")) {
    terminal.out(`${names.length} files: ${names.length - bad} can be run, ${bad} cannot\n`);
  }
  return bad === 0 ? 0 : 2;
}

function checkFile(file: string, checkScenario: (text: string, file: string) => ScenarioResult): Checked {
  try {
    const { scenario, issues } = checkScenario(readInput(file, LARGEST_SCENARIO), file);
    return { file, usable: scenario !== null, issues };
  } catch (error) {
    if (!(error instanceof UsageError)) throw error;
    const unreadable = { severity: "error", code: "unreadable-file", path: "", received: null, allowed: null } as const;
    const issues = error.problems.map((message) => ({ ...unreadable, message, hint: null, position: null }));
    return { file, usable: false, issues };
  }
}

function textOf({ file, usable, issues }: Checked, formatIssues: (issues: readonly Issue[]) => string): string {
  const head = `${visible(file)}: ${usable ? "can be run" : "CANNOT BE RUN"}\n`;
  return issues.length === 0 ? head : `${head}\n${formatIssues(issues)}\n`;
}
