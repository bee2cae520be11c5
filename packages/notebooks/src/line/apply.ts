import { changeTexts, FitMemory, InvalidInput, type Issue } from "@railfault/sim";
import type { Change } from "../kept/state.ts";

/**
 * A text with changes applied one after the other; a change that the text cannot take is left out and told.
 * `taken` are the changes that stand in the text.
 *
 * @param memory of earlier readings, where one line is changed again and again
 *
 * @example applyChanges("ambient: 20 °C\n", [[["ambient"], "35 °C"]]).text // "ambient: 35 °C\n"
 */
export function applyChanges(
  text: string,
  changes: readonly Change[],
  memory = new FitMemory(),
): { readonly text: string; readonly taken: readonly Change[]; readonly refused: readonly Issue[] } {
  if (changes.length === 0) return { text, taken: [], refused: [] };
  const refused: Issue[] = [];
  const left = new Set<Change>();
  try {
    const changed = changeTexts(
      text,
      changes,
      (change, issues) => {
        left.add(change);
        refused.push(...issues);
      },
      memory.texts,
    );
    return { text: changed, taken: changes.filter((change) => !left.has(change)), refused };
  } catch (error) {
    if (!(error instanceof InvalidInput)) throw error;
    // A text that cannot be read takes no change at all, and one reading says why.
    return { text, taken: [], refused: error.issues };
  }
}
