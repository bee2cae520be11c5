import { readFileSync } from "node:fs";
import { join } from "node:path";
import { filesBelow, root } from "../ground/files.ts";

/** A fenced block: its language word and its lines. */
export interface Block {
  readonly language: string;
  readonly text: string;
  /** Line of the opening fence, from 1. */
  readonly line: number;
}

export interface Document {
  /** From the top of the checkout, with forward slashes. */
  readonly path: string;
  readonly text: string;
  readonly blocks: readonly Block[];
  /** The text without its fenced blocks. */
  readonly prose: string;
}

/** Every Markdown file of the checkout. */
export function readDocuments(): Document[] {
  const own = filesBelow(root, [".md"]).filter((path) => !path.split("/").some((part) => part.startsWith(".")));
  return own.map(readDocument);
}

export function readDocument(path: string): Document {
  return parseDocument(path, readFileSync(join(root, path), "utf8"));
}

export function parseDocument(path: string, text: string): Document {
  const blocks: Block[] = [];
  const prose: string[] = [];
  let open: { language: string; lines: string[]; line: number } | null = null;
  text.split("\n").forEach((line, index) => {
    const fence = /^```(\S*)/.exec(line);
    if (fence === null) (open?.lines ?? prose).push(line);
    else if (open === null) open = { language: fence[1] ?? "", lines: [], line: index + 1 };
    else {
      blocks.push({ language: open.language, text: `${open.lines.join("\n")}\n`, line: open.line });
      open = null;
    }
  });
  if (open !== null) throw new Error(`${path}: a fenced block is not closed`);
  return { path, text, blocks, prose: prose.join("\n") };
}

/** Targets of links and pictures in the prose. */
export function linksOf({ prose }: Pick<Document, "prose">): string[] {
  return [...prose.matchAll(/\]\(([^()\s]+)\)/g)].map((match) => match[1] ?? "");
}

/** Code spans in the prose. */
export function spansOf({ prose }: Pick<Document, "prose">): string[] {
  return [...prose.matchAll(/(?<!`)`([^`\n]+)`(?!`)/g)].map((match) => match[1] ?? "");
}

/** Anchors of the headings, as forges make them. */
export function anchorsOf({ prose }: Pick<Document, "prose">): string[] {
  return [...prose.matchAll(/^#{1,6} (.+)$/gm)].map((match) =>
    (match[1] ?? "")
      .toLowerCase()
      .replaceAll(/[^\p{L}\p{N}\s_-]/gu, "")
      .trim()
      .replaceAll(" ", "-"),
  );
}

/** Cells of every table row whose first line names these columns. */
export function tableRows({ prose }: Pick<Document, "prose">, ...columns: readonly string[]): string[][] {
  const lines = prose.split("\n");
  const head = `| ${columns.join(" | ")} |`;
  return lines.flatMap((line, at) => {
    if (line !== head) return [];
    const end = lines.findIndex((other, k) => k > at && !other.startsWith("|"));
    return lines.slice(at + 2, end < 0 ? undefined : end).map((row) =>
      row
        .split("|")
        .slice(1, -1)
        .map((cell) => cell.trim()),
    );
  });
}
