// What is handed out, loaded when somebody asks for it.
import type { Slide } from "@railfault/sim";
import { zipFiles } from "@railfault/sim";
import { cautionSlide, slideFigure, slideName, type TalkPart, talkHtml, talkPicture } from "@railfault/sim/figures";
import { pngOf, svgFile } from "../../show/export.ts";

/** A talk to be handed out. */
export interface HandedTalk {
  readonly parts: readonly TalkPart[];
  readonly slides: readonly Slide[];
  readonly scheme: "light" | "dark";
  readonly progress: (done: number, total: number) => void;
}

/** The talk as one HTML file that steps through offline. */
export async function talkFile({ parts, slides, scheme, progress }: HandedTalk): Promise<Blob> {
  const pictures = [];
  for (const [i, slide] of slides.entries()) {
    pictures.push(talkPicture(parts, slide, i, { document, scheme }));
    progress(i + 1, slides.length);
    await turn();
  }
  return new Blob([talkHtml(parts, slides, { document, scheme, pictures })], { type: "text/html" });
}

/** All its pictures at the size of slides, as SVG and PNG; the cautions are the last. */
export async function picturesFile({ parts, slides, scheme, progress }: HandedTalk): Promise<Blob> {
  const entries: { readonly name: string; readonly content: string | Uint8Array }[] = [];
  const all = [...slides, cautionSlide()];
  for (const [i, slide] of all.entries()) {
    const svg = slideFigure(parts, slide, { document, size: "slide", scheme, id: `slide-${i + 1}` });
    const png = new Uint8Array(await (await pngOf(document, svg, 1)).arrayBuffer());
    const name = slideName(slide, i);
    entries.push({ name: `svg/${name}.svg`, content: svgFile(svg) }, { name: `png/${name}.png`, content: png });
    progress(i + 1, all.length);
    await turn();
  }
  return new Blob([zipFiles(entries) as Uint8Array<ArrayBuffer>], { type: "application/zip" });
}

/** The page has its turn between two slides. */
const turn = (): Promise<void> => new Promise((resolve) => setTimeout(resolve, 0));
