import { describe, expect, test } from "vitest";
import {
  formatIssues,
  parseScenario,
  resolveScenario,
  type ScenarioText,
} from "../../packages/sim/src/scenario/index.ts";

const levels = (count: number, text: (level: number) => string): string =>
  Array.from({ length: count }, (_, level) => text(level)).join("");

describe("texts that are refused before parsing", () => {
  test.each<[string, string, string]>([
    ["more than 256 KB", `title: ${"x".repeat(256 * 1024)}`, "too-large"],
    ["more than 256 KB of two-byte characters", `title: ${"µ".repeat(130 * 1024)}`, "too-large"],
    ["20 000 brackets", "[".repeat(20_000), "too-deep"],
    ["a quarter of a million quotes", '"'.repeat(250_000), "too-much"],
    ["50 000 keys", "a: 1\n".repeat(50_000), "too-much"],
    ["40 000 keys in braces", `a: {${"b: 1, ".repeat(40_000)}}`, "too-much"],
    ["125 000 remarks", "#\n".repeat(125_000), "too-many-remarks"],
    ["250 000 blank lines", "\n".repeat(250_000), "too-many-remarks"],
    ["blank lines of another system", "\r\n".repeat(100_000), "too-many-remarks"],
    ["33 brackets", `a: ${"[".repeat(33)}${"]".repeat(33)}`, "too-deep"],
    ["brackets behind quoted brackets", '["]",'.repeat(20_000), "too-deep"],
    ["braces", "{a: ".repeat(20_000), "too-deep"],
    ["indented maps", levels(40, (level) => `${" ".repeat(level)}a:\n`), "too-deep"],
    ["lists on one line", `${"- ".repeat(100)}x`, "too-deep"],
    ["questions on one line", `${"? ".repeat(100)}x`, "too-deep"],
    ["lists of maps", levels(200, (level) => `${" ".repeat(2 * level)}- a:\n`), "too-deep"],
    ["an alias bomb", "a: &a [x, x]\nb: &b [*a, *a]\nc: &c [*b, *b]\nd: [*c, *c]\n", "anchor"],
    ["a merge key", "<<: {title: x}\n", "merge-key"],
    ["a tag", "title: !!js/function x\n", "tag"],
    ["a directive", "%YAML 1.1\n---\ntitle: x\n", "directive"],
    ["two documents", "title: a\n---\ntitle: b\n", "multiple-documents"],
    ["NUL", "title: a\u0000b\n", "control-character"],
    ["escape", "title: \u001b[2J\n", "control-character"],
    ["right-to-left override", "title: a\u202eb\n", "bidi-character"],
    ["isolate", "title: a\u2066b\n", "bidi-character"],
    ["zero-width space", "title: a\u200bb\n", "control-character"],
    ["byte order mark inside", "title: a\ufeffb\n", "control-character"],
  ])("%s", (_, text, code) => {
    const started = performance.now();
    const { scenario, issues } = parseScenario(text, "hostile.yaml");
    expect(scenario).toBeNull();
    expect(issues[0].code).toBe(code);
    expect(issues[0].position).not.toBeNull();
    // A refusal costs about a pass over the text; a parse of these would take minutes or end the process.
    expect(performance.now() - started).toBeLessThan(2000);
  });

  test("remarks are allowed up to a number, and what is beyond it is told with its place", () => {
    const { issues } = parseScenario(`ambient: 20 °C${"\n# x".repeat(10_000)}`, "long.yaml");
    expect(issues.map(({ code }) => code)).not.toContain("too-many-remarks");
    const [issue] = parseScenario(`ambient: 20 °C${"\n# x".repeat(20_000)}`, "long.yaml").issues;
    expect(issue).toMatchObject({
      allowed: "up to 10000 lines of remarks or of nothing",
      position: { line: 10_002, excerpt: "# x" },
    });
  });

  test("the place of a control character is exact", () => {
    const { issues } = parseScenario("title: x\nquestion: a\u202eb\u0007\n", "hostile.yaml");
    expect(issues.map(({ code, position, received }) => [code, position?.line, position?.column, received])).toEqual([
      ["bidi-character", 2, 12, "U+202E"],
      ["control-character", 2, 14, "U+0007"],
    ]);
  });
});

