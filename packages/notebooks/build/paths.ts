import { join } from "node:path";

/** Top of this package. */
export const packageFolder = join(import.meta.dirname, "..");
/** Top of the checkout. */
export const checkout = join(packageFolder, "../..");
/** Where the notebook files stand. */
export const pagesFolder = join(packageFolder, "pages");
/** Where the built site goes unless told otherwise. */
export const siteFolder = join(packageFolder, "dist");
/** The runtime, the page frame and the template. */
export const baseFolder = join(packageFolder, "src/base");
/** Our own look. */
export const lookFile = join(packageFolder, "src/look/index.css");
