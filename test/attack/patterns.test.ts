import { join } from "node:path";
import { check } from "recheck";
import ts from "typescript";
import { beforeAll, describe, expect, test, vi } from "vitest";
import { readNotebooks } from "../../packages/notebooks/build/notebook.ts";
import { pagesFolder } from "../../packages/notebooks/build/paths.ts";
import { root } from "../ground/files.ts";
import { parseSource, readSources, type SourceFile } from "../ground/source.ts";

// What stands behind the entrances reads strangers' texts of a quarter of a megabyte and more: a pattern whose time grows faster than the text
// holds a page up for minutes. Each is looked at by a search for a text that makes it slow; what it finds, it has tried.

interface Pattern {
  readonly source: string;
  readonly flags: string;
  readonly places: readonly string[];
}

/** Pattern literals of the files, each once, with where they stand. */
function patternsOf(files: readonly SourceFile[]): Pattern[] {
  const found = new Map<string, string[]>();
  for (const { path, tree } of files) {
    const visit = (node: ts.Node): void => {
      if (ts.isRegularExpressionLiteral(node)) {
        const { line } = tree.getLineAndCharacterOfPosition(node.getStart(tree));
        found.set(node.text, [...(found.get(node.text) ?? []), `${path}:${line + 1}`]);
      }
      ts.forEachChild(node, visit);
    };
    visit(tree);
  }
  return [...found].map(([text, places]) => {
    const end = text.lastIndexOf("/");
    // Neither the last place looked at nor the list of places changes how long a search takes.
    return { source: text.slice(1, end), flags: text.slice(end + 1).replace(/[dy]/g, ""), places };
  });
}

/** On a hundred thousand characters a pattern whose time grows with their square takes many seconds, any other some milliseconds. */
function isSlow(pattern: RegExp, text: string): boolean {
  const begin = performance.now();
  text.replace(pattern, "");
  return performance.now() - begin > 2000;
}

/** A word for each pattern that a text can make slow, or that could not be judged. */
async function slowOnes(patterns: readonly Pattern[]): Promise<string[]> {
  const words: string[] = [];
  for (const { source, flags, places } of patterns) {
    // By proof; by trial only what the proof does not cover, for that takes ten times as long.
    const proved = await check(source, flags, { timeout: 20_000, checker: "automaton" });
    const found = proved.status === "unknown" ? await check(source, flags, { timeout: 20_000 }) : proved;
    if (found.status === "safe") continue;
    // A trial counts steps of a machine of its own, which looks behind more slowly than the language does.
    if (found.status === "vulnerable" && found.checker === "fuzz" && found.complexity.type === "polynomial")
      if (!isSlow(new RegExp(source, flags), found.attack.string)) continue;
    const why =
      found.status === "vulnerable" ? `${found.complexity.summary}, by ${found.attack.pattern}` : found.status;
    words.push(`/${source}/${flags} at ${places.join(", ")}: ${why}`);
  }
  return words;
}

function allSources(): SourceFile[] {
  const code = readNotebooks(pagesFolder).flatMap(({ name, cells }) =>
    cells.filter(({ kind }) => kind === "ts").map(({ line, text }) => parseSource(`${name}.html, ${line} and`, text)),
  );
  return [
    ...readSources(join(root, "packages/sim/src")),
    ...readSources(join(root, "packages/notebooks/src")),
    ...code,
  ];
}

let sources: readonly SourceFile[] = [];

beforeAll(() => {
  sources = allSources();
  vi.stubEnv("RECHECK_BACKEND", "pure");
  return () => vi.unstubAllEnvs();
}, 60_000);

describe("the search", () => {
  const inText = (text: string) => slowOnes(patternsOf([parseSource("a.ts", text)]));

  test.each([
    ["twice in a row", `/(?:a+)+$/`, "exponential"],
    ["blanks before an end", String.raw`/\s+$/`, "polynomial"],
    ["what the layout of a list was found by", String.raw`/-(?:\r?\n[ \t]*(?:#[^\n]*)?)*$/`, "exponential"],
  ])("sees %s", async (_, pattern, kind) => {
    const [word] = await inText(`export const a = ${pattern};`);
    expect(word).toContain("at a.ts:1: ");
    expect(word).toContain(kind);
  });

  test("lets others pass", async () => {
    expect(await inText("const a = /^[a-z]+$/.test(b) || /x/.test(c);")).toEqual([]);
  });
});

test("no pattern of library, command or pages can be made slow by a text", async () => {
  const patterns = patternsOf(sources);
  expect(patterns.length).toBeGreaterThan(200);
  expect(await slowOnes(patterns)).toEqual([]);
}, 120_000);

test("patterns put together at run time hold nothing that a user wrote", () => {
  const built = sources.flatMap(({ path, text }) =>
    [...text.matchAll(/\bRegExp\(.*/g)].map(([call]) => `${path}: ${call}`),
  );
  // Its keys are words of the scenario format, from a list.
  expect(built).toHaveLength(1);
  expect(built[0]).toMatch(/^line\/shipped\.ts: RegExp\(`\^\$\{key\}: /);
});