describe("texts that are not scenarios", () => {
  test.each<[string, string, string]>([
    ["nothing", "", "not-a-map"],
    ["only a comment", "# hut\n", "not-a-map"],
    ["a word", "hello", "not-a-map"],
    ["a list", "- a\n", "not-a-map"],
    ["an open bracket", "a: [1, 2\n", "yaml-syntax"],
    ["an open quote", 'a: "x\n', "yaml-syntax"],
    ["indentation by tabs", "a:\n\t- b\n", "yaml-syntax"],
    ["two values", "a: 1\n  b: 2\n", "yaml-syntax"],
    ["a map as a key", "? {a: b}\n: c\n", "unreadable-key"],
    ["a list as a key", "? [a, b]\n: c\n", "unreadable-key"],
    ["no key", ": x\n", "unreadable-key"],
  ])("%s", (_, text, code) => {
    const { scenario, issues } = parseScenario(text, "no.yaml");
    expect(scenario).toBeNull();
    expect(issues.map((issue) => issue.code)).toContain(code);
  });

  test("a tab is told once, with what helps, and not what it makes of the rest", () => {
    const { issues } = parseScenario("loads:\n  - name: radio\n\tlimits: strict\n  - name: lamp\n", "tab.yaml");
    expect(issues.map(({ code, hint }) => [code, hint])).toEqual([
      ["yaml-syntax", "indent with blanks, two for each level"],
    ]);
  });

  test("a title with a colon is told to take quotes", () => {
    expect(parseScenario("title: hut: relay\n", "no.yaml").issues[0]?.hint).toContain("quotes");
  });

  test("a byte order mark at the start, Windows line ends and one document mark are harmless", () => {
    const { issues } = parseScenario("\ufeff---\r\ntitle: x\r\nrun for: 1 s\r\nfault at: 0 s\r\n", "windows.yaml");
    expect(issues.map(({ code, path }) => `${code} ${path}`)).toEqual(["missing sources", "missing loads"]);
  });
});

describe("names of the machine", () => {
  test("__proto__ and constructor are only keys that do not exist", () => {
    const { issues } = parseScenario("__proto__: {ambient: 300 °C}\nconstructor: x\n", "proto.yaml");
    expect(issues.filter(({ code }) => code === "unknown-key").map(({ path }) => path)).toEqual([
      "__proto__",
      "constructor",
    ]);
    expect(({} as Record<string, unknown>).ambient).toBeUndefined();
  });

  test.each([
    null,
    undefined,
    3,
    "x",
    [],
    [[]],
    () => 1,
    { sources: 3 },
    { sources: [null], loads: [[]] },
    { sources: [{ fault: 3, lead: [] }], loads: [{}] },
  ])("data that is no scenario gives problems, never an exception: %j", (data) => {
    const { scenario, issues } = resolveScenario(data as unknown as ScenarioText);
    expect(scenario).toBeNull();
    expect(issues.length).toBeGreaterThan(0);
  });
});

describe("what a file calls things stands in one line of the verdict", () => {
  const base =
    "title: x\nfault at: 1 ms\nrun for: 1 s\nsources:\n  - {name: s, part: linear supply 20 A, fault: none, lead: {length: 1 m, area: 4 mm2}}\nloads:\n  - {name: l, part: 100 W radio, lead: {length: 1 m, area: 4 mm2}}\n";
  const codes = (text: string) => parseScenario(text, "hut.yaml").issues.map(({ code, path }) => `${code} ${path}`);

  test.each([
    ["a line of its own in a name", "name: l,", 'name: "l\\nAll is well", ', "not-one-line loads[0].name"],
    ["a way back to the beginning of the line", "name: s,", 'name: "s\\rSAFE", ', "not-one-line sources[0].name"],
    ["a tab in a title", "title: x", 'title: "x\\ty"', "not-one-line title"],
    ["a title of two lines", "title: x", "title: |\n  x\n  y", "not-one-line title"],
    ["a title without an end", "title: x", `title: ${"x".repeat(121)}`, "too-long title"],
    ["half of a character", "title: x", 'title: "\\ud800"', "control-character "],
    ["what no file of a picture can hold", "title: x", 'title: "\\uffff"', "control-character "],
    ["letters without a look", "title: x", "title: x\u{e0041}", "control-character "],
    ["a hyphen that is not seen", "title: x", "title: ra\u00addio", "control-character "],
  ])("%s", (_, old, hostile, told) => {
    expect(base).toContain(old);
    expect(codes(base.replace(old, hostile))).toContain(told);
  });

  test("the data of a program, too", () => {
    const data = { title: "x\u001b[2J", "fault at": "1 ms", "run for": "1 s", sources: [], loads: [] };
    expect(resolveScenario(data).issues.map(({ code, path }) => `${code} ${path}`)).toContain("not-one-line title");
  });

  test("a title whose line ends in the way that YAML writes long ones is one line", () => {
    expect(codes(base.replace("title: x", "title: >\n  relay\n  hut"))).toEqual(["nothing-happens sources"]);
    expect(parseScenario(base.replace("title: x", "title: >\n  relay\n  hut"), "hut.yaml").about.title).toBe(
      "relay hut",
    );
  });
});

