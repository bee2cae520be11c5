import type { LeadFindings, Run } from "../model/result.ts";
import { COPPER_HEATING, settledCopper, timeToCopper } from "../scenario/copper-heat.ts";
import type { Lead } from "../scenario/types.ts";
import { copperAt } from "./copper.ts";
import { endingFuse } from "./enders.ts";
import { leadName, SHORT_CIRCUIT_TIME } from "./leads.ts";
import { endOf, heatingCurrent } from "./look.ts";
import type { Pending } from "./types.ts";
import { when } from "./when.ts";
import { capital, longTime, partName, show, the } from "./words.ts";

/** Leads that carry more at the end of a run than their insulation stands for ever, with what becomes of them if that current goes on. */
export function leadsOverloaded(run: Run): readonly Pending[] {
  const leads = [...run.scenario.sources, ...run.scenario.loads].map(({ lead }) => lead);
  return run.leads.flatMap((found, index) => {
    const lead = leads[index];
    const current = heatingCurrent(run, found.owner) ?? 0;
    return lead === undefined ? [] : overloaded(run, found, lead, current);
  });
}

function overloaded(run: Run, found: LeadFindings, lead: Lead, current: number): readonly Pending[] {
  const { ambient } = run.scenario;
  const { insulation, timeConstant } = { ...lead, timeConstant: lead.thermalTimeConstant };
  const rest = (COPPER_HEATING * current ** 2 * timeConstant) / lead.copperArea ** 2;
  // Where the surroundings alone are too hot, no current is to blame.
  if (ambient >= insulation.continuous || settledCopper(ambient, rest) <= insulation.continuous) return [];
  const now = copperAt(found, lead, ambient, found.endRise);
  const to = (limit: number): number =>
    timeToCopper({ ambient, rest, timeConstant }, now, limit) ?? Number.POSITIVE_INFINITY;
  const lasting = Math.max(SHORT_CIRCUIT_TIME - found.overcurrent.total, to(insulation.continuous));
  const short = to(Math.max(insulation.continuous, insulation.shortCircuit));
  const after = Math.max(0, Math.min(lasting, short));
  const at = (time: number): string => when(run.scenario, endOf(run) + time, longTime);
  const ender = endingFuse(run, found.owner);
  const spared = ender !== null && ender.after < after;
  const limit = short < lasting ? insulation.shortCircuit : insulation.continuous;
  const which = short < lasting ? "for a short circuit" : "continuously";
  const fate = spared
    ? `${the(partName(ender.found.subject))} melts about ${at(ender.after)}, before its insulation comes to a limit.`
    : after === 0
      ? "its insulation is past its limit already."
      : `at that current its copper passes the ${show(limit, "temperature")} that its insulation allows ${which} about ${at(after)}, unless somebody acts before.`;
  const sentence = `${capital(the(leadName(found)))} still carries ${show(current, "current")} when the run ends, more than it is able to for ever. Estimate: ${fate}`;
  const endedBy = spared ? partName(ender.found.subject) : null;
  return [{ subject: leadName(found), kind: "overcurrent in a lead", sentence, passesRating: !spared, endedBy }];
}
