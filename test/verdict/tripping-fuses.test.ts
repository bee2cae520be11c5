import { expect, test } from "vitest";
import type { FuseFindings } from "../../packages/sim/src/model/result.ts";
import { cycling } from "./cyclings.ts";
import { barFound, blown, fuseFound, judged, run } from "./fixtures.ts";

const told = (found: Partial<FuseFindings>) => {
  const crowbar = barFound({ firings: [0.1, 0.7, 1.3, 1.9, 2.5], stops: [], cycling: cycling() });
  return judged(run({ crowbar, fuses: [fuseFound(found)] }, { endTime: 3 })).tripping[0];
};

test("a fuse that opened long before and ended nothing has no pulses to stand any more", () => {
  expect(told({})?.fatigue).toHaveLength(1);
  const gone = told({ ...blown, meltTime: 0.2, openTime: 0.21 });
  expect(gone).toMatchObject({ ended: false, fatigue: [] });
  expect(gone?.longRun.join(" ")).not.toContain("main fuse");
});
