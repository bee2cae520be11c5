// Sheets of paper, loaded when somebody asks for one.
import { cardHtml, type Issue, resetHtml, resetSheet } from "@railfault/sim";
import { handoutHtml } from "@railfault/sim/figures";
import { askCard } from "../../run/card.ts";
import type { Answer } from "../../run/protocol.ts";

export type SheetName = "handout" | "card" | "reset";

/** A sheet as a page of its own, or why there is none. */
export type Sheet =
  | { readonly kind: "sheet"; readonly html: string }
  | { readonly kind: "refused"; readonly issues: readonly Issue[] };

/** Makes a sheet for a scenario that was run; the card's own runs are made in another thread. */
export async function makeSheet(name: SheetName, answer: Answer, text: string, file: string): Promise<Sheet> {
  if (name === "handout") return { kind: "sheet", html: handoutHtml(answer, { document }) };
  if (name === "reset") return { kind: "sheet", html: resetHtml(resetSheet(answer)) };
  const found = await askCard(text, file);
  return found.kind === "card" ? { kind: "sheet", html: cardHtml(found.card) } : found;
}
