import { createRequire } from "node:module";

const fontFiles = ["DejaVuSans.ttf", "DejaVuSans-Bold.ttf"];

/**
 * A picture file from a figure's SVG text, without a browser and with fonts of its own, so that it looks the same on
 * every machine. Node only.
 *
 * @param svg text of an SVG file, for instance from `renderSvg`
 * @param scale pixels of the picture per CSS pixel, above 0 and up to 8; 2 makes 960 × 540 a slide of 1920 × 1080
 * @returns the bytes of a PNG file
 * @throws RangeError for another scale; Error with the parser's message when the text is no SVG
 * @example await writeFile("fault.png", await renderPng(await renderSvg(data)));
 */
export async function renderPng(svg: string, scale = 2): Promise<Uint8Array> {
  if (!(scale > 0 && scale <= 8)) throw new RangeError(`scale is ${scale}, allowed: above 0, up to 8`);
  const { Resvg } = await import("@resvg/resvg-js");
  const require = createRequire(import.meta.url);
  const picture = new Resvg(svg, {
    fitTo: { mode: "zoom", value: scale },
    font: {
      loadSystemFonts: false,
      fontFiles: fontFiles.map((file) => require.resolve(`dejavu-fonts-ttf/ttf/${file}`)),
      defaultFontFamily: "DejaVu Sans",
    },
  });
  return picture.render().asPng();
}
