import { expect, test } from "vitest";
import { shortestStay } from "../../../packages/sim/src/study/fit/edges.ts";
import { loggedEvery } from "./odd-captures.ts";

/** One that tells them stands in test/deep. */
test.each([0.01, 0.02])("a logger's samples between which whole rounds fall tell no value: %f s", async (interval) => {
  const found = await loggedEvery(interval);
  expect(found.kind === "refused" && found.issues.map(({ code }) => code)).toEqual(["too-coarse"]);
  const [issue] = found.kind === "refused" ? found.issues : [];
  expect(issue).toMatchObject({ received: `a sample every ${1000 * interval} ms` });
  expect(issue!.message).toMatch(/too far apart to tell one round from the next/);
  expect(issue!.allowed).toMatch(/^one every 4\.\d+ ms at least$/);
});

test("how long a curve stays beyond its level is counted between edges alone, in the window alone", () => {
  const time = Float64Array.from([0, 1, 2, 3, 4, 5, 6, 9, 10, 12]);
  const values = Float64Array.from([0, 0, 10, 10, 0, 0, 10, 10, 0, 0]);
  const level = { level: 5, half: 2 };
  // Up at 1.7, off at 3.3; down from 3.7 to 5.3; up from 5.7 to 9.3.
  expect(shortestStay({ time, values }, level, [0, 12])).toBeCloseTo(1.6, 9);
  expect(shortestStay({ time, values }, level, [5.5, 12])).toBeCloseTo(3.6, 9);
  expect(shortestStay({ time, values }, level, [6, 12])).toBe(Number.POSITIVE_INFINITY);
});
