import type { Cycling, LongRun } from "../../packages/sim/src/model/result.ts";
import { fuse } from "./parts.ts";

/** Whose long run the fixtures tell of. */
export const main = { part: "main fuse", owner: "" } as const;

export const longRun = (over: Partial<LongRun> = {}): LongRun => ({
  meanPower: 4,
  restTemperature: 47,
  timeToJunctionLimit: null,
  swing: 0,
  timeToPeakLimit: null,
  fuses: [
    {
      label: fuse.label,
      subject: main,
      meanLoad: 0.2,
      restTheta: 0.27,
      meltTime: null,
      restPeak: 0.27,
      peakMeltTime: null,
    },
  ],
  clamps: [],
  leads: [],
  ...over,
});

export const cycling = (over: Partial<Cycling> = {}): Cycling => ({
  period: 0.6,
  onShare: 0.05,
  longRun: longRun(),
  ...over,
});
