import type { Issue } from "../issue/issue.ts";
import { tolerancesFigure } from "../report/figure/tolerances-figure.ts";
import type { SizeName } from "../report/figure/types.ts";
import { checkScenario } from "../report/run-scenario.ts";
import { svgText } from "../report/svg-text.ts";
import { formatIssues, parseScenario } from "../scenario/index.ts";
import { type Collected, collect } from "../study/spread/collect.ts";
import { tolerancesData } from "../study/spread/figure-data.ts";
import type { TolerancesOptions } from "../study/spread/options.ts";
import { collectedData, mergeParts, type ReadPart, readPart, TOLERANCES_FORMAT } from "../study/spread/part-file.ts";
import { reproduce, sampleTold, statusOf, summarise, type Told } from "../study/spread/summary.ts";
import { samplesCsv } from "../study/spread/table.ts";
import { renderTolerances } from "../study/spread/text.ts";
import { UsageError } from "./command.ts";
import { drawn } from "./drawn.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import { progressOf } from "./study-progress.ts";
import type { Terminal } from "./terminal.ts";
import { threadCrew } from "./threads/crew.ts";
import { allCores } from "./threads/pool.ts";
import { version } from "./version.ts";
import { type Target, writeOutput } from "./write-output.ts";

type Kind = "csv" | "svg" | "png" | "worst" | "worst-corner" | "scenario";

/** What is left to do once everything that can be wrong with the command line has been looked at. */
export interface TolerancesRequest {
  /** One scenario, or the parts to merge. */
  readonly names: readonly string[];
  readonly merging: boolean;
  readonly options: TolerancesOptions;
  /** 0: all cores. */
  readonly threads: number;
  /** −1: none. */
  readonly at: number;
  readonly targets: readonly (Target & { readonly kind: Kind })[];
  readonly figure: { readonly size: SizeName; readonly scheme: "light" | "dark" };
  readonly json: boolean;
}

/** A million samples with all that is told of each. */
const LARGEST_PART = 200 << 20;

/** Runs or merges, prints, writes; gives the exit status. */
export async function tolerancesAndTell(request: TolerancesRequest, terminal: Terminal): Promise<number> {
  const found = request.merging ? merged(request.names) : await collected(request, terminal);
  if (!("samples" in found)) {
    if (request.json) printRefused(found, terminal);
    terminal.sayText(formatIssues(found));
    return 2;
  }
  const whole = found.options.part.of === 1;
  const summary = whole ? summarise(found) : null;
  const status = statusOf(found);
  if (request.json) printJson({ exitStatus: status, summary, runs: collectedData(found) }, terminal);
  if (summary === null) return status;
  if (!request.json) terminal.out(renderTolerances(summary, terminal.width));
  const { spreads } = parseScenario(found.text, found.file);
  const scenarioOf = (told: Told | null): string[] => (told === null ? [] : [reproduce(found.text, told, spreads)]);
  let svg: string | null = null;
  for (const target of request.targets) {
    const { kind } = target;
    if (kind === "csv") writeOutput(target, samplesCsv(found));
    else if (kind === "worst") writeOutput(target, scenarioOf(summary.worst));
    else if (kind === "worst-corner") writeOutput(target, scenarioOf(summary.corners.worst));
    else if (kind === "scenario") {
      const told = sampleTold(found, request.at);
      if (told === null) throw new UsageError([`--at is 0 to ${summary.samples - 1}; received ${request.at}.`]);
      writeOutput(target, scenarioOf(told));
    } else {
      const { size, scheme } = request.figure;
      svg ??= await svgText((document) => tolerancesFigure(tolerancesData(found, summary), { document, size, scheme }));
      writeOutput(target, [await drawn(svg, kind, size)]);
    }
    terminal.say(`${target.option}: ${target.path} written`);
  }
  return status;
}

async function collected(
  { names, options, threads }: TolerancesRequest,
  terminal: Terminal,
): Promise<Collected | readonly Issue[]> {
  const [file] = names;
  const text = readInput(file, LARGEST_SCENARIO);
  const checked = checkScenario(text, file);
  if (checked.scenario === null) return checked.issues;
  const answer = await collect(text, file, options, threadCrew(threads === 0 ? allCores() : threads), {
    progress: progressOf(terminal),
  });
  return answer.kind === "refused" ? answer.issues : answer.collected;
}

function merged(names: readonly string[]): Collected | readonly Issue[] {
  const parts: ReadPart[] = [];
  const problems: string[] = [];
  for (const name of names) {
    const part = readPart(name, readInput(name, LARGEST_PART));
    if (part === null) problems.push(`"${name}" is no result of \`railfault tolerances … --json\`.`);
    else parts.push(part);
  }
  if (problems.length > 0) throw new UsageError(problems);
  return mergeParts(parts);
}

function printRefused(issues: readonly Issue[], terminal: Terminal): void {
  const head = { format: TOLERANCES_FORMAT, version: version(), status: "refused", exitStatus: 2 };
  terminal.out(`${JSON.stringify({ ...head, issues }, null, 2)}\n`);
}

/** The runs stand on lines of their own: they are many numbers. */
function printJson(
  { exitStatus, summary, runs }: { exitStatus: number; summary: unknown; runs: object },
  terminal: Terminal,
): void {
  const head = { format: TOLERANCES_FORMAT, version: version(), status: "answered", exitStatus, summary };
  terminal.out(`${JSON.stringify(head, null, 2).slice(0, -2)},\n  "runs": {`);
  for (const [k, [name, value]] of Object.entries(runs).entries())
    terminal.out(`${k === 0 ? "" : ","}\n    ${JSON.stringify(name)}: ${JSON.stringify(value)}`);
  terminal.out("\n  }\n}\n");
}
