import type { Plugin } from "vite";

/**
 * Takes `crossorigin` from the scripts, styles and preloads of a built page: all of them are files beside it, so the word changes nothing and costs
 * some 20 times its length in every page.
 */
export function sameOrigin(): Plugin {
  return {
    name: "railfault:same-origin",
    apply: "build",
    transformIndexHtml: {
      order: "post",
      handler: (html) => html.replace(/(<(?:script|link)\b[^>]*?) crossorigin(?=[ >])/g, "$1"),
    },
  };
}
