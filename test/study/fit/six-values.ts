import { normals } from "../../../packages/sim/scripts/instrument.ts";
import { fitScenario } from "../../../packages/sim/src/index.ts";
import { captured, hiccupInstrument, scenarioWith } from "./bench.ts";

/** Six values of the hiccup supply's line: what they are in the middle, their unit, and the share of it by which they are dealt. */
const VALUES = [
  ["sources[0].limit.off time", 300, "ms", 0.06],
  ["sources[0].limit.ramp time", 20, "ms", 0.06],
  ["sources[0].limit.current", 34.5, "A", 0.04],
  ["crowbar.trip voltage", 15, "V", 0.01],
  ["sources[0].limit.detection time", 3, "ms", 0.06],
  ["loads[0].input capacitance", 2.2, "mF", 0.08],
] as const;

export interface FittedSix {
  readonly label: string;
  readonly isInside: boolean;
  /** Found less true, in standard errors. */
  readonly off: number;
}

/** A line dealt by a seed, seen through an instrument of eight bits, and its six values found again from where the shipped scenario has them. */
export async function fittedSix(seed: number): Promise<{ values: readonly FittedSix[]; misfits: readonly string[] }> {
  const gauss = normals(seed + 77);
  const truth = VALUES.map(([, middle, , share]) => middle * (1 + share * Math.max(-2, Math.min(2, gauss()))));
  const texts = VALUES.map(([path, , unit], k) => [path, `${truth[k]!.toPrecision(9)} ${unit}`] as const);
  const capture = captured(scenarioWith("02-hiccup-supply", Object.fromEntries(texts)), hiccupInstrument(seed));
  const found = await fitScenario(scenarioWith("02-hiccup-supply", {}), "hut.yaml", capture, {
    free: VALUES.map(([path]) => path),
    channels: [],
  });
  if (found.kind === "refused") throw new Error(found.issues.map(({ message }) => message).join("; "));
  const values = found.values.map(({ label, value, from, to, error }, k) => {
    const real = truth[k]!;
    return { label, isInside: from <= real && real <= to, off: (value - real) / error };
  });
  return { values, misfits: found.misfits };
}
