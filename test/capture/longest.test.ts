import { expect, test } from "vitest";
import { normals } from "../../packages/sim/scripts/instrument.ts";
import { judgedValues } from "./records.ts";

/** Above 15.9 V in one stretch, samples since its begin; noise of a volt's fraction cuts it in pieces. How long, samples, stands beside each. */
const shapes = {
  "a plateau little above the limit": [(k: number) => (k > 0 && k < 300 ? 15.95 : 13.8), 300],
  "a plateau above the limit": [(k: number) => (k > 0 && k < 100 ? 16.05 : 13.8), 100],
  "a slow hump": [(k: number) => 15.5 + (k > 0 && k < 500 ? 0.8 * Math.sin((Math.PI * k) / 500) : 0), 500 / 3],
  "a slow ramp up and down": [(k: number) => 15.4 + Math.max(0, 1 - Math.abs(k - 250) / 250), 250],
} as const;

test.each(
  (Object.keys(shapes) as (keyof typeof shapes)[]).flatMap((shape) =>
    [0.01, 0.03, 0.06, 0.12].map((sigma) => [shape, sigma] as const),
  ),
)("the longest time above a limit lies within ±: %s, noise of %f V", (shape, sigma) => {
  const [line, length] = shapes[shape];
  // The line as it is: all that is above 15.9 V, found where it passes it.
  let truth = 0;
  for (let k = 0; k < 600; k += 0.01) if (line(k) > 15.9) truth += 0.01;
  let [inside, once, width] = [0, 0, 0];
  for (let seed = 1; seed <= 100; seed++) {
    const gauss = normals(seed);
    const begin = 200 + ((seed * 0.618) % 1);
    const values = Float64Array.from({ length: 1200 }, (_, k) => line(k - begin) + sigma * gauss());
    const { longest, times } = judgedValues(values, 1e-5, 1e-6, 15.9).beyond[0]!;
    if (Math.abs(longest.value - truth * 1e-5) <= longest.plusMinus) inside++;
    if (times === 1) once++;
    width += longest.plusMinus / 1e-5 / 100;
  }
  expect(inside).toBeGreaterThanOrEqual(93);
  // Never so wide that nothing is said.
  expect(width).toBeLessThan(0.75 * length + 20);
  if (sigma <= 0.06) expect(once).toBeGreaterThanOrEqual(85);
});
