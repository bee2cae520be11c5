import { test } from "vitest";
import { expectFour, fittedFour } from "../study/fit/four-values.ts";

test.each([1, 2, 3, 4, 5, 6])(
  "seed %i: intervals of four values hold the truth, events lie within a sample, in few simulations",
  async (seed) => expectFour(await fittedFour(seed), seed),
);
