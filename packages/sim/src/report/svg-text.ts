/**
 * A figure as the text of an SVG file, drawn without a browser. Node only.
 *
 * @param draw given a document, draws the figure in it
 */
export async function svgText(draw: (document: Document) => Element): Promise<string> {
  // Loading jsdom takes longer than most runs: only who wants a picture pays for it.
  const { JSDOM } = await import("jsdom");
  const { document, XMLSerializer } = new JSDOM("").window;
  const figure = draw(document);
  // HTML's own serialization knows entities that XML does not.
  return `${new XMLSerializer().serializeToString(figure)}\n`;
}
