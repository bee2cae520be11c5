import { type Answered, runScenario } from "../report/run-scenario.ts";
import { formatIssues } from "../scenario/index.ts";
import { benchCard } from "../study/talk/card.ts";
import { handoutHtml } from "../study/talk/handout.ts";
import { resetSheet } from "../study/talk/reset.ts";
import { cardHtml, resetHtml } from "../study/talk/sheets.ts";
import { renderCard, renderReset } from "../study/talk/text.ts";
import type { Terminal } from "./terminal.ts";
import { version } from "./version.ts";
import { type Target, writeOutput } from "./write-output.ts";

interface SheetRequest {
  readonly file: string;
  readonly text: string;
  readonly target: Target | null;
  readonly json: boolean;
}

const CARD_FORMAT = "railfault bench card 1";
const RESET_FORMAT = "railfault reset sheet 1";

/** Simulates, prints, writes; gives the exit status. */
export function cardAndTell({ file, text, target, json }: SheetRequest, terminal: Terminal): number {
  const found = benchCard(text, file);
  if (json) terminal.out(`${JSON.stringify({ format: CARD_FORMAT, version: version(), file, ...found }, null, 2)}\n`);
  if (found.kind === "refused") {
    terminal.sayText(formatIssues(found.issues));
    return 2;
  }
  if (!json) terminal.out(renderCard(found.card, terminal));
  if (target !== null) write(target, cardHtml(found.card), terminal);
  return 0;
}

/** Runs, prints, writes; gives the exit status. */
export function resetAndTell({ file, text, target, json }: SheetRequest, terminal: Terminal): number {
  const result = runScenario(text, file);
  if (result.kind === "refused") {
    if (json)
      terminal.out(`${JSON.stringify({ format: RESET_FORMAT, version: version(), file, ...result }, null, 2)}\n`);
    terminal.sayText(formatIssues(result.issues));
    return 2;
  }
  const sheet = resetSheet(result);
  if (json)
    terminal.out(
      `${JSON.stringify({ format: RESET_FORMAT, version: version(), file, kind: "sheet", sheet }, null, 2)}\n`,
    );
  else terminal.out(renderReset(sheet, terminal));
  if (target !== null) write(target, resetHtml(sheet), terminal);
  return statusOf(result);
}

/** Runs and writes; gives the exit status. */
export async function handoutAndTell(
  { file, text, target }: Omit<SheetRequest, "json" | "target"> & { readonly target: Target },
  terminal: Terminal,
): Promise<number> {
  const result = runScenario(text, file);
  if (result.kind === "refused") {
    terminal.sayText(formatIssues(result.issues));
    return 2;
  }
  const { JSDOM } = await import("jsdom");
  write(target, handoutHtml(result, { document: new JSDOM("").window.document }), terminal);
  return statusOf(result);
}

const statusOf = ({ verdict }: Answered): number => (verdict.kind === "verdict" ? 0 : 3);

function write(target: Target, text: string, terminal: Terminal): void {
  writeOutput(target, [text]);
  terminal.say(`${target.option}: ${target.path} written`);
}
