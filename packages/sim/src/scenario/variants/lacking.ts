import type { Issue } from "../../issue/issue.ts";
import { type Path, pathText } from "../keys.ts";
import { isPlainMap } from "../text/written.ts";

/** The code of a variant that changes a part which its line has not. */
export const PART_NOT_THERE = "part-not-there";

const PARTS: Readonly<Record<string, string>> = {
  crowbar: "a crowbar",
  clamp: "a clamp",
  "series switch": "a series switch",
};

/**
 * Says in one sentence that a variant changes a part which the line has not, in the place of every value that such a part would want.
 *
 * @param issues of the variant
 * @param data the line itself as plain data
 * @param own where the variant stands in the file; null: nowhere
 */
export function lackingParts(issues: readonly Issue[], data: unknown, own: Path | null): readonly Issue[] {
  if (own === null) return issues;
  const line = isPlainMap(data) ? data : {};
  const told = new Set<string>();
  return issues.flatMap((issue): readonly Issue[] => {
    const key = Object.keys(PARTS).find((each) => {
      const path = pathText([...own, each]);
      return issue.path === path || issue.path.startsWith(`${path}.`);
    });
    const isAbsent = key !== undefined && (line[key] === undefined || line[key] === "none");
    if (key === undefined || !isAbsent || issue.severity !== "error" || issue.code !== "missing") return [issue];
    if (told.has(key)) return [];
    told.add(key);
    const message = `It needs ${PARTS[key]}, and the line has none.`;
    const hint = `give the line ${PARTS[key]}, or the variant a complete one`;
    return [
      { ...issue, code: PART_NOT_THERE, path: pathText([...own, key]), message, received: null, allowed: null, hint },
    ];
  });
}
