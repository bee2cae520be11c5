import { textWidth } from "../../packages/sim/src/report/figure/text.ts";

export interface TextBox {
  readonly text: string;
  readonly left: number;
  readonly right: number;
  readonly top: number;
  readonly bottom: number;
  readonly size: number;
}

/** Where each text of a figure stands, from the font's own widths; a line reaches from ascender to descender. */
export function textBoxes(svg: Element): TextBox[] {
  return [...svg.querySelectorAll("text")].map((element) => {
    const number = (name: string) => Number(element.getAttribute(name));
    const size = number("font-size");
    const text = element.textContent ?? "";
    const width = textWidth(text, size, element.getAttribute("font-weight") === "bold");
    const shift = { start: 0, middle: width / 2, end: width }[element.getAttribute("text-anchor") ?? "start"] ?? 0;
    const left = number("x") - shift;
    return { text, left, right: left + width, top: number("y") - 0.76 * size, bottom: number("y") + 0.2 * size, size };
  });
}

export function overlaps(boxes: readonly TextBox[]): string[] {
  const found: string[] = [];
  for (const [i, a] of boxes.entries()) {
    for (const b of boxes.slice(i + 1)) {
      const apart = a.right <= b.left || b.right <= a.left || a.bottom <= b.top || b.bottom <= a.top;
      if (!apart) found.push(`"${a.text}" over "${b.text}"`);
    }
  }
  return found;
}
