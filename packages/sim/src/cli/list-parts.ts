import { listValues } from "../report/parts-list.ts";
import { wrap } from "../report/text-wrap.ts";
import { parts as classes, findPart } from "../scenario/parts/index.ts";
import type { PartClass, PartKind } from "../scenario/parts/types.ts";
import { nearest } from "../units/index.ts";
import { type Arguments, UsageError } from "./command.ts";
import type { Terminal } from "./terminal.ts";

/** Prints the chosen classes; gives the exit status. */
export function listParts({ names, switches }: Arguments, terminal: Terminal): number {
  const chosen = select(names[0]);
  if (switches.has("json"))
    terminal.out(`${JSON.stringify(switches.has("names") ? chosen.map(({ name }) => name) : chosen, null, 2)}\n`);
  else terminal.out(`${textOf(chosen, switches.has("names"), terminal.width).join("\n")}\n`);
  return 0;
}

function kinds(): PartKind[] {
  return [...new Set(classes.map(({ kind }) => kind))];
}

function select(word: string | undefined): readonly PartClass[] {
  if (word === undefined) return classes;
  const folded = word.toLowerCase().trim();
  const named = kinds().map((kind) => findPart(kind, word));
  const found = classes.filter((part) => part.kind === folded || `${part.kind}s` === folded || named.includes(part));
  if (found.length > 0) return found;
  const near = nearest(word, [...kinds(), ...classes.map(({ name }) => name)]);
  const help =
    near === null ? `kinds are ${kinds().join(", ")}; see railfault parts --names.` : `did you mean "${near}"?`;
  throw new UsageError([`There is no kind or class "${word.slice(0, 60)}": ${help}`]);
}

function textOf(chosen: readonly PartClass[], namesOnly: boolean, width: number): string[] {
  const lines: string[] = [];
  let kind = "";
  for (const part of chosen) {
    if (part.kind !== kind) lines.push(...(kind === "" ? [] : [""]), part.kind.toUpperCase());
    kind = part.kind;
    const head = wrap(`${part.name}: ${part.about}`, width, "  ", "    ");
    lines.push(...(namesOnly ? [head] : ["", head, ...valueLines(part, width)]));
  }
  return lines;
}

function valueLines(part: PartClass, width: number): string[] {
  const values = listValues(part);
  const first = Math.max(...values.map(({ label }) => label.length));
  return values.map(({ label, value, mark, source }) => {
    const start = `    ${label.padEnd(first)}  `;
    return wrap(`${value} (${mark}: ${source})`, width, start, " ".repeat(start.length));
  });
}
