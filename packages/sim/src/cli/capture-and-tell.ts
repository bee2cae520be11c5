import { readCorrections, type WrittenCorrections } from "../capture/corrections.ts";
import { judgeCapture } from "../capture/judge/judge.ts";
import { judgementCsv } from "../capture/judge/table.ts";
import { renderJudgement } from "../capture/judge/text.ts";
import { renderLayout } from "../capture/layout-text.ts";
import type { CaptureResult } from "../capture/types.ts";
import { formatIssues } from "../scenario/index.ts";
import { readCaptureFile } from "./read-capture.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";
import { type Target, writeOutput } from "./write-output.ts";

export interface CaptureRequest {
  readonly file: string;
  readonly written: WrittenCorrections;
  readonly target: Target | null;
  readonly json: boolean;
}

/** Names the form of the JSON. */
const CAPTURE_FORMAT = "railfault-capture 1";

/** Reads, judges, prints, writes; gives the exit status. */
export function captureAndTell({ file, written, target, json }: CaptureRequest, terminal: Terminal): number {
  const { corrections, limits, issues: wrong } = readCorrections(written);
  const result: CaptureResult =
    wrong.length > 0
      ? { status: "refused", layout: null, capture: null, understood: [], issues: wrong }
      : readCaptureFile(file, corrections, terminal);
  const { capture, layout, understood, issues } = result;
  const judgement = result.status === "read" && capture !== null ? judgeCapture(capture, limits) : null;
  const status = judgement?.exitStatus ?? 2;
  if (json) {
    const head = { format: CAPTURE_FORMAT, file, version: version(), exitStatus: status };
    const body = { status: judgement === null ? "refused" : "judged", layout, understood, issues, judgement };
    terminal.out(`${JSON.stringify({ ...head, ...body }, null, 2)}\n`);
  }
  if (judgement === null) {
    if (layout !== null && !json) terminal.sayText(`${renderLayout(layout, understood, terminal.width)}\n`);
    terminal.sayText(formatIssues(issues));
    return status;
  }
  if (!json && layout !== null) {
    terminal.out(`${renderJudgement(judgement, terminal.width)}\n`);
    terminal.out(renderLayout(layout, understood, terminal.width));
  }
  terminal.sayText(formatIssues(issues));
  if (target !== null) {
    writeOutput(target, judgementCsv(judgement));
    terminal.say(`${target.option}: ${target.path} written`);
  }
  return status;
}
