import type { Page } from "../chart.ts";
import { add, rounded } from "../draw.ts";
import type { LinePart } from "./types.ts";

/** Length of a symbol along its wire, CSS pixels. */
export const symbolLength = 30;

const wireWidth = 1.8;

const TURNS = { right: "", down: " rotate(90)", up: " rotate(-90)" } as const;

/** A wire through points, CSS pixels; lines that carry nothing but a reading's eye are not drawn as wires. */
export function drawWire(page: Page, parent: Element, points: readonly (readonly [x: number, y: number])[]): void {
  const d = points.map(([x, y], i) => `${i === 0 ? "M" : "L"}${rounded(x)},${rounded(y)}`).join("");
  add(parent, "path", {
    class: "wire",
    d,
    fill: "none",
    stroke: page.colors.ink,
    "stroke-width": wireWidth * page.weight,
    "stroke-linejoin": "round",
  });
}

/** Where wires join. */
export function drawNode(page: Page, parent: Element, x: number, y: number): void {
  add(parent, "circle", { class: "node", cx: x, cy: y, r: 3.2 * page.weight, fill: page.colors.ink });
}

/** The minus, at the end of a wire that comes from above, or from below. */
export function drawGround(page: Page, parent: Element, x: number, y: number, way: "down" | "up"): void {
  const step = way === "down" ? 4 : -4;
  const d = [8, 5, 2].map((half, i) => `M${rounded(x - half)},${rounded(y + step * i)}h${2 * half}`).join("");
  add(parent, "path", { class: "minus", d, stroke: page.colors.ink, "stroke-width": wireWidth * page.weight });
}

/**
 * A part's symbol with its middle at (x, y), its wire running to the right, downwards or upwards. A contact or switch that is open is drawn open, a
 * fuse that is open without its wire.
 */
export function drawSymbol(
  page: Page,
  parent: Element,
  part: LinePart,
  x: number,
  y: number,
  way: "right" | "down" | "up" = "right",
): void {
  const { colors } = page;
  const group = add(parent, "g", {
    class: `symbol ${part.kind}`,
    fill: "none",
    stroke: colors.ink,
    "stroke-width": wireWidth * page.weight,
    "stroke-linejoin": "round",
    transform: `translate(${rounded(x)},${rounded(y)})${TURNS[way]}`,
  });
  const open = part.state?.tone === "off";
  const half = symbolLength / 2;
  const draw = (d: string, fill = "none") => add(group, "path", { d, fill });
  add(group, "rect", { x: -half, y: -3, width: 2 * half, height: 6, fill: colors.ground, stroke: "none" });
  switch (part.kind) {
    case "fuse":
      add(group, "rect", { x: -half + 1, y: -6, width: 2 * half - 2, height: 12, rx: 1.5, fill: colors.ground });
      draw(open ? `M${-half},0h7M${half},0h-7` : `M${-half},0H${half}`);
      return;
    case "contact":
    case "relay":
      lever(open);
      return;
    case "transistor":
      add(group, "rect", { x: -half, y: -12, width: 2 * half, height: 18, rx: 2, fill: colors.ground });
      lever(open);
      return;
    case "diode":
      draw(`M${-half},0H${half}`);
      draw("M-7,-7L6,0L-7,7Z", colors.ground);
      draw("M6,-7V7");
      return;
    case "SCR":
      draw(`M${-half},0H${half}`);
      draw("M-7,-7L6,0L-7,7Z", colors.ground);
      draw("M6,-7V7M6,2L12,10");
      return;
    case "clamp":
      draw(`M${-half},0H${half}`);
      draw("M-7,-7L6,0L-7,7Z", colors.ground);
      draw("M2,-10L6,-7V7L10,10");
      return;
    default:
      draw(`M${-half},0H${half}`);
  }

  function lever(isOpen: boolean): void {
    draw(`M${-half},0h5M${half},0h-5`);
    draw(isOpen ? "M-9,0L8,-9" : "M-9,0H9");
    for (const at of [-9, 9]) add(group, "circle", { cx: at, cy: 0, r: 2.2, fill: colors.ground });
  }
}
