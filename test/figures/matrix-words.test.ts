import { matchFigure } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { expect, it } from "vitest";
import { matrix } from "./chart-data.ts";

const { document } = new JSDOM("").window;

it.each([390, 560, 620, 760, 880, 1000, 1600])(
  "no word in a cell or a head of the matrix is cut off, %i px",
  (width) => {
    const svg = matchFigure(matrix(4), { width, document });
    const told = [...svg.querySelectorAll("text")].map((text) => (text.textContent ?? "").replaceAll("\u00a0", " "));
    expect(told).toEqual(expect.arrayContaining(["dump", "I²t", "55 A", "0.75"]));
    expect(told.filter((text) => text.endsWith("…") && !text.startsWith("a fuse from the odds box"))).toEqual([]);
  },
);
