import type { SizeName } from "../report/figure/types.ts";
import { type FigureName, figures } from "../report/run-figures.ts";

/** What `--figure` may be. */
export const FIGURES: readonly FigureName[] = figures.map(({ name }) => name);

/** What `--size` may be. */
export const SIZES: readonly SizeName[] = ["page", "slide", "phone"];

/** What `--scheme` may be. */
export const SCHEMES = ["light", "dark"] as const;

/** The figures with what they show, for the help. */
export const FIGURE_LIST = figures
  .map(({ name, shows }, i) => `${name} (${i === 0 ? "default; " : ""}${shows})`)
  .join(", ");
