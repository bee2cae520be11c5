/** The line in hand in one row of a page, and all that can be done with it. */

export { type WorkBar, workBar } from "./bar.ts";
export type { OtherFiles } from "./work.ts";
