import type { FitFigureData } from "../../report/figure/fit-types.ts";
import { fitHeadline } from "./report.ts";
import type { Fit } from "./types.ts";

/** A fit's figure as plain data. */
export function fitData(fit: Fit): FitFigureData {
  return {
    title: fit.title === "" ? "A capture beside its scenario" : `Captured and simulated: ${fit.title}`,
    subtitle: fitHeadline(fit),
    channels: fit.channels.map(({ name, unit, time, captured, simulated, off, misfit }) => ({
      label: name,
      unit,
      time,
      captured,
      simulated,
      band: 2 * off,
      isBeyondNoise: misfit.isBeyondNoise,
    })),
  };
}
