import { renderTrip, THRESHOLDS } from "@railfault/sim";
import { expect, test } from "vitest";
import { shippedText, studiedText } from "../study/trip/lines.ts";
import { readDocument } from "./markdown.ts";
import { piecesMissing } from "./similar.ts";

const page = readDocument("packages/sim/docs/trip.md");

test("the page on the trip shows what the program prints", () => {
  const text = renderTrip(studiedText(shippedText("01-shorted-pass-transistor")), 80);
  const [shown] = page.blocks.filter(({ language }) => language === "text");
  expect(shown.text).toContain("…");
  expect(piecesMissing(shown.text, text)).toEqual([]);
});

test("the page on the trip names every threshold device and its reference voltage", () => {
  for (const device of THRESHOLDS) {
    if (device.kind === "reference") expect(page.text).toContain(`${device.voltage.value} V`);
    else expect(page.text).toMatch(/`zener 12 V` to `zener 18 V`/);
  }
});
