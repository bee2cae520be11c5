import { variantLines } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedText, withVariants } from "../study/compare/lines.ts";

const BASE = "01-shorted-pass-transistor";

/** What is wrong with the variants of the shipped line: path, sentence and what is allowed. */
function wrong(variants: string, base = shippedText(BASE)): string[] {
  const text = base === shippedText(BASE) ? withVariants(BASE, variants) : `${base}variants:\n${variants}`;
  return variantLines(text, "hut.yaml")
    .issues.filter(({ severity }) => severity === "error")
    .map(({ path, message, allowed }) => `${path}: ${message}${allowed === null ? "" : ` (${allowed})`}`);
}

describe("what is wrong with a variant stands at its place, all of it at once", () => {
  test.each<[what: string, variants: string, told: readonly string[]]>([
    [
      "two schemes in short form",
      "  - relay\n  - relay\n",
      ["variants[1]: The name `relay` is already that of variants[0]. (a name that no other variant has)"],
    ],
    [
      "two schemes as maps, told apart by nothing but their spelling",
      "  - {scheme: relay}\n  - {name: ' Relay '}\n",
      ["variants[1].name: The name ` Relay ` is already that of variants[0]. (a name that no other variant has)"],
    ],
    [
      "a scheme's word as another one's name",
      "  - {name: relay, crowbar: none}\n  - {scheme: relay}\n",
      ["variants[1].scheme: The name `relay` is already that of variants[0]. (a name that no other variant has)"],
    ],
    [
      "the name of the line itself",
      "  - {name: As it  stands, crowbar: none}\n",
      [
        "variants[0].name: The name `As it  stands` is already that of the line itself. (a name that no other variant has)",
      ],
    ],
    [
      "a variant without a name",
      "  - {crowbar: none}\n",
      ["variants[0].name: This variant needs a name: the comparison speaks of it. (text of up to 80 characters)"],
    ],
    [
      "a source without a name",
      "  - {name: a, sources: [{esr: 10 mohm}]}\n",
      [
        "variants[0].sources[0].name: This source needs a name: a variant changes the source of that name, or adds one. (station supply, or a new name)",
      ],
    ],
    [
      "one load twice",
      "  - {name: a, loads: [{name: relay radio, esr: 10 mohm}, {name: relay radio, esr: 20 mohm}]}\n",
      ["variants[0].loads[1].name: This variant speaks twice of `relay radio`."],
    ],
    [
      "a source that there is not is taken away",
      "  - {name: a, sources: [{name: station suply, part: none}]}\n",
      ["variants[0].sources[0].name: There is no source `station suply` to take away. (station supply)"],
    ],
    [
      "a source that is taken away and changed",
      "  - {name: a, sources: [{name: station supply, part: none, esr: 10 mohm}]}\n",
      ["variants[0].sources[0].esr: `esr` has no effect on a source that is taken away."],
    ],
    [
      "a fault of its own for a source of the line",
      "  - {name: a, sources: [{name: station supply, fault: none}]}\n",
      [
        "variants[0].sources[0].fault: A variant has no fault of its own: all meet the one of the line. (no `fault` here)",
      ],
    ],
  ])("%s", (_, variants, told) => {
    for (const each of told) expect(wrong(variants)).toContain(each);
  });
});
