import type { Issue } from "../issue/issue.ts";
import { keyOf, type Path, pathText } from "./keys.ts";
import { locateIn } from "./parse.ts";
import { linesOf } from "./text/lines.ts";
import { inTextOrder } from "./text/order.ts";
import { readText } from "./text/read.ts";

/**
 * Gives problems that were found only in the complete scenario their place in the text it came from.
 *
 * @param issues whose paths are in the scenario's own fields (`sources[0].lead.fuse`, `crowbar.tripVoltage`)
 * @param text the file, already read without an error
 * @param file its name
 * @returns the same issues in the order of the text, their paths in the file's words, each with line and column
 *
 * @example placeIssues(error.issues, text, "hut.yaml")
 */
export function placeIssues(issues: readonly Issue[], text: string, file: string): Issue[] {
  const lines = linesOf(text, file);
  const { tree } = readText(lines);
  if (tree === null) return [...issues];
  const locate = locateIn(tree, lines);
  const placed = issues.map((issue) => {
    const path = filePath(issue.path);
    const { position } = locate(path, "value");
    return { ...issue, path: pathText(path), position };
  });
  return inTextOrder(placed);
}

function filePath(path: string): Path {
  const steps = path.match(/[^.[\]]+/g) ?? [];
  return steps.map((step) => (/^\d+$/.test(step) ? Number(step) : keyOf(step)));
}
