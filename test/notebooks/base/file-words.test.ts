// Words of a scenario file as the editor colours them, told by the reader of such files.
import { expect, it } from "vitest";
import { shippedLines } from "../../../packages/notebooks/src/line/shipped.ts";
import { wordsOf } from "../../../packages/notebooks/src/pages/file/editor-words.ts";

const told = (text: string): string[] =>
  wordsOf(text).map(({ from, to, kind }) => `${kind} ${JSON.stringify(text.slice(from, to))}`);

it("keys, signs and comments are told apart; values are nothing special", () => {
  expect(told("title: Hut # ours\nlead: {length: 1.5 m, 'area': 4 mm2}\n")).toEqual([
    'key "title"',
    'sign ":"',
    'comment "# ours"',
    'key "lead"',
    'sign ":"',
    'sign "{"',
    'key "length"',
    'sign ":"',
    'sign ","',
    `key "'area'"`,
    'sign ":"',
    'sign "}"',
  ]);
});

it("a list, a text of several lines and a mark that is refused", () => {
  expect(told("loads:\r\n  - name: radio\r\n    note: |\r\n      a: b\r\n    part: !x y\r\n")).toEqual([
    'key "loads"',
    'sign ":"',
    'sign "-"',
    'key "name"',
    'sign ":"',
    'key "note"',
    'sign ":"',
    'sign "|"',
    'key "part"',
    'sign ":"',
    'mark "!x"',
  ]);
});

it.each(["{a: [", "a: 'open", ": : :", "\u0000\u0018 x", "\uFEFFa: 1", "", "- - ? b", "%YAML 1.1\n---\na: 1\n...\n"])(
  "%j: whatever is broken, places stay in the text, in their order and apart",
  (text) => {
    let end = 0;
    for (const { from, to } of wordsOf(text)) {
      expect(from).toBeGreaterThanOrEqual(end);
      expect(to).toBeGreaterThan(from);
      end = to;
    }
    expect(end).toBeLessThanOrEqual(text.length);
  },
);

it("every shipped file: each line that begins a key has its key", () => {
  for (const { text } of shippedLines) {
    const keys = new Set(
      wordsOf(text)
        .filter(({ kind }) => kind === "key")
        .map(({ from }) => from),
    );
    for (const { index } of text.matchAll(/^[a-z][a-z ]*(?=:)/gm)) expect(keys).toContain(index);
  }
});
