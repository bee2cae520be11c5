import { existsSync } from "node:fs";
import { dirname, join, posix } from "node:path";
import { commands } from "../../packages/sim/src/cli/commands.ts";
import { root } from "../ground/files.ts";
import { anchorsOf, type Document, linksOf, readDocument, spansOf } from "./markdown.ts";

/** Relative links that lead nowhere, as `target` or `target: no such heading`. */
export function brokenLinks(document: Document): string[] {
  return linksOf(document).flatMap((link) => {
    if (/^[a-z]+:/.test(link)) return [];
    const [target = "", anchor] = link.split("#");
    const path = target === "" ? document.path : posix.normalize(posix.join(posix.dirname(document.path), target));
    if (path.startsWith("..") || !existsSync(join(root, path))) return [link];
    if (anchor === undefined || !path.endsWith(".md")) return [];
    const there = target === "" ? document : readDocument(path);
    return anchorsOf(there).includes(anchor) ? [] : [`${link}: no such heading`];
  });
}

/** Shell lines of a document: those of its shell blocks, and its code spans. */
function commandLines(document: Document): string[] {
  const blocks = document.blocks.filter(({ language }) => language === "sh").flatMap(({ text }) => text.split("\n"));
  return [...blocks, ...spansOf(document)].map((line) => line.replace(/\s#.*$/, "").trim());
}

/** Commands and options that the project does not have. `scripts` are the names in package.json. */
export function unknownCommands(document: Document, scripts: readonly string[]): string[] {
  return commandLines(document).flatMap((line) => {
    const script = /^npm (?:run (?:-s )?)?([\w:-]+)/.exec(line)?.[1];
    if (script !== undefined && !scripts.includes(script) && !["install", "pack"].includes(script)) return [line];
    const call = /(?:^railfault|^npm run -s railfault --) +(.+)$/.exec(line)?.[1];
    return call === undefined || !/^[a-z-]/.test(call) ? [] : wrongCall(call).map((problem) => `${line}: ${problem}`);
  });
}

const general = ["--help", "-h", "--version", "-V"];

function wrongCall(call: string): string[] {
  const words = call.split(/\s+/);
  const [name = ""] = words;
  if (general.includes(name) || name === "…" || name === "help") return [];
  const command = commands.find((each) => each.name === name);
  if (command === undefined) return [`there is no command ${name}`];
  const known = [...general, ...command.options.map((option) => `--${option.name}`)];
  return words
    .filter((word) => /^--?[a-z]/.test(word))
    .map((word) => word.replace(/=.*$/, ""))
    .filter((word) => !known.includes(word))
    .map((word) => `${name} has no option ${word}`);
}

/** Where a path in a code span may begin. */
const bases = ["", "packages/sim", "packages/sim/src", "packages/notebooks", "packages/notebooks/src"];

/** Code spans that look like files or folders of the checkout and are none. */
export function missingFiles(document: Document): string[] {
  return spansOf(document).filter((span) => {
    const looksLike = /^[\w.@-]+(?:\/[\w.@-]+)*(?:\/|\.(?:ts|mjs|md|yaml|json|txt))$/.test(span);
    const local = !span.includes("/") && !/^(?:README|DEVELOPERS|CHANGELOG)\.md$|^package\.json$/.test(span);
    if (!looksLike || local || /^(?:out|node_modules)\//.test(span)) return false;
    return ![dirname(document.path), ...bases].some((base) => existsSync(join(root, base, span)));
  });
}
