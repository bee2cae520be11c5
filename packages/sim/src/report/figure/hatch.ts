import { add } from "./draw.ts";
import type { Palette } from "./palette.ts";

export interface Hatch {
  /** For a `fill` attribute. */
  readonly fill: string;
}

/** Solid, then two directions of stripes and dots: told apart without colour. */
export function drawHatches(svg: Element, id: string, colors: Palette, fills: readonly string[]): Hatch[] {
  const stripes = [null, "rotate(45)", "rotate(-45)", "rotate(90)"];
  return fills.map((fill, i) => {
    const turn = stripes[i % stripes.length];
    if (turn === null) return { fill };
    const name = `${id}-part-${i}`;
    const size = { id: name, width: 8, height: 8, patternUnits: "userSpaceOnUse", patternTransform: turn };
    const pattern = add(svg, "pattern", size);
    add(pattern, "rect", { width: 8, height: 8, fill });
    add(pattern, "rect", { width: 2, height: 8, fill: colors.ground, "fill-opacity": 0.55 });
    return { fill: `url(#${name})` };
  });
}
