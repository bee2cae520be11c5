import { JSDOM } from "jsdom";
import { describe, expect, it } from "vitest";
import { renderPng } from "../../packages/sim/src/report/png.ts";
import { renderSvg } from "../../packages/sim/src/report/svg.ts";
import { pixelsOf } from "./png-pixels.ts";
import { hiccup, shortedPass } from "./synthetic.ts";

describe("an SVG file", () => {
  it("is well-formed XML that needs nothing from outside", async () => {
    const text = await renderSvg({ ...shortedPass(), title: "a < b & \u00a0 c" });
    const { documentElement } = new JSDOM(text, { contentType: "image/svg+xml" }).window.document;
    expect(documentElement.namespaceURI).toBe("http://www.w3.org/2000/svg");
    expect(text.match(/xmlns/g)).toHaveLength(1);
    expect(text.replace("http://www.w3.org/2000/svg", "")).not.toMatch(/https?:|@import|href=/);
    expect(documentElement.querySelector("title")?.textContent).toBe("a < b & \u00a0 c");
  });

  it("is the same each time, with two decimals at most", async () => {
    const text = await renderSvg(hiccup(0.03));
    expect(await renderSvg(hiccup(0.03))).toBe(text);
    const numbers = [...text.matchAll(/ (?:d|x|y|width|height)="([^"]*)"/g)].map((match) => match[1]).join(" ");
    expect(numbers).not.toMatch(/\d\.\d{3}/);
  });
});

describe("a PNG file", () => {
  it("is a slide of 1920 × 1080 with a picture and text on it", async () => {
    const pixels = pixelsOf(await renderPng(await renderSvg(shortedPass())));
    expect([pixels.width, pixels.height]).toEqual([1920, 1080]);
    const painted = share(pixels, () => true);
    expect(painted).toBeGreaterThan(0.1);
    expect(painted).toBeLessThan(0.6);
    // The title's line: only there when the font was found.
    expect(share(pixels, (x, y) => y < 80 && x < 960)).toBeGreaterThan(0.03);
  });

  it("refuses a scale that makes no picture", async () => {
    for (const scale of [0, -1, 9, Number.NaN])
      await expect(renderPng("<svg/>", scale)).rejects.toThrow(`scale is ${scale}`);
  });
});

/** How much of a part of the picture differs from its top left corner. */
function share(
  { width, height, data }: ReturnType<typeof pixelsOf>,
  inside: (x: number, y: number) => boolean,
): number {
  let seen = 0;
  let painted = 0;
  for (let y = 0; y < height; y++) {
    for (let x = 0; x < width; x++) {
      if (!inside(x, y)) continue;
      const at = 4 * (y * width + x);
      seen++;
      if ([0, 1, 2].some((channel) => Math.abs(data[at + channel] - data[channel]) > 4)) painted++;
    }
  }
  return painted / seen;
}
