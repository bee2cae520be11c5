/** What the page "What goes first" is made of. */

export { matchBench, matchViews } from "./bench.ts";
export { serviceControls } from "./controls.ts";
