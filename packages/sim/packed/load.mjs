/**
 * In the built package a module stands ready beside the place of its source.
 *
 * @param {URL} url of the source
 */
export const load = (url) => import(url.href.replace(/\.ts$/, ".js"));
