export { tripControlGroups } from "./controls.ts";
export { tripPage } from "./page.ts";
export { tripViews } from "./settings.ts";
