import { closeSync, openSync, readSync, statSync } from "node:fs";
import { readCorrections, type WrittenCorrections } from "../capture/corrections.ts";
import { judgeCapture } from "../capture/judge/judge.ts";
import { judgementCsv } from "../capture/judge/table.ts";
import { renderJudgement } from "../capture/judge/text.ts";
import { renderLayout } from "../capture/layout-text.ts";
import { CaptureReader } from "../capture/read/reader.ts";
import type { CaptureResult, LayoutCorrections } from "../capture/types.ts";
import { formatIssues } from "../scenario/index.ts";
import { UsageError } from "./command.ts";
import { reasonOf } from "./read-input.ts";
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
const PIECE = 1 << 20;

/** Reads, judges, prints, writes; gives the exit status. */
export function captureAndTell({ file, written, target, json }: CaptureRequest, terminal: Terminal): number {
  const { corrections, limits, issues: wrong } = readCorrections(written);
  const result: CaptureResult =
    wrong.length > 0
      ? { status: "refused", layout: null, capture: null, understood: [], issues: wrong }
      : readFile(file, corrections, terminal);
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

/** Piece by piece: a file may be larger than any text that a program can hold. */
function readFile(path: string, corrections: LayoutCorrections, terminal: Terminal): CaptureResult {
  try {
    const found = statSync(path);
    if (found.isDirectory()) throw new UsageError([`"${path}" is a folder, not a file.`]);
    const reader = new CaptureReader({
      file: path,
      ...(found.isFile() ? { size: found.size } : {}),
      corrections,
      progress: ({ done, total, rows }) => {
        if (total !== null && total > 8 * PIECE)
          terminal.progress(`read ${Math.round((100 * done) / total)} %, ${rows} samples`);
      },
    });
    const handle = reader.done ? null : openSync(path, "r");
    try {
      const buffer = Buffer.alloc(PIECE);
      for (let got = handle === null ? 0 : 1; got > 0 && handle !== null && !reader.done; ) {
        got = readSync(handle, buffer, 0, PIECE, null);
        if (got > 0) reader.push(buffer.subarray(0, got));
      }
    } finally {
      if (handle !== null) closeSync(handle);
    }
    return reader.end();
  } catch (error) {
    if (error instanceof UsageError || !(error instanceof Error && "code" in error)) throw error;
    throw new UsageError([`"${path}" cannot be read: ${reasonOf(error)}.`]);
  }
}
