import { changeTexts, type FitMemory, parseScenario, type TextChange } from "../../scenario/index.ts";
import { pathText } from "../../scenario/keys.ts";
import { isPlainMap } from "../../scenario/text/written.ts";

/** What speaks of the line from outside: spreads and variants say nothing of a line with other parts, and may contradict it. */
const OUTSIDE = ["tolerances", "variants"] as const;

/** The text of a file that can be read, without what speaks of the line from outside. */
export function lineAlone(text: string, { texts }: FitMemory): string {
  return changeTexts(
    text,
    OUTSIDE.map((key): TextChange => [[key], null]),
    undefined,
    texts,
  );
}

/**
 * The whole file with changes, spreads and variants included; of these, what the changed line contradicts is left out.
 *
 * @param text of a file without errors
 * @returns the text, and what was left out: `tolerances: main fuse.cold resistance`
 */
export function fileWith(
  text: string,
  changes: readonly TextChange[],
): { readonly text: string; readonly leftOut: readonly string[] } {
  const changed = changeTexts(text, changes);
  const { written, issues } = parseScenario(changed, "changed");
  const wrong = new Set(issues.filter(({ severity }) => severity === "error").map(({ path }) => path));
  const spreads = isPlainMap(written) && isPlainMap(written.tolerances) ? Object.keys(written.tolerances) : [];
  const contradicted = spreads.filter((key) => wrong.has(pathText(["tolerances", key])));
  const variants = [...wrong].some((path) => path.startsWith("variants"));
  const all = contradicted.length > 0 && contradicted.length === spreads.length;
  const out = [
    ...(all ? [["tolerances"]] : contradicted.map((key) => ["tolerances", key])),
    ...(variants ? [["variants"]] : []),
  ];
  return {
    text: changeTexts(
      changed,
      out.map((path): TextChange => [path, null]),
    ),
    leftOut: [...contradicted.map((key) => `tolerances: ${key}`), ...(variants ? ["variants"] : [])],
  };
}
