const namespace = "http://www.w3.org/2000/svg";

export type Attributes = Readonly<Record<string, string | number>>;

/** Two decimals are finer than any screen and keep the output the same on every machine. */
export function rounded(value: number): number {
  const result = Math.round(value * 100) / 100;
  return result === 0 ? 0 : result;
}

function assign(target: Element, attributes: Attributes): void {
  for (const [name, value] of Object.entries(attributes)) {
    target.setAttribute(name, typeof value === "number" ? String(rounded(value)) : value);
  }
}

export function createSvg(document: Document, attributes: Attributes): SVGSVGElement {
  const svg = document.createElementNS(namespace, "svg");
  assign(svg, attributes);
  return svg;
}

/** Adds an element; texts become text nodes, so markup in a name stays harmless. */
export function add(parent: Element, tag: string, attributes: Attributes = {}, text?: string): Element {
  const child = parent.ownerDocument.createElementNS(namespace, tag);
  assign(child, attributes);
  if (text !== undefined) child.textContent = text;
  parent.appendChild(child);
  return child;
}

/** A rectangle of the picture, CSS pixels. */
export interface Frame {
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
}
