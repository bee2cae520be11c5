import type { Run } from "../model/result.ts";
import type { Clamp } from "../scenario/types.ts";
import { type Clamping, clampsOf } from "./clamp.ts";
import { endingFuse } from "./enders.ts";
import { endOf, lastCurrent } from "./look.ts";
import type { Pending } from "./types.ts";
import { when } from "./when.ts";
import { capital, longTime, partName, show, the } from "./words.ts";

/** Nobody leaves a fault alone for longer than a year, s (assumed). */
const LONGEST = 365 * 86_400;

export interface ClampLimit {
  /** After how many seconds. */
  readonly after: number;
  /** `fails short, …`, `passes its …`. */
  readonly says: string;
}

/** What a clamp that goes on taking a mean power comes to first, by its own equations; null where it stands that. `swing`: of its peaks above the mean, K. */
export function firstLimit(
  spec: Clamp,
  ambient: number,
  now: { readonly power: number; readonly energy: number; readonly rise: number; readonly swing: number },
): ClampLimit | null {
  const { power, energy, rise, swing } = now;
  const { ratings, thermalResistance, thermalTimeConstant } = spec;
  const ends = spec.failsShort ? "fails short at" : "passes";
  const full = {
    after: Math.max(0, (ratings.energy - energy) / power),
    says: `${ends} its energy rating of ${show(ratings.energy, "energy")}`,
  };
  const rest = power * thermalResistance;
  const room = (ratings.temperature ?? Number.POSITIVE_INFINITY) - ambient - swing;
  const hot =
    rest <= room
      ? []
      : [
          {
            after: rise >= room ? 0 : thermalTimeConstant * Math.log((rest - rise) / (rest - room)),
            says: `passes its temperature limit of ${show(ratings.temperature ?? 0, "temperature")}`,
          },
        ];
  const [first] = [full, ...hot].toSorted((a, b) => a.after - b.after);
  return first.after > LONGEST ? null : first;
}

/** Clamps that conduct when a run ends, with what becomes of them if the last current goes on. */
export function clampsConducting(run: Run): readonly Pending[] {
  return clampsOf(run)
    .flatMap((clamp) => {
      const current = lastCurrent(run, clamp.column);
      return clamp.found.failedShort || current === null || !(current > 0) ? [] : [told(run, clamp, current)];
    })
    .filter((each) => each !== null);
}

function told(run: Run, { subject, owner, spec, found }: Clamping, current: number): Pending | null {
  const power = (spec.breakdownVoltage + spec.slopeResistance * current) * current;
  const now = { power, energy: found.energy, rise: found.endRise, swing: 0 };
  const limit = firstLimit(spec, run.scenario.ambient, now);
  if (limit === null) return null;
  const at = (after: number): string => when(run.scenario, endOf(run) + after, longTime);
  const start = `${capital(the(subject))} still conducts ${show(current, "current")} when the run ends. Estimate:`;
  const ender = endingFuse(run, owner);
  const spared = ender !== null && ender.after < limit.after;
  const fate = spared
    ? `${the(partName(ender.found.subject))} melts about ${at(ender.after)}, before it comes to a limit.`
    : limit.after === 0
      ? `it is beyond a limit already and goes on from there.`
      : `at that current it ${limit.says} about ${at(limit.after)}, unless somebody acts before.`;
  const endedBy = spared ? partName(ender.found.subject) : null;
  return { subject, kind: "clamp conducting", sentence: `${start} ${fate}`, passesRating: !spared, endedBy };
}
