import { expect, test } from "vitest";
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
