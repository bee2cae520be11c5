import {
  accessSync,
  closeSync,
  constants,
  existsSync,
  openSync,
  realpathSync,
  renameSync,
  rmSync,
  type Stats,
  statSync,
  writeSync,
} from "node:fs";
import { basename, dirname, join, resolve } from "node:path";
import { UsageError } from "./command.ts";
import { reasonOf } from "./read-input.ts";

export interface Target {
  /** The option that asked for it, for messages. */
  readonly option: string;
  /** As the user wrote it. */
  readonly path: string;
}

/**
 * Refuses files that could not be written, before any work is done.
 *
 * @throws UsageError where a folder is missing or not writable, a target is a folder, an input or named twice
 */
export function checkTargets(targets: readonly Target[], inputs: readonly string[]): void {
  const problems = targets.flatMap((target, index) => {
    const problem = problemOf(target, inputs, targets.slice(0, index));
    return problem === null ? [] : [`${target.option} "${target.path}": ${problem}`];
  });
  if (problems.length > 0) throw new UsageError(problems);
}

function problemOf({ path }: Target, inputs: readonly string[], others: readonly Target[]): string | null {
  const file = resolve(path);
  const folder = dirname(file);
  // A name that is too long, or that leads through a file, is told of before the work and not behind it.
  const seen = lookAt(file);
  if (typeof seen === "string") return `this cannot be written: ${seen}.`;
  const { found } = seen;
  if (found?.isDirectory()) return "this is a folder.";
  if (inputs.some((input) => sameFile(file, input))) return "this file is read here; it is never written over.";
  const twin = others.find((other) => sameFile(file, other.path));
  if (twin !== undefined) return `${twin.option} already writes there.`;
  if (!existsSync(folder)) return "its folder does not exist; make it first.";
  try {
    if (found !== null) accessSync(file, constants.W_OK);
    if (found === null || found.isFile()) accessSync(dirname(finalPath(file)), constants.W_OK);
  } catch (error) {
    return `this cannot be written: ${reasonOf(error)}.`;
  }
  return null;
}

function sameFile(a: string, b: string): boolean {
  if (resolve(a) === resolve(b)) return true;
  const [first, second] = [statOf(a), statOf(b)];
  return first?.isFile() === true && second !== null && first.ino === second.ino && first.dev === second.dev;
}

/** What stands at a path, or why nobody can say. */
function lookAt(path: string): { readonly found: Stats | null } | string {
  try {
    return { found: statSync(path, { throwIfNoEntry: false }) ?? null };
  } catch (error) {
    return reasonOf(error);
  }
}

function statOf(path: string): Stats | null {
  const seen = lookAt(path);
  return typeof seen === "string" ? null : seen.found;
}

/** Behind a symbolic link, the file it leads to. */
function finalPath(path: string): string {
  return existsSync(path) ? realpathSync(path) : path;
}

/**
 * Writes a file so that nobody ever sees half of it: beside its place first, then renamed. A pipe or a device is written directly.
 *
 * @param content text or bytes, in pieces
 * @throws UsageError where it cannot be written
 */
export function writeOutput({ option, path }: Target, content: Iterable<string | Uint8Array>): void {
  const file = finalPath(resolve(path));
  const found = statOf(file);
  const inPlace = found !== null && !found.isFile();
  const temporary = inPlace ? file : join(dirname(file), `.${basename(file)}.${process.pid}.part`);
  // Whoever reads from a pipe may never come: there a signal ends the waiting.
  if (!inPlace) holdSignals();
  try {
    try {
      const handle = openSync(temporary, inPlace ? "w" : "wx");
      try {
        for (const piece of content) writeAll(handle, piece);
      } finally {
        closeSync(handle);
      }
      if (!inPlace) renameSync(temporary, file);
    } catch (error) {
      if (!inPlace) rmSync(temporary, { force: true });
      throw error;
    }
  } catch (error) {
    throw new UsageError([`${option} "${path}" cannot be written: ${reasonOf(error)}.`]);
  }
}

const ENDING = ["SIGINT", "SIGTERM", "SIGHUP"] as const;

/**
 * Keeps what would end this process waiting until the file at hand is whole or gone: what is written without a pause leaves no turn in which a
 * signal could be answered. Where somebody else listens, a study that ends with what it has, the signal is theirs.
 */
function holdSignals(): void {
  let heard: NodeJS.Signals | null = null;
  const others = new Set(ENDING.filter((name) => process.listenerCount(name) > 0));
  const note = (name: NodeJS.Signals): void => {
    heard ??= name;
  };
  const mine = ENDING.filter((name) => !others.has(name));
  for (const name of mine) process.on(name, note);
  const release = (): void => {
    for (const name of mine) process.removeListener(name, note);
    if (heard !== null) process.kill(process.pid, heard);
  };
  // A signal is told of one turn after the one it came in.
  const after = (turns: number): void => {
    if (turns === 0) release();
    else setImmediate(() => after(turns - 1));
  };
  after(3);
}

function writeAll(handle: number, piece: string | Uint8Array): void {
  const bytes = typeof piece === "string" ? Buffer.from(piece) : piece;
  for (let done = 0; done < bytes.length; ) done += writeSync(handle, bytes, done);
}
