import { FitMemory } from "@railfault/sim";
import type { Change } from "../kept/state.ts";
import { applyChanges } from "./apply.ts";

/**
 * A text with changes, as pages run it that take no notice of how values scatter: without its `tolerances`. A value that a slider moves out of
 * its spread, or a part that makes room for another, would contradict them.
 *
 * @param memory of earlier readings, where one line is changed again and again
 * @returns the text with the changes it can take, and what it could not take
 * @example textForRun("ambient: 20 °C\ntolerances: {ambient: 15 °C to 25 °C}\n", [[["ambient"], "35 °C"]]).text // "ambient: 35 °C\n"
 */
export function textForRun(text: string, changes: readonly Change[], memory = new FitMemory()) {
  const { text: changed, refused } = applyChanges(text, changes, memory);
  return { text: withoutSpreads(changed, memory), refused };
}

/** The text without its `tolerances`; as it is where it cannot be read, which whoever reads it will tell. */
export function withoutSpreads(text: string, memory?: FitMemory): string {
  return text.includes("tolerances") ? applyChanges(text, [[["tolerances"], null]], memory).text : text;
}
