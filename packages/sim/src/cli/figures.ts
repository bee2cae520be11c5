import type { FigureName } from "../report/render-figure.ts";

/** What `--figure` may be. */
export const FIGURES: readonly FigureName[] = ["fault", "headroom", "time-current", "surge"];
