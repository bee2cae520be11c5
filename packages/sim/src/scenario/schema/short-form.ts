import type { Path } from "../keys.ts";
import { shapesAt } from "./walk.ts";

/**
 * The key that a short form stands for: `main fuse: blade fuse 20 A` says what `main fuse: {part: blade fuse 20 A}` says.
 *
 * @param path of the part
 * @param written what stands there instead of a map
 * @returns null where the schema knows no map for it, or none that could say the same
 * @example mainKey(["sources", 0, "fault"], "lost feedback") // "kind"
 */
export function mainKey(path: Path, written: string): string | null {
  const shapes = shapesAt(path);
  for (const map of shapes) {
    if (map.kind !== "map") continue;
    for (const shape of shapes) {
      for (const [key, inner] of map.keys) {
        const same = inner.some((each) =>
          shape.kind === "part"
            ? written !== "none" && each.kind === "part" && each.part === shape.part
            : shape.kind === "words" &&
              shape.words.includes(written) &&
              each.kind === "words" &&
              each.words.includes(written),
        );
        if (same) return key;
      }
    }
  }
  return null;
}
