/** What the page "What if the supply hiccups instead of blowing the fuse" is made of. */
export { hiccupControls, spanChoice } from "./controls.ts";
export { faultLine } from "./fault-line.ts";
export { later } from "./later.ts";
export { firstAnswer, limitMultiples } from "./multiples.ts";
export { limitSchemes } from "./styles.ts";
