import { parseScenario, partNames } from "@railfault/sim";
import { describe, expect, test } from "vitest";
import { shippedLines } from "../../../packages/notebooks/src/line/shipped.ts";
import { FormatHelp } from "../../../packages/notebooks/src/pages/file/keys-here.ts";
import { placeAt } from "../../../packages/notebooks/src/pages/file/place-at.ts";

/** A text with a bar where the cursor stands. */
const placed = (text: string) => placeAt(text.replace("|", ""), text.indexOf("|"));

describe("where the cursor stands", () => {
  test.each<[string, string, readonly (string | number)[], string | null]>([
    ["in an empty text", "|", [], null],
    ["in a key", "ti|tle: x\n", [], "title"],
    ["in a comment", "# any|thing: at all\n", [], null],
    ["below a map, moved in", "crowbar:\n  trip voltage: 15 V\n  |", ["crowbar"], null],
    ["below a map, at the margin", "crowbar:\n  trip voltage: 15 V\n|", [], null],
    ["in an entry of a list", "sources:\n  - name: a\n  - part: b\n    |", ["sources", 1], null],
    ["right behind a dash", "sources:\n  - name: a\n  - |", ["sources", 1], null],
    ["in a list at the margin", "sources:\n- name: a\n- na|me: b\nloads:\n", ["sources", 1], "name"],
    ["below a dash of its own line", "loads:\n  -\n    name: |x", ["loads", 0], "name"],
    ["after a deeper map has ended", "sources:\n  - fault:\n      kind: x\n    |", ["sources", 0], null],
    ["in braces, in a value", "crowbar: {part: SCR| 55 A}", ["crowbar"], "part"],
    ["in braces, in a key", "crowbar: {part: SCR 55 A, trip vol|tage: 15 V}", ["crowbar"], "trip voltage"],
    ["in braces, between keys", "crowbar: {part: SCR 55 A, |}", ["crowbar"], null],
    ["behind braces", "crowbar: {part: SCR 55 A}|", [], "crowbar"],
    ["in braces over several lines", "x: {a: 1,\n  b: 2, |\n}", ["x"], null],
    ["in braces in brackets", "a: {b: [{c: 1}, {d: |}]}", ["a", "b", 1], "d"],
    ["behind a brace in quotes", 'a: {b: "}", c: |}', ["a"], "c"],
    ["in a bracket that is never closed", "a: {b: {c: |\n", ["a", "b"], "c"],
  ])("%s", (_, text, map, key) => {
    expect(placed(text)).toEqual({ map, key });
  });

  test("every key of every shipped file: it stands there, and the format knows it", () => {
    const format = new FormatHelp();
    let seen = 0;
    for (const { name, text } of shippedLines) {
      const { written } = parseScenario(text, name);
      for (const { index } of text.matchAll(/(?<=^ *(?:- )?|[{,] ?)[a-z][\w ]*(?=: )/gim)) {
        const lineStart = text.lastIndexOf("\n", index) + 1;
        if (text[lineStart] === "#") continue;
        const { map, key } = placeAt(text, index + 1);
        const told = `${name}: ${text.slice(index, index + 20)}`;
        expect(key, told).not.toBeNull();
        const inside = map.reduce<unknown>(
          (value, step) => (value as Record<string | number, unknown>)?.[step],
          written,
        );
        expect(inside, told).toHaveProperty([key ?? ""]);
        seen += 1;
        // Its keys are paths of values; the format knows what they lead to.
        if (map[0] === "tolerances") continue;
        expect(
          format.keysAt(map).map((each) => each.key),
          told,
        ).toContain(key);
      }
    }
    expect(seen).toBeGreaterThan(500);
  });

  test("in a text of 256 KB it takes a moment only", () => {
    const text = `${"# comment\n".repeat(12_000)}${"a: {b: 1}\n".repeat(12_000)}`;
    const begin = performance.now();
    expect(placeAt(text, text.length).map).toEqual([]);
    expect(performance.now() - begin).toBeLessThan(500);
  });
});

describe("keys that may be used", () => {
  const format = new FormatHelp();
  const helpFor = (map: readonly (string | number)[], key: string) =>
    format.keysAt(map).find((each) => each.key === key);

  test("come with meaning, words, names and examples", () => {
    expect(helpFor([], "run for")).toMatchObject({ required: true, holds: "value", allowed: [] });
    expect(helpFor([], "run for")?.example).toMatch(/ ms$/);
    expect(helpFor([], "sources")).toMatchObject({ required: true, holds: "list" });
    expect(helpFor([], "main fuse")?.allowed).toEqual(expect.arrayContaining(partNames("fuse")));
    expect(helpFor(["loads", 3], "part")?.allowed).toEqual(partNames("load"));
    expect(helpFor(["sources", 0], "part")?.allowed).toEqual(expect.arrayContaining(partNames("battery")));
    expect(helpFor(["sources", 0, "fault"], "kind")?.allowed).toContain("lost feedback");
    expect(helpFor(["crowbar"], "trip voltage")?.about).not.toBe("");
  });

  test("none where no map may stand, whatever the path says", () => {
    for (const path of [["title"], ["nonsense"], ["constructor"], ["__proto__", "x"], ["sources"], [0]])
      expect(format.keysAt(path)).toEqual([]);
  });
});
