import { type MultiplesData, multiplesFigure } from "@railfault/sim/figures";
import { JSDOM } from "jsdom";
import { describe, expect, test } from "vitest";
import { harmless, shortedPass } from "./synthetic.ts";

const { document } = new JSDOM("").window;

/** Of so many schemes. */
const side = (count: number): MultiplesData => ({
  title: "A pass transistor shorts",
  subtitle: "One scheme keeps the radio safe.",
  facts: "SCR at 15.0 V · the best first",
  panels: Array.from({ length: count }, (_, k) => ({
    name: `scheme ${k + 1}`,
    outcome: "safe, 14.7 V",
    tone: "safe",
    data: k % 2 === 0 ? shortedPass() : harmless(),
  })),
});

function drawn(count: number, size: "page" | "slide") {
  const svg = multiplesFigure(side(count), { document, size });
  const texts = [...svg.querySelectorAll("text")].map(({ textContent }) => textContent ?? "");
  const panels = svg.querySelectorAll(".panel > svg").length;
  return {
    panels,
    texts,
    height: svg.getAttribute("viewBox")?.split(" ")[3],
    told: svg.querySelector("desc")?.textContent,
  };
}

describe("small figures side by side", () => {
  test("on a slide only as many as find room are drawn, and the others are named, in the picture and in its description", () => {
    const { panels, texts, height, told } = drawn(9, "slide");
    expect(panels).toBeGreaterThan(1);
    expect(panels).toBeLessThan(9);
    const others = Array.from({ length: 9 - panels }, (_, k) => `scheme ${panels + k + 1}`).join(", ");
    expect(texts).toContain(`Not drawn for want of room: ${others}`);
    expect(told).toContain(`Not drawn: ${others}.`);
    expect(height).toBe("540");
  });

  test("on a slide that holds them all nobody is left out", () => {
    const { panels, texts } = drawn(2, "slide");
    expect(panels).toBe(2);
    expect(texts.join(" ")).not.toContain("Not drawn");
  });

  test("a page grows until all have room; its description tells the line of facts as a sentence of its own", () => {
    const { panels, height, told } = drawn(9, "page");
    expect(panels).toBe(9);
    expect(Number(height)).toBeGreaterThan(540);
    expect(told).toContain(
      "One scheme keeps the radio safe. SCR at 15.0 V · the best first. Voltages on the same axes.",
    );
    expect(told).toMatch(/scheme 9: safe, 14\.7 V\.$/);
  });
});
