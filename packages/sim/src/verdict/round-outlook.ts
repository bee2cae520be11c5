import type { LongRun, Run } from "../model/result.ts";
import { COPPER_HEATING, settledCopper, timeToCopper } from "../scenario/copper-heat.ts";
import { clampsOf } from "./clamp.ts";
import { firstLimit } from "./clamp-outlook.ts";
import { leadName } from "./leads.ts";
import { endOf } from "./look.ts";
import { show, the } from "./words.ts";

/** A limit that rounds come to if they go on as the last one was. */
export interface RoundLimit {
  /** Since the start of the run, s. */
  readonly time: number;
  /** `the clamp fails short, …`. */
  readonly says: string;
}

/** Clamps and leads that come to a limit by repeated tripping, from where the run leaves them. */
export function partsInRounds(run: Run, estimate: LongRun, period: number): readonly RoundLimit[] {
  return [...clamps(run, estimate), ...leads(run, estimate, period)];
}

function clamps(run: Run, estimate: LongRun): readonly RoundLimit[] {
  const { ambient } = run.scenario;
  return clampsOf(run).flatMap(({ subject, owner, spec, found }) => {
    const power = estimate.clamps.find((each) => each.subject.owner === owner)?.meanPower ?? 0;
    if (found.failedShort || !(power > 0)) return [];
    const { energy, endRise: rise, peakRise } = found;
    const swing = Math.max(0, peakRise - Math.max(rise, power * spec.thermalResistance));
    const limit = firstLimit(spec, ambient, { power, energy, rise, swing });
    return limit === null ? [] : [{ time: endOf(run) + limit.after, says: `${the(subject)} ${limit.says}` }];
  });
}

/** A round's heat counts as given at once: no peak of the copper stands farther above its mean. */
function leads(run: Run, estimate: LongRun, period: number): readonly RoundLimit[] {
  const { ambient, sources, loads } = run.scenario;
  return [...sources, ...loads].flatMap(({ name, lead }, index) => {
    const found = run.leads[index];
    const square = estimate.leads.find(({ owner }) => owner === name)?.meanSquare ?? 0;
    const speed = (COPPER_HEATING * square) / lead.copperArea ** 2;
    const timeConstant = lead.thermalTimeConstant;
    const limit = lead.insulation.continuous - speed * period;
    const heating = { ambient, rest: speed * timeConstant, timeConstant };
    // What the surroundings alone do is no matter of time.
    if (found === undefined || ambient >= lead.insulation.continuous) return [];
    if (settledCopper(ambient, heating.rest) <= limit) return [];
    const after = timeToCopper(heating, settledCopper(ambient, found.endRise), limit) ?? 0;
    const allowed = show(lead.insulation.continuous, "temperature");
    const says = `the copper of the ${leadName(found)} passes the ${allowed} that its insulation allows continuously`;
    return [{ time: endOf(run) + after, says }];
  });
}
