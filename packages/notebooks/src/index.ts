/** Public face of the notebooks: what a cell may import. */
export * from "./controls/index.ts";
export type { LineChoiceOptions, LineOption, LineRangeOptions } from "./line/controls.ts";
export type { Line, LineNow } from "./line/line.ts";
export { type OpenedLine, openLine } from "./line/open.ts";
export type { RunMap, Scheme, SchemeRun } from "./line/runs.ts";
export { type ShippedLine, shippedLine, shippedLines } from "./line/shipped.ts";
export * from "./pages/battery/index.ts";
export * from "./pages/compare/index.ts";
export * from "./pages/file/index.ts";
export * from "./pages/hiccup/index.ts";
export * from "./pages/how-sure/index.ts";
export * from "./pages/match/index.ts";
export * from "./pages/regulator-fails/index.ts";
export * from "./pages/start/index.ts";
export * from "./pages/trip/index.ts";
export * from "./pages/writing/index.ts";
export type { Answer } from "./run/protocol.ts";
export * from "./show/index.ts";
