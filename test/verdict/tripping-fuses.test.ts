import { expect, test } from "vitest";
import type { Cycling, FuseFindings } from "../../packages/sim/src/model/result.ts";
import { barFound, blown, fuseFound, judged, run } from "./fixtures.ts";
import { fuse } from "./parts.ts";

const subject = { part: "main fuse", owner: "" } as const;
const cycling: Cycling = {
  period: 0.6,
  onShare: 0.05,
  longRun: {
    meanPower: 4,
    restTemperature: 47,
    timeToJunctionLimit: null,
    swing: 0,
    timeToPeakLimit: null,
    fuses: [
      {
        label: fuse.label,
        subject,
        meanLoad: 0.2,
        restTheta: 0.27,
        meltTime: null,
        restPeak: 0.27,
        peakMeltTime: null,
      },
    ],
  },
};
const told = (found: Partial<FuseFindings>) => {
  const crowbar = barFound({ firings: [0.1, 0.7, 1.3, 1.9, 2.5], stops: [], cycling });
  return judged(run({ crowbar, fuses: [fuseFound(found)] }, { endTime: 3 })).tripping[0];
};

test("a fuse that opened long before and ended nothing has no pulses to stand any more", () => {
  expect(told({})?.fatigue).toHaveLength(1);
  const gone = told({ ...blown, meltTime: 0.2, openTime: 0.21 });
  expect(gone).toMatchObject({ ended: false, fatigue: [] });
  expect(gone?.longRun.join(" ")).not.toContain("main fuse");
});
