import { describe, expect, it } from "vitest";
import { currentStyle, type Palette, palette, voltageStyle } from "../../packages/sim/src/report/figure/palette.ts";

type Rgb = readonly [number, number, number];

function linear(color: string): Rgb {
  const channel = (at: number) => {
    const value = Number.parseInt(color.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return [channel(1), channel(3), channel(5)];
}

/** Contrast of WCAG 2.2, success criterion 1.4.3. */
function contrast(a: string, b: string): number {
  const luminance = (color: string) => {
    const [r, g, blue] = linear(color);
    return 0.2126 * r + 0.7152 * g + 0.0722 * blue;
  };
  const [low, high] = [luminance(a), luminance(b)].sort((x, y) => x - y);
  return (high + 0.05) / (low + 0.05);
}

// Machado, Oliveira, Fernandes: "A physiologically-based model for simulation of color vision deficiency",
// IEEE TVCG 15(6), 2009, severity 1.0, applied to linear RGB.
const visions: Record<string, readonly Rgb[]> = {
  normal: [
    [1, 0, 0],
    [0, 1, 0],
    [0, 0, 1],
  ],
  protan: [
    [0.152286, 1.052583, -0.204868],
    [0.114503, 0.786281, 0.099216],
    [-0.003882, -0.048116, 1.051998],
  ],
  deutan: [
    [0.367322, 0.860646, -0.227968],
    [0.280085, 0.672501, 0.047413],
    [-0.01182, 0.04294, 0.968881],
  ],
  // Written down from memory; each row sums to 1, as it must for white to stay white.
  tritan: [
    [1.255528, -0.076749, -0.178779],
    [-0.078411, 0.930809, 0.147602],
    [0.004733, 0.691367, 0.3039],
  ],
};

/** OKLab (B. Ottosson, 2020), distance times 100. */
function difference(a: string, b: string, vision: readonly Rgb[]): number {
  const lab = (color: string): Rgb => {
    const rgb = linear(color);
    const [r, g, b] = vision.map((row) =>
      Math.min(1, Math.max(0, row[0] * rgb[0] + row[1] * rgb[1] + row[2] * rgb[2])),
    );
    const l = Math.cbrt(0.4122214708 * r + 0.5363325363 * g + 0.0514459929 * b);
    const m = Math.cbrt(0.2119034982 * r + 0.6806995451 * g + 0.1073969566 * b);
    const s = Math.cbrt(0.0883024619 * r + 0.2817188376 * g + 0.6299787005 * b);
    return [
      0.2104542553 * l + 0.793617785 * m - 0.0040720468 * s,
      1.9779984951 * l - 2.428592205 * m + 0.4505937099 * s,
      0.0259040371 * l + 0.7827717662 * m - 0.808675766 * s,
    ];
  };
  const [p, q] = [lab(a), lab(b)];
  return 100 * Math.hypot(p[0] - q[0], p[1] - q[1], p[2] - q[2]);
}

/** A colour that lets a share of another through, as the browser mixes them. */
function over(top: string, opacity: number, below: string): string {
  const channels = [1, 3, 5].map((at) => {
    const [a, b] = [top, below].map((color) => Number.parseInt(color.slice(at, at + 2), 16));
    return Math.round(opacity * a + (1 - opacity) * b);
  });
  return `#${channels.map((channel) => channel.toString(16).padStart(2, "0")).join("")}`;
}

function lineColors(colors: Palette): string[] {
  return [...colors.loads, colors.protector, colors.supply, ...colors.currents];
}

describe.each(["light", "dark"] as const)("the %s palette", (scheme) => {
  const colors = palette(scheme);

  it("writes at 4.5:1 or more on the ground", () => {
    for (const color of [colors.ink, colors.muted, colors.bandEdge, colors.exceedanceInk, ...lineColors(colors)]) {
      expect(contrast(color, colors.ground), color).toBeGreaterThanOrEqual(4.5);
    }
  });

  it("writes states at 4.5:1 or more on every tone, and draws curves so on the band", () => {
    for (const tone of Object.values(colors.tones)) expect(contrast(colors.ink, tone.fill)).toBeGreaterThanOrEqual(4.5);
    for (const color of [...colors.loads, colors.protector, colors.supply]) {
      expect(contrast(color, colors.band), color).toBeGreaterThanOrEqual(4.5);
    }
  });

  it("writes at 4.5:1 or more where a limit has been passed", () => {
    // Headroom below 1, surge windows above 100 %, and the hatched ground that a load does not stand.
    const pale = over(colors.tones.alarm.fill, 0.4, colors.ground);
    const hatched = over(colors.tones.alarm.fill, 0.45, colors.ground);
    const stripe = over(colors.exceedanceInk, 0.25, hatched);
    const severities = [colors.exceedanceInk, colors.bandEdge, colors.loads[0], colors.protector, colors.currents[0]];
    for (const color of [colors.ink, ...severities]) expect(contrast(color, pale), color).toBeGreaterThanOrEqual(4.5);
    for (const color of [colors.exceedanceInk, colors.bandEdge]) {
      expect(contrast(color, hatched), color).toBeGreaterThanOrEqual(4.5);
    }
    // Between the letters a stripe may show through; a rim in the ground's colour keeps it off them.
    expect(contrast(colors.exceedanceInk, stripe)).toBeGreaterThanOrEqual(3);
  });

  it("writes numbers on badges and inside bars at 4.5:1 or more", () => {
    for (const fill of [colors.ink, colors.bandEdge, colors.tones.alarm.edge]) {
      expect(contrast(colors.ground, fill), fill).toBeGreaterThanOrEqual(4.5);
    }
  });

  it("draws curves at 3:1 or more on the hatched ground that they may cross", () => {
    const hatched = over(colors.tones.alarm.fill, 0.45, colors.ground);
    for (const color of colors.loads) expect(contrast(color, hatched), color).toBeGreaterThanOrEqual(3);
  });

  it("sets event rules and axis apart from the ground", () => {
    expect(contrast(colors.rule, colors.ground)).toBeGreaterThanOrEqual(3);
  });

  it.each(Object.keys(visions))("keeps the curves of one panel apart for %s vision", (vision) => {
    const panels = [
      [colors.loads[0], colors.protector, colors.supply],
      [colors.currents[0], colors.currents[1], colors.currents[2]],
      [colors.loads[0], colors.exceedanceInk, colors.muted],
    ];
    for (const panel of panels) {
      for (const [i, a] of panel.entries()) {
        for (const b of panel.slice(i + 1)) {
          expect(difference(a, b, visions[vision]), `${a} ${b}`).toBeGreaterThan(5);
        }
      }
    }
  });

  it("never tells two curves of one panel apart by colour alone", () => {
    const voltages = (["load", "protector", "supply"] as const).flatMap((role) =>
      [0, 1].map((order) => voltageStyle(colors, role, order)),
    );
    const currents = [0, 1, 2, 3].map((order) => currentStyle(colors, order));
    for (const styles of [voltages, currents]) {
      expect(new Set(styles.map((style) => `${style.dash}|${style.width}`)).size).toBe(styles.length);
    }
  });
});
