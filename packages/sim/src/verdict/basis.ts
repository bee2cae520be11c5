import type { Run } from "../model/result.ts";
import { duration } from "./words.ts";

/** An energy balance open by more than this share of the energy turned over is no basis for a verdict. */
const ENERGY_TOLERANCE = 1e-6;

export interface NoBasis {
  readonly reason: string;
  readonly device: string | null;
  readonly remedy: string;
}

export function energyCloses(run: Run): boolean {
  return Math.abs(run.energy.relative) <= ENERGY_TOLERANCE;
}

/** Why a run cannot carry a verdict; null where it can: it ran to its end, its energy closes and what is judged are numbers. */
export function noBasis(run: Run): NoBasis | null {
  const { status, time, failure } = run.outcome;
  if (status === "failed" || failure !== null) {
    return {
      reason: failure?.reason ?? "the solver gave up without a reason",
      device: failure?.device ?? null,
      remedy: failure?.remedy ?? "Check the values of the scenario and try a tighter tolerance.",
    };
  }
  // One that was asked to end where it did carries a verdict about that time.
  if (status === "stopped" && time < run.scenario.endTime) {
    const end = duration(run.scenario.endTime);
    return {
      reason: `the run was stopped at ${duration(time)}, before its end at ${end}`,
      device: null,
      remedy: "Let it run to its end.",
    };
  }
  if (!energyCloses(run)) {
    return {
      reason: `the energy balance does not close: ${run.energy.relative.toExponential(1)} of the energy turned over is unaccounted for, ${ENERGY_TOLERANCE} is allowed`,
      device: null,
      remedy: "Try a tighter tolerance; if it stays open, the engine is at fault and its numbers may not be used.",
    };
  }
  const broken = run.loads.find(({ peak }) => !Number.isFinite(peak.value));
  if (broken !== undefined || run.loads.length === 0) {
    return {
      reason:
        broken === undefined ? "the run tells of no load" : `the voltage found at "${broken.name}" is not a number`,
      device: broken?.name ?? null,
      remedy: "Try a tighter tolerance; if it stays, the engine is at fault.",
    };
  }
  return null;
}
