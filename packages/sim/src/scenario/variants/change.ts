import type { Path } from "../keys.ts";

/** One change of a line, after those before it: what is put at a path as plain data; undefined takes out what stands there. */
export interface LineChange {
  /** Keys of the file and indices. */
  readonly path: Path;
  /** Plain data as a file would have it; undefined: what stands there is taken out. */
  readonly value: unknown;
  /** Where it stands in the file; null for a ready-made scheme that nobody wrote there. */
  readonly from: Path | null;
}
