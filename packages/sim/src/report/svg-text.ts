import { svgFile } from "./figure/svg-file.ts";

/**
 * A figure as the text of an SVG file, drawn without a browser. Node only.
 *
 * @param draw given a document, draws the figure in it
 */
export async function svgText(draw: (document: Document) => Element): Promise<string> {
  // Loading jsdom takes longer than most runs: only who wants a picture pays for it.
  const { JSDOM } = await import("jsdom");
  return svgFile(draw(new JSDOM("").window.document));
}
