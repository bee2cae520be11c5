import { changeText, InvalidInput, type Issue } from "@railfault/sim";
import type { Change } from "../kept/state.ts";

/**
 * A text with changes applied one after the other; a change that the text cannot take is left out and told.
 * `taken` are the changes that stand in the text.
 *
 * @example applyChanges("ambient: 20 °C\n", [[["ambient"], "35 °C"]]).text // "ambient: 35 °C\n"
 */
export function applyChanges(
  text: string,
  changes: readonly Change[],
): { readonly text: string; readonly taken: readonly Change[]; readonly refused: readonly Issue[] } {
  const refused: Issue[] = [];
  const taken: Change[] = [];
  let changed = text;
  for (const change of changes) {
    try {
      changed = changeText(changed, ...change);
      taken.push(change);
    } catch (error) {
      if (!(error instanceof InvalidInput)) throw error;
      refused.push(...error.issues);
    }
  }
  return { text: changed, taken, refused };
}
