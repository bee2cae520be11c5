import { changeTexts, type ScenarioResult } from "@railfault/sim";
import type { Change } from "../kept/state.ts";

const KEY = "tolerances";

/**
 * A changed text whose spreads the change left behind: a part was taken away, or its value has left the range in which it was to be. One run takes no
 * notice of spreads, so none of them may stand in the way of it; what does not fit any more goes with the change.
 *
 * @param text the changed text
 * @param parse reads a text
 * @returns the text without those spreads, how it reads, and their paths; everything as it came where something else is wrong, too
 * @example withoutLostSpreads(text, parse).lost // ["crowbar.trip voltage"]
 */
export function withoutLostSpreads(
  text: string,
  parse: (text: string) => ScenarioResult,
): { readonly text: string; readonly parsed: ScenarioResult; readonly lost: readonly string[] } {
  const parsed = parse(text);
  const asItCame = { text, parsed, lost: [] };
  if (parsed.scenario !== null) return asItCame;
  const paths = parsed.issues.filter(({ severity }) => severity === "error").map(({ path }) => path);
  if (!paths.every((path) => path.startsWith(`${KEY}.`))) return asItCame;
  const lost = [...new Set(paths)].map((path) => path.slice(KEY.length + 1));
  const each = lost.map((path): Change => [[KEY, path], null]);
  for (const changes of [each, [[[KEY], null]] satisfies Change[]]) {
    const rest = changeTexts(text, changes, () => {});
    const again = parse(rest);
    if (again.scenario !== null) return { text: rest, parsed: again, lost };
  }
  return asItCame;
}
