import { expect, test } from "vitest";
import { noLagIsTold, seenThrough } from "../study/fit/claims.ts";

test("where a lag cannot be told, the intervals say for which instruments they hold; one that does not lag is not told to", async () => {
  const slow = await seenThrough(2000, 12);
  expect(slow.values[1]!.from).toBeGreaterThan(15);
  expect(slow.untold.join(" ")).toMatch(
    /settle well within a sample interval: a lag of 75 µs \(a bandwidth of 2\.1 kHz\)/,
  );
  await noLagIsTold(1);
}, 60_000);
