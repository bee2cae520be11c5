/**
 * A drawn figure as the text of an SVG file that stands for itself: name space, size, ground and colours are in it, nothing from
 * outside.
 *
 * @param figure as any of the figure functions gave it, in a document that belongs to a window
 * @throws Error for a document without a window: there is nothing that could write it
 * @example new Blob([svgFile(figure)], { type: "image/svg+xml" })
 */
export function svgFile(figure: Element): string {
  const view = figure.ownerDocument.defaultView;
  if (view === null) throw new Error("the figure's document has no window that could write it");
  // HTML's own serialization knows entities that XML does not.
  return `${new view.XMLSerializer().serializeToString(figure)}\n`;
}
