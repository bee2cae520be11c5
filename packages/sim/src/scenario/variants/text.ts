import { changeTexts } from "../text/change.ts";
import { asValue, isPlainMap } from "../text/written.ts";
import type { VariantLine } from "./types.ts";

/**
 * Plain data as text on one line, as it may stand in a file.
 *
 * @example flowText({ part: "SCR 55 A", "trip voltage": "15 V" }) // "{part: SCR 55 A, trip voltage: 15 V}"
 */
export function flowText(value: unknown): string {
  if (Array.isArray(value)) return `[${value.map(flowText).join(", ")}]`;
  if (isPlainMap(value))
    return `{${Object.entries(value)
      .map(([key, inner]) => `${asValue(key)}: ${flowText(inner)}`)
      .join(", ")}}`;
  return value === null || value === undefined ? "" : asValue(String(value));
}

/**
 * A variant as a scenario file of its own: the base file with the changes made in it, every other line and remark as it was, and without
 * its `variants` and `tolerances`.
 *
 * @param text of the base file
 * @param variant one that was read from it
 * @returns the text, which resolves to the very scenario of the variant
 * @throws InvalidInput where a change cannot be written into this file
 * @example writeFileSync("relay.yaml", variantText(text, variantLines(text, "hut.yaml").variants[0]))
 */
export function variantText(text: string, { changes, parsed }: VariantLine): string {
  return changeTexts(text, [
    [["variants"], null],
    [["tolerances"], null],
    ...changes.map(({ path, value }) => [path, value === undefined ? null : flowText(value)] as const),
    [["title"], asValue(parsed.about.title)],
  ]);
}
