import { closeSync, openSync, readSync, statSync } from "node:fs";
import { CaptureReader } from "../capture/read/reader.ts";
import type { CaptureResult, LayoutCorrections } from "../capture/types.ts";
import { UsageError } from "./command.ts";
import { reasonOf } from "./read-input.ts";
import type { Terminal } from "./terminal.ts";

const PIECE = 1 << 20;

/** Piece by piece: a file may be larger than any text that a program can hold. */
export function readCaptureFile(path: string, corrections: LayoutCorrections, terminal: Terminal): CaptureResult {
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
