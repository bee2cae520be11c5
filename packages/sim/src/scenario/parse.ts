import { type Issue, inBounds } from "../issue/issue.ts";
import { FitMemory } from "./fit-memory.ts";
import type { Path } from "./keys.ts";
import { resolveScenario, type ScenarioResult } from "./resolve/index.ts";
import type { ScenarioText } from "./schema/scenario.ts";
import type { Locate } from "./sheet.ts";
import { formName, formOf, inPresentForm, SCENARIO_FORM } from "./text/form.ts";
import { type Lines, linesOf, positionOf } from "./text/lines.ts";
import { inTextOrder } from "./text/order.ts";
import { nodeAt, plainOf, type TextNode } from "./text/read.ts";

/**
 * Reads a scenario file.
 *
 * @param text YAML of at most 256 KB, nested at most 32 levels deep, in the words of docs/scenario-format.md
 * @param file its name, for the places in messages
 * @param memory of earlier readings, where one file is read again and again with small changes
 * @returns the complete scenario, or null with every problem of the file, each with line and column; never throws on bad input
 *
 * @example
 * const { scenario, issues } = parseScenario(readFileSync("hut.yaml", "utf8"), "hut.yaml");
 * if (scenario === null) console.error(formatIssues(issues));
 */
export function parseScenario(text: string, file: string, memory: FitMemory = new FitMemory()): ScenarioResult {
  const lines = linesOf(inPresentForm(text), file);
  const { tree, issues } = memory.texts.read(lines);
  if (tree === null) return refused(issues);
  if (tree.kind !== "map") {
    const message = tree.kind === "nothing" ? "The file is empty." : "A scenario is a map of keys and values.";
    return refused([
      ...issues,
      {
        severity: "error",
        code: "not-a-map",
        path: "",
        message,
        received: null,
        allowed: "keys such as `run for`, `sources`, `loads`",
        hint: null,
        position: positionOf(lines, tree.from, tree.from + 1),
      },
    ]);
  }
  const later = laterForm(tree, lines);
  // Nobody knows what its other keys mean: one problem, not one for each of them.
  if (later !== null) return refused([...issues, later]);
  // What stands in the tree came from the user; the schema check inside takes it from here.
  const result = resolveScenario(plainOf(tree) as ScenarioText, locateIn(tree, lines), memory);
  if (issues.length === 0) return result;
  // A character that was told of by its name need not be told of once more.
  const places = new Set(issues.map(placeOf));
  const others = result.issues.filter((issue) => issue.code !== "not-one-line" || !places.has(placeOf(issue)));
  return { ...result, scenario: null, issues: inTextOrder([...issues.map(inBounds), ...others]) };
}

function laterForm(tree: TextNode, lines: Lines): Issue | null {
  const node = nodeAt(tree, ["format"]);
  const form = node?.kind === "text" ? formOf(node.value) : null;
  if (node?.kind !== "text" || form === null || form <= SCENARIO_FORM) return null;
  return {
    severity: "error",
    code: "later-form",
    path: "format",
    message: "This file is of a later form than this program reads.",
    received: node.value,
    allowed: `${formName(1)}${SCENARIO_FORM === 1 ? "" : ` … ${formName(SCENARIO_FORM)}`}`,
    hint: "use a newer version of the program",
    position: positionOf(lines, node.from, node.to),
  };
}

const placeOf = ({ position }: Issue): string => `${position?.line}:${position?.column}`;

function refused(issues: readonly Issue[]): ScenarioResult {
  return {
    scenario: null,
    issues: issues.map(inBounds),
    origins: [],
    about: { title: "", question: "" },
    fits: [],
    written: null,
    spreads: [],
    amounts: new Map(),
  };
}

/** Points at a value or its key; where a path leads nowhere, at the nearest thing above it. */
export function locateIn(tree: TextNode, lines: Lines): Locate {
  return (path, what) => {
    const node = nodeAt(tree, path);
    if (node === null) return { position: placeAbove(tree, path, lines), received: null };
    const key = keyRange(tree, path);
    const received = node.kind === "text" ? node.value : node.kind === "nothing" ? null : `a ${node.kind}`;
    if (key !== null && (what === "key" || node.kind !== "text"))
      return { position: positionOf(lines, key.from, key.to), received };
    return { position: positionOf(lines, node.from, node.to), received };
  };
}

function keyRange(tree: TextNode, path: Path): { from: number; to: number } | null {
  const parent = nodeAt(tree, path.slice(0, -1));
  if (parent?.kind !== "map") return null;
  const entry = parent.entries.find(({ key }) => key === path[path.length - 1]);
  return entry === undefined ? null : { from: entry.keyFrom, to: entry.keyTo };
}

function placeAbove(tree: TextNode, path: Path, lines: Lines): ReturnType<typeof positionOf> {
  for (let length = path.length - 1; length > 0; length -= 1) {
    const above = path.slice(0, length);
    const node = nodeAt(tree, above);
    if (node === null) continue;
    const key = keyRange(tree, above);
    return key === null ? positionOf(lines, node.from, node.to) : positionOf(lines, key.from, key.to);
  }
  return positionOf(lines, tree.from, tree.from + 1);
}
