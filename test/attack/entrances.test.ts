import { afterAll, beforeAll, expect, test } from "vitest";
import { workshop } from "../cli/launch.ts";
import { allEntrances } from "./support/all-entrances.ts";
import { attack } from "./support/entrance.ts";

// Everything that a stranger can hand in, by the thousand; `npm run test:deep` sends many more, each with a seed of its own.

/** All entrances together get ten thousand; those behind which most lies get most. */
const COUNT = 1000;
const shop = workshop();
const stood = process.cwd();
beforeAll(() => process.chdir(shop.folder));
afterAll(() => {
  process.chdir(stood);
  shop.close();
});

test.each(allEntrances(shop).map((entrance) => [entrance.name, entrance] as const))(
  "%s",
  async (_, entrance) => {
    const { inputs, taken, defects } = await attack(entrance, 1, COUNT);
    expect(defects).toEqual([]);
    expect(inputs).toBe(COUNT);
    expect(taken).toBeGreaterThan(0);
  },
  600_000,
);
