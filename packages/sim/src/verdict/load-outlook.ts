import type { LoadFindings, Run } from "../model/result.ts";
import { endOf, lastLoadVoltage } from "./look.ts";
import type { Pending } from "./types.ts";
import { when } from "./when.ts";
import { capital, duration, longTime, show, the } from "./words.ts";

/** Loads above their maximum when a run ends, which have withstood that so far: when their withstand curve ends. */
export function loadsAbove(run: Run): readonly Pending[] {
  return run.loads.flatMap((found) => {
    const voltage = lastLoadVoltage(run, found.name);
    return voltage === null || found.withstand.some(({ longest, allowed }) => longest > allowed)
      ? []
      : above(run, found, voltage);
  });
}

/** A stretch among others may be any of them: it counts as the longest, which ends soonest. */
function above(run: Run, { name, withstand }: LoadFindings, voltage: number): readonly Pending[] {
  const [first] = withstand
    .filter(({ level, allowed }) => voltage > level && Number.isFinite(allowed))
    .map(({ level, allowed, longest, total }) => ({
      level,
      allowed,
      after: allowed - longest,
      sure: total <= longest * 1.001,
    }))
    .toSorted((a, b) => a.after - b.after);
  if (first === undefined) return [];
  const stands = `${capital(the(name))} is still at ${show(voltage, "voltage")} when the run ends`;
  const at = when(run.scenario, endOf(run) + first.after, longTime);
  const sentence = `${stands}; it stands ${show(first.level, "voltage")} for ${duration(first.allowed)}. Estimate: at that voltage it is beyond what it stands ${first.sure ? "about" : "at the earliest"} ${at}, unless somebody acts before.`;
  return [{ subject: name, kind: "above its maximum", sentence, passesRating: true, endedBy: null }];
}
