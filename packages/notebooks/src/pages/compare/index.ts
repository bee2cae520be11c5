/** What the page "Side by side" is made of. */
export { compareBench, compareViews } from "./bench.ts";
export { schemeList } from "./scheme-list.ts";
