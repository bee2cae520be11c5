import type { LoadFindings, Run } from "../model/result.ts";
import { endOf, lastLoadVoltage } from "./look.ts";
import type { Pending } from "./types.ts";
import { when } from "./when.ts";
import { capital, duration, longTime, show, the } from "./words.ts";

/** Loads above their maximum when a run ends, which have withstood that so far: when their withstand curve ends. */
export function loadsAbove(run: Run): readonly Pending[] {
  return run.loads.flatMap((found) => {
    const end = withstandEnd(run, found);
    if (end === null) return [];
    const stands = `${capital(the(found.name))} is still at ${show(end.voltage, "voltage")} when the run ends`;
    const sentence = `${stands}; it stands ${show(end.level, "voltage")} for ${duration(end.allowed)}. Estimate: at that voltage it is beyond what it stands ${end.at}, unless somebody acts before.`;
    return [{ subject: found.name, kind: "above its maximum", sentence, passesRating: true, endedBy: null }];
  });
}

interface WithstandEnd {
  /** V: what the load is left at, and the level of its curve that ends first, with its time in s. */
  readonly voltage: number;
  readonly level: number;
  readonly allowed: number;
  /** `about 1 s after the fault` */
  readonly at: string;
}

/**
 * When a load that is left above its maximum is beyond what it stands; null where it is not left so, or is beyond already. A stretch among others may be any of
 * them: it counts as the longest, which ends soonest.
 */
export function withstandEnd(run: Run, { name, withstand }: LoadFindings): WithstandEnd | null {
  const voltage = lastLoadVoltage(run, name);
  if (voltage === null || withstand.some(({ longest, allowed }) => longest > allowed)) return null;
  const [first] = withstand
    .filter(({ level, allowed }) => voltage > level && Number.isFinite(allowed))
    .map(({ level, allowed, longest, total }) => ({
      level,
      allowed,
      after: allowed - longest,
      sure: total <= longest * 1.001,
    }))
    .toSorted((a, b) => a.after - b.after);
  if (first === undefined) return null;
  const at = when(run.scenario, endOf(run) + first.after, longTime);
  return {
    voltage,
    level: first.level,
    allowed: first.allowed,
    at: `${first.sure ? "about" : "at the earliest"} ${at}`,
  };
}
