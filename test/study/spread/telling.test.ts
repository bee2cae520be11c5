import { describe, expect, test } from "vitest";
import { ABOVE, made, SAFE, type World } from "./made.ts";

const THREE = [
  "crowbar.trip voltage: 14…16 V",
  "crowbar.sense filter: 30…50 us",
  "main fuse.cold resistance: 4…6 mohm",
];

test.each<[string, World, number[]]>([
  [
    "what changes the outcome goes before what moves the peak far",
    ([, filter, fuse]) => (fuse > 5.5 ? { ...ABOVE, share: 0.9 } : { ...SAFE, share: filter / 100 }),
    [2, 1, 0],
  ],
  [
    "of values that change nothing else the one that moves the peak furthest",
    ([trip, , fuse]) => ({ ...SAFE, share: 0.5 + trip / 100 + fuse / 10 }),
    [2, 0, 1],
  ],
  ["equals stay in the order of the file", () => SAFE, [0, 1, 2]],
])("corners: %s", async (_, world, expected) => {
  const { telling } = await made(world, THREE, { samples: 1, corners: 3 });
  expect(telling).toEqual(expected);
});

test("an end that gives no verdict changes the outcome, though nobody knows its peak", async () => {
  const { telling } = await made(
    ([trip, , fuse]) => (fuse < 4.5 ? { outcome: "no verdict", problem: "broke off" } : { ...SAFE, share: trip / 20 }),
    THREE,
    { samples: 1, corners: 2 },
  );
  expect(telling).toEqual([2, 0]);
});

describe("a protector behind another does nothing alone", () => {
  /** Cold resistance of the part class, mohm. */
  const NOMINAL = 4.8;

  /** The load sees what the first of them lets through; a radio's capacitance takes a little off. */
  const behind =
    (seen: number[][] = []): World =>
    ([trip, filter, fuse, capacitance]) => {
      seen.push([trip, filter, fuse]);
      const [first, second, third] = [trip, 15.5 + (filter - 40) / 20, 15.9 + (fuse - NOMINAL) / 2];
      return { ...SAFE, share: (Math.min(first, second, third) - 1e-5 * capacitance) / 20 };
    };
  const FOUR = [...THREE, "relay radio.input capacitance: ±20 %"];

  test.each([
    [2, [0, 1]],
    [3, [0, 1, 2]],
    // Where all of them are combined their order says what each does alone.
    [4, [0, 3, 1, 2]],
  ])("of %d values those whose turn comes once the others stand at their worse ends", async (corners, expected) => {
    const { telling } = await made(behind(), FOUR, { samples: 1, corners });
    expect(telling).toEqual(expected);
  });

  test("and the corners reach what it lets through", async () => {
    // min(16, 15.5 + 0.5, 15.9 + 0.6) where the first three stand at their upper ends; 15.5 V if the second stayed nominal.
    const { corners } = await made(behind(), FOUR, { samples: 1, corners: 3 });
    expect(20 * Math.max(...corners.share)).toBeGreaterThan(15.9);
  });

  test("choosing takes one run for what was chosen and two for each value left", async () => {
    const seen: number[][] = [];
    await made(behind(seen), FOUR, { samples: 1, corners: 3 });
    expect(seen).toHaveLength(1 + 2 * 4 + (1 + 2 * 3) + (1 + 2 * 2) + 1 + 2 ** 3);
    expect(seen[1 + 2 * 4]).toEqual([16, 40, NOMINAL]);
    expect(seen[1 + 2 * 4 + 1 + 2 * 3]).toEqual([16, 50, NOMINAL]);
  });
});
