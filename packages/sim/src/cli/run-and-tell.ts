import { csvLines } from "../report/csv.ts";
import type { SizeName } from "../report/figure/types.ts";
import { countedFrom } from "../report/figure-csv.ts";
import { renderFits } from "../report/fits.ts";
import { resultData, resultJson } from "../report/json.ts";
import { type FigureName, figureOfRun } from "../report/run-figures.ts";
import { type Answered, type Refused, runScenario, type ScenarioRunOptions } from "../report/run-scenario.ts";
import { svgText } from "../report/svg-text.ts";
import { renderText } from "../report/text.ts";
import { formatIssues } from "../scenario/index.ts";
import type { Trace } from "../trace/types.ts";
import { formatQuantity } from "../units/index.ts";
import { drawn } from "./drawn.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";
import { type Target, writeOutput } from "./write-output.ts";

/** What is left to do once everything that can be wrong with the command line has been looked at. */
export interface RunRequest {
  readonly file: string;
  readonly text: string;
  readonly options: ScenarioRunOptions;
  readonly targets: readonly (Target & { readonly kind: "csv" | "svg" | "png" | "figure-csv" })[];
  /** What pictures show, and how they look. */
  readonly figure: { readonly name: FigureName; readonly size: SizeName; readonly scheme: "light" | "dark" };
  readonly json: boolean;
  readonly trace: boolean;
  readonly colour: boolean;
}

/** Runs, prints, writes; gives the exit status. */
export async function runAndTell(request: RunRequest, terminal: Terminal): Promise<number> {
  const { file, text, options, json, colour } = request;
  const result = runScenario(text, file, { ...options, progress: progressOn(terminal) });
  if (json) printJson(result, request, terminal);
  if (result.kind === "refused") {
    terminal.sayText(formatIssues(result.issues));
    return 2;
  }
  const { verdict, parsed } = result;
  if (!json) {
    terminal.out(renderText(verdict, { width: terminal.width, colour }));
    terminal.out(renderFits(parsed.fits, terminal.width));
  }
  if (verdict.kind === "not a verdict") terminal.say(`railfault run: ${verdict.headline}`);
  if (request.trace || request.targets.some(({ kind }) => kind === "csv")) tellThinned(result.run.trace, terminal);
  await writeTargets(request, result, terminal);
  return verdict.exitStatus;
}

function tellThinned({ thinned, time }: Trace, terminal: Terminal): void {
  if (thinned === undefined) return;
  const events = thinned.everyEvent ? "every event is" : "not every event is";
  terminal.say(
    `railfault run: of ${thinned.from} rows ${time.length} were kept: the extremes are among them, ${events}; \`--until\` ends a run earlier`,
  );
}

function printJson(result: Answered | Refused, { file, options, trace }: RunRequest, terminal: Terminal): void {
  const { method = null, tolerance = null, until = null } = options;
  const data = resultData(result, { file, version: version(), options: { method, tolerance, until } });
  for (const piece of resultJson(data, trace && result.kind === "answered" ? result.run.trace : null))
    terminal.out(piece);
}

/** Whoever waits for more than two seconds at a terminal is told how far it is. */
function progressOn({ progress }: Terminal): (time: number, end: number) => void {
  const begin = performance.now();
  return (time, end) => {
    if (performance.now() - begin > 2000) progress(`${formatQuantity(time, "time")} of ${formatQuantity(end, "time")}`);
  };
}

async function writeTargets({ targets, figure }: RunRequest, answered: Answered, terminal: Terminal): Promise<void> {
  const wanted = figureOfRun(figure.name, answered);
  let svg: string | null = null;
  for (const target of targets) {
    if (target.kind === "csv") writeOutput(target, csvLines(answered.run.trace, countedFrom(answered.run.scenario)));
    else if ("missing" in wanted) {
      terminal.say(`${target.option}: ${wanted.missing}`);
      continue;
    } else if (target.kind === "figure-csv") writeOutput(target, wanted.csv());
    else {
      svg ??= await svgText((document) => wanted.draw({ document, size: figure.size, scheme: figure.scheme }));
      writeOutput(target, [await drawn(svg, target.kind, figure.size)]);
    }
    terminal.say(`${target.option}: ${target.path} written`);
  }
}
