/** What a picture is saved as. Sizes are CSS pixels times `scale`. */
export interface PictureFile {
  readonly name: string;
  readonly blob: Blob;
}

/**
 * An SVG element as the text of a file that stands for itself: name space and all, nothing from elsewhere.
 *
 * @example const text = svgFile(faultFigure(data, { document, size: "slide" }));
 */
export function svgFile(svg: SVGSVGElement): string {
  const { XMLSerializer: Serializer } = svg.ownerDocument.defaultView ?? globalThis;
  return `<?xml version="1.0" encoding="UTF-8"?>\n${new Serializer().serializeToString(svg)}\n`;
}

/** Width and height of a drawn figure, CSS pixels. */
function sizeOf(svg: SVGSVGElement): { readonly width: number; readonly height: number } {
  return { width: Number(svg.getAttribute("width")), height: Number(svg.getAttribute("height")) };
}

/**
 * An SVG file as a PNG, drawn by the browser.
 *
 * @param scale pixels of the PNG per CSS pixel of the figure
 * @throws Error when the browser cannot draw it
 */
export async function pngOf(document: Document, svg: SVGSVGElement, scale: number): Promise<Blob> {
  const window = document.defaultView;
  if (window === null) throw new Error("There is no window to draw in.");
  const { width, height } = sizeOf(svg);
  const address = window.URL.createObjectURL(new Blob([svgFile(svg)], { type: "image/svg+xml" }));
  try {
    const image = new window.Image();
    image.src = address;
    await image.decode();
    const canvas = document.createElement("canvas");
    canvas.width = Math.round(width * scale);
    canvas.height = Math.round(height * scale);
    const context = canvas.getContext("2d");
    if (context === null) throw new Error("This browser gives no drawing surface.");
    context.drawImage(image, 0, 0, canvas.width, canvas.height);
    return await new Promise((resolve, reject) => {
      const done = (blob: Blob | null) => (blob ? resolve(blob) : reject(new Error("The picture is too large.")));
      canvas.toBlob(done, "image/png");
    });
  } finally {
    window.URL.revokeObjectURL(address);
  }
}

/** Hands a file to the browser's own saving. */
export function saveFile(document: Document, { name, blob }: PictureFile): void {
  const { URL: Addresses } = document.defaultView ?? globalThis;
  const address = Addresses.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  link.click();
  // Some browsers begin to read only after the click has returned.
  setTimeout(() => Addresses.revokeObjectURL(address), 10_000);
}

/**
 * A file name from a title: small letters, digits and hyphens, whatever the title holds.
 *
 * @example fileName("Shorted pass transistor: headroom", "svg") // "shorted-pass-transistor-headroom.svg"
 */
export function fileName(title: string, ending: string): string {
  const plain = title
    .normalize("NFKD")
    .replace(/\p{Mark}/gu, "")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .slice(0, 80)
    .replace(/^-|-$/g, "");
  return `${plain === "" ? "figure" : plain}.${ending}`;
}
