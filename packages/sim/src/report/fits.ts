import type { FittedFuse } from "../scenario/index.ts";
import { counted } from "../verdict/words.ts";
import { wrap } from "./text-wrap.ts";

/**
 * How well each fitted fuse model meets its published points, as a section of the printed verdict; empty where nothing was fitted.
 *
 * @example renderFits(parsed.fits, 80)
 */
export function renderFits(fits: readonly FittedFuse[], width: number): string {
  if (fits.length === 0) return "";
  const lines = fits.map((fitted) => wrap(sentence(fitted), Math.max(50, width), "  - ", "    "));
  return `\nHow well the fuse models meet their published points\n${lines.join("\n")}\n`;
}

function sentence({ label, path, fit }: FittedFuse): string {
  const { points, worstDeviation, insideGates } = fit;
  const place = placeOf(path);
  const alone = points.length === 1;
  const within = insideGates
    ? `inside ${alone ? "it" : "all of them"}`
    : `OUTSIDE ${alone ? "it" : "at least one of them"}`;
  const targets = points.filter(({ deviation }) => deviation !== null).length;
  const middle =
    targets === 0
      ? `${alone ? "it names no" : "none of them names a"} time to aim at`
      : `at worst ${Number(Math.exp(worstDeviation).toPrecision(3))} times as long or as short as the time aimed at`;
  return `${place}, ${label}: ${counted(points.length, "published point")}, ${within}; ${middle}.`;
}

/** `sources[1].lead.fuse` as a reader counts: the in-line fuse of source 2. */
function placeOf(path: string): string {
  if (path === "main fuse" || path.startsWith("main fuse.")) return "Main fuse";
  const owner = /^(source|load)s\[(\d+)\]\.lead\.fuse/.exec(path);
  return owner === null ? `Fuse at ${path}` : `In-line fuse of ${owner[1]} ${Number(owner[2]) + 1}`;
}
