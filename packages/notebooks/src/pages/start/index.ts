/** What the cells of the page “Start” import. */
export { type Demo, demoView, type TimedAnswer } from "./demo.ts";
export { ownWork } from "./own-work.ts";
