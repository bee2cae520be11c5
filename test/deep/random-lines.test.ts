import { expect, it } from "vitest";
import { soundAndAlike, tryLines } from "../support/invariants.ts";

it("two thousand random lines of every device, option and topology: sound, and alike at both tolerances", () => {
  const { found, refused, openAtFirst } = tryLines(0, 2000, soundAndAlike);
  expect(found).toEqual([]);
  expect(refused).toBeLessThan(200);
  expect(openAtFirst).toBeLessThan(20);
});
