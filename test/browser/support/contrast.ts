import type { Page } from "playwright-core";

export interface Contrast {
  /** How many texts were measured. */
  readonly measured: number;
  /** The smallest ratio found. */
  readonly least: number;
  readonly poor: readonly string[];
}

/**
 * Measures each visible text against the ground that it stands on: what its boxes are filled with, in a picture what is drawn below it.
 *
 * @param page where it stands
 * @param wanted smallest ratio allowed (4.5 for text of ordinary size)
 */
export function contrastOf(page: Page, wanted: number): Promise<Contrast> {
  return page.evaluate((least) => {
    type Colour = readonly [red: number, green: number, blue: number, alpha: number];
    const canvas = document.createElement("canvas");
    canvas.width = 1;
    canvas.height = 1;
    const context = canvas.getContext("2d", { willReadFrequently: true })!;
    const known = new Map<string, Colour>();
    // The browser itself reads whatever form a colour is written in.
    const read = (text: string): Colour => {
      const before = known.get(text);
      if (before) return before;
      context.clearRect(0, 0, 1, 1);
      context.fillStyle = text;
      context.fillRect(0, 0, 1, 1);
      const [red, green, blue, alpha] = context.getImageData(0, 0, 1, 1).data;
      const colour: Colour = [red, green, blue, alpha / 255];
      known.set(text, colour);
      return colour;
    };
    const over = (top: Colour, below: Colour): Colour => {
      const mix = (i: 0 | 1 | 2): number => top[i] * top[3] + below[i] * (1 - top[3]);
      return [mix(0), mix(1), mix(2), 1];
    };
    const luminance = (colour: Colour): number => {
      const [r, g, b] = [0, 1, 2].map((i) => {
        const c = colour[i] / 255;
        return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
      });
      return 0.2126 * r + 0.7152 * g + 0.0722 * b;
    };
    const ratio = (a: Colour, b: Colour): number => {
      const [high, low] = [luminance(a), luminance(b)].sort((x, y) => y - x);
      return (high + 0.05) / (low + 0.05);
    };
    const groundOf = (element: Element | null): Colour => {
      const layers: Colour[] = [];
      for (let at = element; at !== null; at = at.parentElement) {
        const colour = read(getComputedStyle(at).backgroundColor);
        if (colour[3] > 0) layers.push(colour);
        if (colour[3] === 1) break;
      }
      return layers.reduceRight<Colour>((below, top) => over(top, below), [255, 255, 255, 1]);
    };
    const drawnGround = (text: Element, x: number, y: number): Colour => {
      const svg = text.closest("svg")!;
      let ground = groundOf(svg);
      for (const shape of svg.querySelectorAll("rect")) {
        if (!(shape.compareDocumentPosition(text) & Node.DOCUMENT_POSITION_FOLLOWING)) break;
        const { left, right, top, bottom } = shape.getBoundingClientRect();
        const { fill, fillOpacity, opacity } = getComputedStyle(shape);
        if (fill === "none" || fill.startsWith("url") || x < left || x > right || y < top || y > bottom) continue;
        if (shape.closest("defs, clipPath, pattern, mask") !== null) continue;
        const [red, green, blue, alpha] = read(fill);
        ground = over([red, green, blue, alpha * Number(fillOpacity) * Number(opacity)], ground);
      }
      return ground;
    };
    const poor: string[] = [];
    let measured = 0;
    let smallest = Number.POSITIVE_INFINITY;
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node !== null; node = walker.nextNode()) {
      const owner = node.parentElement;
      const text = node.textContent?.trim() ?? "";
      if (owner === null || text === "" || owner.closest("noscript, title, desc, style, .unseen, .skip-link")) continue;
      // What cannot be used now may be pale.
      if (owner.closest(":disabled, [aria-disabled=true], option")) continue;
      if (!owner.checkVisibility({ opacityProperty: true, visibilityProperty: true })) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      const { left, top, width, height } = range.getBoundingClientRect();
      if (width < 1 || height < 1) continue;
      const style = getComputedStyle(owner);
      const drawn = owner.closest("svg") !== null;
      const ground = drawn ? drawnGround(owner, left + width / 2, top + height / 2) : groundOf(owner);
      let opacity = 1;
      for (let at: Element | null = owner; at !== null; at = at.parentElement)
        opacity *= Number(getComputedStyle(at).opacity);
      const [red, green, blue, alpha] = read(drawn ? style.fill : style.color);
      const found = ratio(over([red, green, blue, alpha * opacity], ground), ground);
      measured += 1;
      smallest = Math.min(smallest, found);
      if (found < least)
        poor.push(
          `“${text.slice(0, 40)}” ${found.toFixed(2)} (${drawn ? style.fill : style.color} on ${ground.slice(0, 3).map(Math.round).join(" ")})`,
        );
    }
    return { measured, least: smallest, poor: [...new Set(poor)] };
  }, wanted);
}