test("what comes back of a hostile file stays small, and its carets stand under what they mean", () => {
  const wide = parseScenario(
    `{${Array.from({ length: 6000 }, (_, k) => `k${k}: 1`).join(", ")}${" ".repeat(150_000)}}`,
    "wide.yaml",
  );
  expect(wide.issues).toHaveLength(200);
  expect(JSON.stringify(wide.issues).length).toBeLessThan(500_000);
  for (const { position, received } of wide.issues) {
    const { excerpt = "", column = 0, length = 0, excerptFrom = 1 } = position ?? {};
    expect(excerpt.slice(column - excerptFrom).slice(0, length)).toBe(received);
  }
  const long = parseScenario(`ambient: 20 ${"m".repeat(200_000)}\n`, "long.yaml");
  expect(JSON.stringify(long.issues).length).toBeLessThan(10_000);
  expect(formatIssues(long.issues).length).toBeLessThan(5000);
});

test("thousands of problems are cut, a line of 200 000 characters is printed short", () => {
  const many = parseScenario(Array.from({ length: 20_000 }, (_, index) => `k${index}: 1`).join("\n"), "many.yaml");
  expect(many.issues.length).toBeLessThanOrEqual(200);
  const wide = parseScenario(`sources: [${"x".repeat(200_000)}]`, "wide.yaml");
  expect(formatIssues(wide.issues).length).toBeLessThan(10_000);
});

test("no character of the input reaches a terminal as a control", () => {
  const printed = formatIssues(parseScenario("title: a\u001b[31m\u202eb\n", "esc\u001b.yaml").issues);
  expect([...printed].filter((character) => character !== "\n" && character < " ")).toEqual([]);
  expect(printed).not.toContain("\u202e");
});

test("a seeded storm of damaged files never throws and always says why", () => {
  const base =
    "title: x\nfault at: 1 ms\nrun for: 1 s\nsources:\n  - {name: s, part: linear supply 20 A, fault: none, lead: {length: 1 m, area: 4 mm2}}\nloads:\n  - {name: l, part: 100 W radio, lead: {length: 1 m, area: 4 mm2}}\n";
  expect(parseScenario(base, "base.yaml").scenario).not.toBeNull();
  let seed = 7;
  const random = (below: number): number => {
    seed = (Math.imul(seed, 1_664_525) + 1_013_904_223) >>> 0;
    return Math.floor((seed / 2 ** 32) * below);
  };
  const pieces = [
    "{",
    "}",
    "[",
    "]",
    ":",
    "-",
    ",",
    "\n",
    "  ",
    "&a",
    "*a",
    "!",
    "%",
    "'",
    '"',
    "|",
    ">",
    "?",
    "0",
    "e",
    "none",
    "part",
    "µ",
    "\u0000",
  ];
  let refused = 0;
  for (let round = 0; round < 1500; round += 1) {
    let text = base;
    for (let hits = 1 + random(3); hits > 0; hits -= 1) {
      const at = random(text.length);
      text = text.slice(0, at) + pieces[random(pieces.length)] + text.slice(at + random(4));
    }
    const { scenario, issues } = parseScenario(text, "storm.yaml");
    const hasErrors = issues.some(({ severity }) => severity === "error");
    expect(scenario === null, text).toBe(hasErrors);
    for (const { position } of issues) expect(position, text).not.toBeNull();
    refused += scenario === null ? 1 : 0;
  }
  expect(refused).toBeGreaterThan(1000);
});
