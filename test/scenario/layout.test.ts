import { describe, expect, test } from "vitest";
import { parseScenario } from "../../packages/sim/src/scenario/index.ts";

const SOUND = `title: Hut
fault at: 20 ms
run for: 0.6 s
sources:
  - name: station supply
    part: linear supply 20 A
    fault: {kind: shorted pass transistor, pass resistance: 50 mohm}
    lead: {length: 1.5 m, area: 4 mm2}
main fuse: blade fuse 20 A
loads:
  - name: relay radio
    part: 100 W radio
    limits: {withstand: parts rated 16 V}
    lead: {length: 1 m, gauge: 12 AWG, spacing: 3.5 mm}
`;

const changed = (line: number, change: (text: string) => string): string =>
  SOUND.split("\n")
    .map((text, at) => (at === line - 1 ? change(text) : text))
    .join("\n");

const told = (text: string): string[] =>
  parseScenario(text, "hut.yaml").issues.map(
    ({ position, message, hint }) => `${position?.line}:${position?.column} ${message} → ${hint}`,
  );

const right = (text: string) => ` ${text}`;
const left = (text: string) => text.slice(1);

describe("a slip of layout is told once, with its place and what mends it", () => {
  test("the text without it is sound", () => {
    expect(parseScenario(SOUND, "hut.yaml").issues).toEqual([]);
  });

  test.each<[string, string, readonly string[]]>([
    [
      "too far left",
      changed(6, left),
      ["6:4 Line 6 begins one column further left than its neighbours. → move it to column 5"],
    ],
    [
      "too far right",
      changed(3, right),
      ["3:2 Line 3 begins one column further right than its neighbours. → move it to column 1"],
    ],
    [
      "the first of all lines",
      changed(1, right),
      ["1:2 Line 1 begins one column further right than its neighbours. → move it to column 1"],
    ],
    [
      "an entry, not what belongs to it",
      changed(5, right),
      ["5:4 Line 5 begins one column further right than its neighbours. → move it to column 3"],
    ],
    [
      "no blank behind a colon",
      changed(3, () => "run for:0.6 s"),
      ["3:8 The colon behind a key needs a blank behind it. → write `run for: 0.6 s`"],
    ],
    [
      "no blank behind a dash",
      changed(11, () => "  -name: relay radio"),
      ["11:3 A dash that begins an entry of a list needs a blank behind it. → write `- name: relay radio`"],
    ],
    [
      "no colon",
      changed(9, () => "main fuse blade fuse 20 A"),
      [
        "9:1 No colon stands in this line, so that no key can be told from its value. → write the key, a colon, a blank and the value",
      ],
    ],
    [
      "a brace that stays open",
      changed(8, (text) => text.replace("}", "")),
      ["8:11 A brace is opened here and never closed. → put `}` where it ends"],
    ],
    [
      "a brace whose end stands behind a #, before a number",
      changed(8, (text) => text.replace(/[^,{]*mm2\}/, " gauge: #14}")),
      [
        "8:11 A brace is opened here and never closed. → put `}` where it ends, before the #: it begins a comment (a gauge is written as 14 AWG)",
      ],
    ],
    [
      "a brace whose end stands behind a #, before words",
      changed(8, (text) => text.replace("}", " # (thick}")),
      [
        "8:11 A brace is opened here and never closed. → put `}` where it ends, before the #: it begins a comment (a gauge is written as 14 AWG)",
      ],
    ],
    [
      "a brace that stays open before a remark of its own",
      changed(8, (text) => text.replace("}", " # thick")),
      ["8:11 A brace is opened here and never closed. → put `}` where it ends"],
    ],
    [
      "a colon in a text",
      changed(1, () => "title: Hut: old"),
      [
        '1:8 A text that holds a colon and a blank looks like a key with its value. → put the text into quotes: `"Hut: old"`; a further key needs a line of its own',
      ],
    ],
  ])("%s", (_, text, expected) => {
    expect(told(text)).toEqual(expected);
  });

  test("several are told together", () => {
    const text = changed(3, () => "run for:0.6 s").replace("    part: 100 W radio", "      part: 100 W radio");
    expect(told(text).map((each) => each.slice(0, 37))).toEqual([
      "3:8 The colon behind a key needs a bl",
      "12:7 Line 12 begins 2 columns further",
    ]);
  });

  test("with Windows line ends too", () => {
    expect(told(changed(6, left).replaceAll("\n", "\r\n"))).toEqual(told(changed(6, left)));
  });

  test("whatever is wrong is told, in plain words, at a place", () => {
    const lines = SOUND.split("\n").slice(0, -1);
    for (const [at] of lines.entries()) {
      for (const change of [
        left,
        right,
        (line: string) => line.replace(": ", ":"),
        (line: string) => line.replace(": ", " "),
        (line: string) => `${line} }`,
        (line: string) => `${line}"`,
        (line: string) => `"${line}`,
      ]) {
        const text = changed(at + 1, change);
        const { scenario, issues } = parseScenario(text, "hut.yaml");
        if (scenario !== null) continue;
        expect(issues.length, text).toBeGreaterThan(0);
        for (const { message, position } of issues) {
          expect(position, text).not.toBeNull();
          expect(message, text).not.toMatch(/sequence|mapping|implicit|indicator|token|scalar|flow|node/i);
        }
      }
    }
  });

  test("a text with four times as many crooked lines takes about four times as long", () => {
    const seconds = (count: number): number => {
      const text = "a: 1\n b: 2\n".repeat(count);
      const begin = performance.now();
      expect(parseScenario(text, "crooked.yaml").issues).toHaveLength(50);
      return performance.now() - begin;
    };
    const fastest = (count: number): number => Math.min(...Array.from({ length: 3 }, () => seconds(count)));
    // What looks back at all lines before for each would take sixteen times as long.
    expect(fastest(6000) / fastest(1500)).toBeLessThan(8);
  });
});

describe("names", () => {
  test("a mark that turns the reading direction is refused where it is spelled out, too", () => {
    const text = changed(11, () => '  - name: "relay\\u202e radio"');
    const [issue] = parseScenario(text, "hut.yaml").issues;
    expect([issue.code, issue.received, issue.position?.line]).toEqual(["bidi-character", "U+202E", 11]);
  });

  test("more than 80 characters are refused", () => {
    const named = (count: number) =>
      parseScenario(
        changed(11, () => `  - name: ${"a".repeat(count)}`),
        "hut.yaml",
      ).issues;
    expect(named(80)).toEqual([]);
    expect(named(81)).toMatchObject([
      {
        code: "too-long",
        message: "This text is too long.",
        received: "81 characters",
        allowed: "up to 80 characters",
      },
    ]);
  });

  test("letters of any script are welcome", () => {
    expect(
      parseScenario(
        changed(11, () => "  - name: רדיו"),
        "hut.yaml",
      ).issues,
    ).toEqual([]);
  });
});
