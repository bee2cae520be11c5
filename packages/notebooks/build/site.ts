import { rmSync } from "node:fs";
import { build } from "vite";
import { siteConfig } from "./config.ts";
import { refuseForeign } from "./local-only.ts";
import { readNotebooks } from "./notebook.ts";
import { pagesFolder } from "./paths.ts";
import { buildSingles } from "./single.ts";
import { measure, type Sizes, tooLarge } from "./sizes.ts";

/**
 * Builds the site and the single-file pages into `target`; gives their sizes.
 * Throws where a notebook is wrong, an output file names another origin or the site is too large.
 */
export async function buildSite(target: string, pages: string = pagesFolder): Promise<Sizes> {
  try {
    await build(siteConfig(target, pages));
    const names = readNotebooks(pages).map(({ name }) => `${name}.html`);
    await buildSingles(target, names);
    refuseForeign(target);
    const sizes = measure(target);
    const problems = tooLarge(sizes);
    if (problems.length > 0) throw new Error(problems.join("\n"));
    return sizes;
  } catch (error) {
    // Nobody shall carry away what was refused.
    rmSync(target, { recursive: true, force: true });
    throw error;
  }
}
