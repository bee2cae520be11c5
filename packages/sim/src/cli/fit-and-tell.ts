import { readCorrections, type WrittenCorrections } from "../capture/corrections.ts";
import { fitFigure } from "../report/figure/fit-figure.ts";
import type { SizeName } from "../report/figure/types.ts";
import { checkScenario } from "../report/run-scenario.ts";
import { svgText } from "../report/svg-text.ts";
import { formatIssues } from "../scenario/index.ts";
import { fitData } from "../study/fit/figure-data.ts";
import { fitScenario, layCapture } from "../study/fit/fit.ts";
import { FIT_FORMAT, fitCsv, fitJson, fitStatus, renderFit } from "../study/fit/report.ts";
import type { Fit, FitOptions } from "../study/fit/types.ts";
import { drawn } from "./drawn.ts";
import { readCaptureFile } from "./read-capture.ts";
import { LARGEST_SCENARIO, readInput } from "./read-input.ts";
import { printStudyJson, refuseStudy } from "./study-json.ts";
import { progressOf } from "./study-progress.ts";
import type { Terminal } from "./terminal.ts";
import { type Target, writeOutput } from "./write-output.ts";

/** What is left to do once everything that can be wrong with the command line has been looked at. */
export interface FitRequest {
  readonly file: string;
  readonly captureFile: string;
  /** What a person corrects of how the capture is understood. */
  readonly written: WrittenCorrections;
  /** Which values may move; null: none, the capture is laid on the run as it stands. */
  readonly free: readonly string[] | null;
  readonly options: Omit<FitOptions, "free">;
  readonly targets: readonly (Target & { readonly kind: "out" | "csv" | "svg" | "png" })[];
  readonly figure: { readonly size: SizeName; readonly scheme: "light" | "dark" };
  readonly json: boolean;
}

/** Reads both, fits, prints, writes; gives the exit status. */
export async function fitAndTell(request: FitRequest, terminal: Terminal): Promise<number> {
  const { file, captureFile, written, free, options, targets, json } = request;
  const text = readInput(file, LARGEST_SCENARIO);
  const checked = checkScenario(text, file);
  const { corrections, issues: unclear } = readCorrections(written);
  const read = unclear.length > 0 ? null : readCaptureFile(captureFile, corrections, terminal);
  const wrong = [
    ...unclear,
    ...(checked.scenario === null ? checked.issues : []),
    ...(read === null || (read.status === "read" && read.capture !== null) ? [] : read.issues),
  ];
  if (wrong.length > 0 || read === null || read.capture === null) return refuseStudy(FIT_FORMAT, wrong, json, terminal);
  const hooks = { progress: progressOf(terminal) };
  const answer =
    free === null
      ? await layCapture(text, file, read.capture, options, hooks)
      : await fitScenario(text, file, read.capture, { ...options, free }, hooks);
  if (answer.kind === "refused") return refuseStudy(FIT_FORMAT, answer.issues, json, terminal);
  const status = fitStatus(answer);
  if (json) printStudyJson(FIT_FORMAT, { status: "fitted", exitStatus: status, ...fitJson(answer) }, terminal);
  else terminal.out(renderFit(answer, terminal.width));
  terminal.sayText(formatIssues(read.issues));
  for (const target of targets) await write(target, answer, request, terminal);
  return status;
}

async function write(
  target: FitRequest["targets"][number],
  found: Fit,
  { figure }: FitRequest,
  terminal: Terminal,
): Promise<void> {
  if (target.kind === "out" && found.scenario === null) {
    terminal.say(`${target.option}: nothing was found, so ${target.path} is not written`);
    return;
  }
  if (target.kind === "out") writeOutput(target, [found.scenario ?? ""]);
  else if (target.kind === "csv") writeOutput(target, fitCsv(found));
  else {
    const svg = await svgText((document) => fitFigure(fitData(found), { document, ...figure }));
    writeOutput(target, [await drawn(svg, target.kind, figure.size)]);
  }
  terminal.say(`${target.option}: ${target.path} written`);
}
