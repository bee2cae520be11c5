/** Figures, verdicts and problems in a page. */

export { cautionsView } from "./cautions.ts";
export { fileName, saveFile } from "./export.ts";
export { type FaultView, type FaultViewOptions, faultView } from "./fault-view.ts";
export { type FigurePlace, type FigurePlaceOptions, figurePlace } from "./figure-place.ts";
export { keepFocusInSight } from "./focus-in-sight.ts";
export { type IssuesOptions, type IssuesView, issuesView } from "./issues.ts";
export { type ProgressView, progressView } from "./progress.ts";
export { schemeOf, watchScheme } from "./scheme.ts";
export { type StatusLine, statusLine } from "./status.ts";
export { tagOf } from "./tags.ts";
export { type TimeView, type TimeViewStore, timeViewStore } from "./time-view.ts";
export { pendingLines, putLines, type VerdictView, verdictView } from "./verdict.ts";
export { whenSeen } from "./when-seen.ts";
