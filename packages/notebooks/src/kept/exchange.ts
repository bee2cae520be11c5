import { strToU8, zipSync } from "fflate";
import { textOfBytes } from "./exchange/bytes.ts";
import { safeFileName, uniqueNames } from "./exchange/file-names.ts";
import { tableProblem } from "./exchange/table.ts";
import { grouped, type Problem, problem, shown, sizeText } from "./problem.ts";
import { halfCharacter, LARGEST_TEXT, LONGEST_NAME, tidyName } from "./words.ts";

/** What is asked of a file: a `File` has it all. */
export type OpenedFile = Pick<File, "name" | "size" | "arrayBuffer">;

/** What is asked of something dropped: a `DataTransfer` has it all. */
export interface Dropped {
  readonly files: ArrayLike<OpenedFile>;
}

/** A file's text, or why it cannot be used. */
export type Imported =
  | {
      readonly kind: "text";
      /** A name to keep the line under, from the file's. */
      readonly name: string;
      /** The file's own name; somebody else's text, to be shown as text. */
      readonly fileName: string;
      /** As it stands in the file: byte order mark and line ends too. */
      readonly text: string;
    }
  | { readonly kind: "refused"; readonly problem: Problem };

/**
 * Reads a scenario file that a person chose. What is too large is refused by its size, before anything is read.
 *
 * @param file at most 256 KB of text in UTF-8
 *
 * @example
 * const imported = await importFile(input.files[0]);
 * if (imported.kind === "text") open({ kind: "own", name: imported.name, text: imported.text });
 */
export async function importFile(file: OpenedFile): Promise<Imported> {
  const where = file.name === "" ? "file" : file.name;
  const refused = (found: Problem): Imported => ({ kind: "refused", problem: found });
  if (file.size > LARGEST_TEXT) return refused(tooLarge(where, file.size));
  let bytes: Uint8Array;
  try {
    bytes = new Uint8Array(await file.arrayBuffer());
  } catch (error) {
    const received = error instanceof Error ? error.message : String(error);
    const hint = "It may be a folder, or it was moved or locked. Choose a file.";
    return refused(problem("unreadable-file", where, "The browser cannot read this.", { received, hint }));
  }
  // A file may grow between being chosen and being read.
  if (bytes.length > LARGEST_TEXT) return refused(tooLarge(where, bytes.length));
  if (bytes.length === 0) return refused(problem("empty-file", where, "The file is empty.", { allowed: "a scenario" }));
  const text = textOfBytes(bytes, where);
  if (typeof text !== "string") return refused(text);
  const table = tableProblem(text, where);
  if (table !== null) return refused(table);
  return { kind: "text", name: nameFromFile(file.name), fileName: file.name, text };
}

/** Reads what was dropped on the page: one file. */
export async function importDropped({ files }: Dropped): Promise<Imported> {
  if (files.length === 1) return importFile(files[0]);
  const allowed = "one scenario file";
  if (files.length === 0)
    return { kind: "refused", problem: problem("no-file", "drop", "What was dropped holds no file.", { allowed }) };
  const names = Array.from({ length: Math.min(files.length, 3) }, (_, at) => shown(files[at].name).slice(0, 20));
  const received = `${grouped(files.length)}: ${names.join(", ")}${files.length > 3 ? ", …" : ""}`;
  const message = "Several files were dropped at once.";
  return { kind: "refused", problem: problem("several-files", "drop", message, { received, allowed }) };
}

/** Gives a file to the person: usually a link with `download` that is clicked. */
export type Download = (content: Blob, fileName: string) => void;

/** A line to be exported: its title or name, and its text. */
export interface Exported {
  readonly name: string;
  readonly text: string;
  /** When it was last changed, ms since 1970. */
  readonly changed_ms?: number;
}

/**
 * Hands a line out as the YAML file that the command reads, byte for byte its text.
 *
 * @returns the file's name, or why the text has no bytes
 *
 * @example exportLine({ name: "Hut, roof", text }, download) // { kind: "exported", fileName: "Hut-roof.yaml" }
 */
export function exportLine(line: Exported, download: Download): ExportResult {
  const found = halfCharacter(line.text, line.name);
  if (found !== null) return { kind: "problem", problem: found };
  const fileName = `${safeFileName(line.name)}.yaml`;
  download(new Blob([strToU8(line.text) as Uint8Array<ArrayBuffer>], { type: "application/yaml" }), fileName);
  return { kind: "exported", fileName, problems: [] };
}

export type ExportResult =
  | { readonly kind: "exported"; readonly fileName: string; readonly problems: readonly Problem[] }
  | { readonly kind: "problem"; readonly problem: Problem };

/**
 * Hands out all lines as one ZIP file with a YAML file for each, since the command reads one scenario a file.
 * A line that has no bytes is left out and told in `problems`; the others come.
 *
 * @param now_ms the time for lines that have none, ms since 1970
 */
export function exportAll(lines: readonly Exported[], download: Download, now_ms: number): ExportResult {
  const problems = lines.map(({ name, text }) => halfCharacter(text, name));
  const sound = lines.filter((_, at) => problems[at] === null);
  const found = problems.filter((one) => one !== null);
  if (sound.length === 0) {
    const none = problem("nothing-to-export", "export", "There is no line to export.");
    return { kind: "problem", problem: found[0] ?? none };
  }
  const names = uniqueNames(sound.map(({ name }) => safeFileName(name)));
  const files = sound.map(({ text, changed_ms = now_ms }, at) => {
    const entry = [strToU8(text), { mtime: zipTime(changed_ms) }] as [Uint8Array, { mtime: Date }];
    return [`${names[at]}.yaml`, entry] as const;
  });
  const fileName = "railfault-lines.zip";
  const packed = zipSync(Object.fromEntries(files), { level: 6 });
  download(new Blob([packed as Uint8Array<ArrayBuffer>], { type: "application/zip" }), fileName);
  return { kind: "exported", fileName, problems: found };
}

// The format counts years from 1980 to 2107.
function zipTime(time_ms: number): Date {
  const year = new Date(time_ms).getFullYear();
  return year >= 1981 && year <= 2098 ? new Date(time_ms) : new Date(2000, 0, 1);
}

function tooLarge(where: string, bytes: number): Problem {
  return problem("file-too-large", where, "The file is too large to be a scenario.", {
    received: sizeText(bytes),
    allowed: "up to 256 KB",
  });
}

function nameFromFile(fileName: string): string {
  const bare = fileName.slice(0, 1000).replace(/\.(?:ya?ml|txt)$/i, "");
  const visible = bare
    .replace(/[\p{Cc}\p{Cf}\p{Cs}\p{Zl}\p{Zp}]/gu, "")
    .normalize("NFC")
    .trim();
  const named = tidyName(Array.from(visible).slice(0, LONGEST_NAME).join(""));
  return named.kind === "name" ? named.name : "line";
}
