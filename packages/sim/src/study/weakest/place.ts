import type { Crowbar, Fuse, Scenario } from "../../scenario/types.ts";

/** Which of the fuses a study varies: the main fuse (also where there is none yet), or the in-line fuse of a source. */
export type FusePlace = { readonly kind: "main" } | { readonly kind: "source"; readonly index: number };

/** A line that holds a fuse and an SCR, and where the fuse stands. */
export interface Held {
  readonly scenario: Scenario;
  readonly place: FusePlace;
  readonly crowbar: Crowbar;
  readonly fuse: Fuse;
}
