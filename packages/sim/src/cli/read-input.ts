import { closeSync, openSync, readSync, statSync } from "node:fs";
import { UsageError } from "./command.ts";

/** A scenario text is refused above 256 KB; what is larger still is not even read. */
export const LARGEST_SCENARIO = 1 << 20;

/**
 * The text of a file.
 *
 * @param path as the user wrote it
 * @param largest bytes that are read at most
 * @throws UsageError where there is no such file, it cannot be read, is larger or is not UTF-8
 */
export function readInput(path: string, largest: number): string {
  const bytes = bytesOf(path, largest);
  if (bytes.length > largest)
    throw new UsageError([`"${path}" is larger than ${largest >> 10} KB: no such file is read.`]);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    const place = firstBadLine(bytes);
    throw new UsageError([`"${path}" is not UTF-8 text${place}: save it as UTF-8.`]);
  }
}

function bytesOf(path: string, largest: number): Buffer {
  try {
    if (statSync(path).isDirectory()) throw new UsageError([`"${path}" is a folder, not a file.`]);
    const file = openSync(path, "r");
    try {
      const buffer = Buffer.alloc(largest + 1);
      let length = 0;
      // Also for pipes and devices, which do not tell their size.
      for (let got = 1; got > 0 && length < buffer.length; length += got) {
        got = readSync(file, buffer, length, buffer.length - length, null);
      }
      return buffer.subarray(0, length);
    } finally {
      closeSync(file);
    }
  } catch (error) {
    if (error instanceof UsageError) throw error;
    throw new UsageError([`"${path}" cannot be read: ${reasonOf(error)}.`]);
  }
}

function firstBadLine(bytes: Buffer): string {
  let from = 0;
  for (let line = 1; from < bytes.length; line++) {
    const end = bytes.indexOf(0x0a, from);
    const to = end < 0 ? bytes.length : end + 1;
    try {
      new TextDecoder("utf-8", { fatal: true }).decode(bytes.subarray(from, to));
    } catch {
      return ` (line ${line})`;
    }
    from = to;
  }
  return "";
}

const REASONS: Readonly<Record<string, string>> = {
  ENOENT: "there is no such file",
  EACCES: "you have no right to it",
  EPERM: "you have no right to it",
  ENOTDIR: "part of its path is no folder",
  EISDIR: "it is a folder",
  ENAMETOOLONG: "its name is too long",
  ELOOP: "its links lead in a circle",
  ENOSPC: "the disk is full",
  EROFS: "the disk cannot be written",
  ERR_INVALID_ARG_VALUE: "no file can be called that",
};

/** Why the system refused, in words. */
export function reasonOf(error: unknown): string {
  const code = error instanceof Error && "code" in error ? String(error.code) : "";
  return REASONS[code] ?? (error instanceof Error ? error.message : String(error));
}
