import type { LeadFindings, Run } from "../model/result.ts";
import { adiabaticI2t, COPPER_MELTING } from "../scenario/conductor.ts";
import { settledCopper } from "../scenario/copper-heat.ts";
import type { Lead } from "../scenario/types.ts";
import { copperReached } from "./copper.ts";
import { judgeLimit } from "./finding.ts";
import type { Finding } from "./types.ts";
import { capital, duration, show, the } from "./words.ts";

/** Short-circuit limits of insulation hold for overcurrents up to this long, s (common practice for the 160 °C of PVC, no source). */
export const SHORT_CIRCUIT_TIME = 5;

/** The limits of one lead, by its place in the run's list (sources' leads first). */
export function judgeLead(run: Run, index: number): readonly Finding[] {
  const found = run.leads[index];
  const lead = [...run.scenario.sources, ...run.scenario.loads][index]?.lead;
  if (found === undefined || lead === undefined) return [];
  const over = found.overcurrent.total;
  const short = over < SHORT_CIRCUIT_TIME;
  const findings = [copper(run, found, lead, short, over)];
  if (short && over > 0 && lead.insulation.shortCircuit > startOf(run, found))
    findings.push(adiabatic(run, found, lead));
  return findings;
}

/** What the copper had settled at in normal service, °C. */
const startOf = ({ scenario }: Run, { startRise }: LeadFindings): number => settledCopper(scenario.ambient, startRise);

function copper(run: Run, found: LeadFindings, lead: Lead, short: boolean, over: number): Finding {
  const { ambient } = run.scenario;
  const reached = Math.min(copperReached(found, lead, ambient), COPPER_MELTING);
  // What is too hot in normal service has been so for ever, however short the run.
  const passing = short && reached > lead.insulation.continuous && startOf(run, found) <= lead.insulation.continuous;
  const limit = passing ? lead.insulation.shortCircuit : lead.insulation.continuous;
  const which = passing
    ? `for a short circuit (overcurrent ${duration(over)}, below ${SHORT_CIRCUIT_TIME} s)`
    : "continuously";
  const subject = leadName(found);
  return judgeLimit({
    subject,
    quantity: passing ? "copper, short-circuit limit" : "copper, continuous limit",
    dimension: "temperature",
    rating: limit,
    found: reached,
    above: "beyond",
    ambient,
    burns: true,
    say: (severity) => {
      const says = `The copper of the ${subject} reached ${show(reached, "temperature", 4)}${reached < COPPER_MELTING ? "" : " and melts"}`;
      const allows = `its insulation allows ${show(limit, "temperature")} ${which}`;
      const why =
        ambient < limit ? ": the insulation melts or burns" : ", and the surroundings alone are as hot or hotter";
      return `${says}; ${allows}${severity === "ok" ? "" : `${why}. Fire hazard`}.`;
    },
  });
}

function adiabatic(run: Run, found: LeadFindings, lead: Lead): Finding {
  const limit = adiabaticI2t(lead.copperArea, startOf(run, found), lead.insulation.shortCircuit);
  const subject = leadName(found);
  return judgeLimit({
    subject,
    quantity: "I²t (IEC 60949)",
    dimension: "I2t",
    rating: limit,
    found: found.overcurrentI2t,
    above: "beyond",
    burns: true,
    say: (severity) => {
      const says = `${capital(the(subject))} carried ${show(found.overcurrentI2t, "I2t")} of overcurrent; without losing heat it stands ${show(limit, "I2t")}`;
      return severity === "ok" ? `${says}.` : `${says}: its insulation is past its short-circuit limit. Fire hazard.`;
    },
  });
}

/** `lead of the radio`. */
export const leadName = ({ owner }: LeadFindings): string => `lead of ${the(owner)}`;
