import type { Issue } from "../issue/issue.ts";
import { keyOf, type Path, pathText } from "./keys.ts";
import { locateIn } from "./parse.ts";
import type { Locate } from "./sheet.ts";
import { inPresentForm } from "./text/form.ts";
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
  const lines = linesOf(inPresentForm(text), file);
  const { tree } = readText(lines);
  if (tree === null) return [...issues];
  return placeWith(issues, locateIn(tree, lines));
}

/** The same with the places of a text that was read already. */
export function placeWith(issues: readonly Issue[], locate: Locate): Issue[] {
  const placed = issues.map((issue) => {
    const path = filePath(issue.path);
    const found = locate(path, "value");
    return { ...issue, path: pathText(found.path ?? path), position: found.position };
  });
  return inTextOrder(placed);
}

function filePath(path: string): Path {
  const steps = path.match(/[^.[\]]+/g) ?? [];
  return steps.map((step) => (/^\d+$/.test(step) ? Number(step) : keyOf(step)));
}
