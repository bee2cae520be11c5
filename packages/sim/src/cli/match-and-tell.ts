import { existsSync } from "node:fs";
import { matchFigure } from "../report/figure/match-figure.ts";
import type { SizeName } from "../report/figure/types.ts";
import { figureOfRun } from "../report/run-figures.ts";
import { runScenario } from "../report/run-scenario.ts";
import { svgText } from "../report/svg-text.ts";
import { formatIssues } from "../scenario/index.ts";
import { asItStands } from "../study/weakest/answer.ts";
import { matchData } from "../study/weakest/matrix.ts";
import { matchCsv, matchJson, matchMarkdown, matchText, shortList } from "../study/weakest/report.ts";
import { MatchRun } from "../study/weakest/run.ts";
import type { MatchAnswer, MatchOptions, SavedMatch } from "../study/weakest/types.ts";
import { UsageError } from "./command.ts";
import { drawn } from "./drawn.ts";
import { readInput } from "./read-input.ts";
import type { Terminal } from "./terminal.ts";
import { type Target, writeOutput } from "./write-output.ts";

/** What is left to do once the command line has been looked at. */
interface MatchRequest {
  readonly file: string;
  readonly text: string;
  readonly options: MatchOptions;
  readonly targets: readonly (Target & { readonly kind: "markdown" | "csv" | "svg" | "png" | "line" | "keep" })[];
  readonly json: boolean;
  readonly all: boolean;
  /** Id of a combination, or its number in the short list. */
  readonly choose: string;
  readonly figure: "matrix" | "time-current";
  readonly size: SizeName;
  readonly scheme: "light" | "dark";
}

/** Kept outcomes are small; a larger file is none. */
const LARGEST_KEPT = 4 << 20;

/** Studies, prints, writes; gives the exit status. */
export async function matchAndTell(request: MatchRequest, terminal: Terminal): Promise<number> {
  const { file, text, options, targets } = request;
  const keep = targets.find(({ kind }) => kind === "keep");
  const resume = keep === undefined || !existsSync(keep.path) ? undefined : keptIn(keep);
  const study = new MatchRun(text, file, { ...options, ...(resume === undefined ? {} : { resume }) });
  await carryOut(study, request, terminal);
  const answer = study.result();
  if (answer.kind === "refused") {
    terminal.sayText(formatIssues(answer.issues));
    return 2;
  }
  if (request.json) terminal.out(`${JSON.stringify(matchJson(answer), null, 2)}\n`);
  else terminal.out(matchText(answer, { width: terminal.width, all: request.all }));
  const chosen = choiceOf(answer, request);
  let svg: string | null = null;
  for (const target of targets) {
    const { kind } = target;
    if (kind === "markdown") writeOutput(target, [matchMarkdown(answer, { all: request.all })]);
    else if (kind === "csv") writeOutput(target, matchCsv(answer));
    else if (kind === "keep") writeOutput(target, [`${JSON.stringify(study.saved(), null, 1)}\n`]);
    else if (kind === "line") {
      if (chosen !== null) writeLine(target, study.fileOf(chosen), terminal);
    } else {
      svg ??= await picture(request, study, answer, chosen);
      writeOutput(target, [await drawn(svg, kind, request.size)]);
    }
    terminal.say(
      kind === "line" && chosen === null
        ? `${target.option}: no combination to write`
        : `${target.option}: ${target.path} written`,
    );
  }
  if (answer.sound.length === 0) return 4;
  return answer.sound.some(asItStands) ? 0 : 1;
}

function writeLine(target: Target, { text, leftOut }: ReturnType<MatchRun["fileOf"]>, terminal: Terminal): void {
  writeOutput(target, [text]);
  if (leftOut.length > 0)
    terminal.say(`${target.option}: left out, because the chosen parts contradict it: ${leftOut.join("; ")}`);
}

/** In pieces, so that Ctrl-C is heard between them and ends the study with what it has. */
async function carryOut(study: MatchRun, request: MatchRequest, terminal: Terminal): Promise<void> {
  const begin = performance.now();
  let isPlanned = false;
  const interrupt = (): void => study.stop();
  process.once("SIGINT", interrupt);
  try {
    while (study.advance(20_000) === "running") {
      await new Promise((resume) => setImmediate(resume));
      if (!isPlanned && study.planned !== null) {
        isPlanned = true;
        checkChoice(study.planned, request);
      }
      const { stage, runs, of } = study.progress;
      if (performance.now() - begin > 2000) terminal.progress(of === 0 ? stage : `${stage}: ${runs} of ${of}`);
    }
  } finally {
    process.removeListener("SIGINT", interrupt);
  }
}

function keptIn({ option, path }: Target): SavedMatch {
  try {
    return JSON.parse(readInput(path, LARGEST_KEPT)) as SavedMatch;
  } catch (error) {
    if (error instanceof UsageError) throw error;
    throw new UsageError([`${option} "${path}" is not what an earlier study kept: it is no JSON.`]);
  }
}

/** Refuses a choice that no answer can hold, before full runs are made for it. */
function checkChoice({ names, kept }: NonNullable<MatchRun["planned"]>, request: MatchRequest): void {
  const { choose, figure } = request;
  if (!isWanted(request) || names.includes(choose)) return;
  if (/^\d+$/.test(choose) && Number(choose) >= 1 && Number(choose) <= kept) return;
  if (kept > 0) throw noSuch(choose, `1 to ${kept} at most, or a name such as "${names[0]}"`);
  if (choose !== "1") throw noSuch(choose, "the name of one");
  if (figure === "time-current") throw nothingSound();
}

const isWanted = ({ figure, targets }: MatchRequest): boolean =>
  figure === "time-current" || targets.some(({ kind }) => kind === "line");

const noSuch = (choose: string, allowed: string): UsageError =>
  new UsageError([`--choose "${choose.slice(0, 100)}": there is no such combination; allowed: ${allowed}.`]);

const nothingSound = (): UsageError =>
  new UsageError(["--figure time-current: no combination is sound; choose one by its name."]);

/** The chosen combination; null where there is none to choose. */
function choiceOf(answer: MatchAnswer, request: MatchRequest): string | null {
  const { choose } = request;
  const list = shortList(answer).map(({ combination }) => combination.id);
  const byNumber = /^\d+$/.test(choose) ? list[Number(choose) - 1] : undefined;
  const found = byNumber ?? answer.all.find(({ id }) => id === choose)?.id;
  if (found !== undefined) return found;
  if (!isWanted(request) || (list.length === 0 && choose === "1")) return null;
  throw noSuch(choose, list.length === 0 ? "the name of one" : `1 to ${list.length}, or a name such as "${list[0]}"`);
}

async function picture(
  { file, figure, size, scheme }: MatchRequest,
  study: MatchRun,
  answer: MatchAnswer,
  chosen: string | null,
): Promise<string> {
  if (figure === "matrix") return svgText((document) => matchFigure(matchData(answer), { document, size, scheme }));
  if (chosen === null) throw nothingSound();
  const result = runScenario(study.fileOf(chosen).text, file);
  if (result.kind === "refused") throw new UsageError([`--choose "${chosen}": its line cannot be run.`]);
  const drawn = figureOfRun("time-current", result);
  if ("missing" in drawn) throw new UsageError([`--figure time-current: ${drawn.missing}.`]);
  return svgText((document) => drawn.draw({ document, size, scheme }));
}
