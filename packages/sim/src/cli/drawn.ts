import { sizes } from "../report/figure/size.ts";
import type { SizeName } from "../report/figure/types.ts";
import { renderPng } from "../report/png.ts";

/** A figure as an option of that name writes it: as it is, or as a picture twice as large as it is drawn. */
export async function drawn(svg: string, kind: string, size: SizeName): Promise<string | Uint8Array> {
  return kind === "png" ? await renderPng(svg, 2 / sizes[size].scale) : svg;
}
