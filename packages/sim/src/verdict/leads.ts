import type { LeadFindings, Run } from "../model/result.ts";
import { adiabaticI2t, COPPER_MELTING } from "../scenario/conductor.ts";
import type { Lead } from "../scenario/types.ts";
import { judgeLimit } from "./finding.ts";
import { endOf, timeAboveCurrent } from "./look.ts";
import type { Finding } from "./types.ts";
import { capital, duration, show, the } from "./words.ts";

/** Short-circuit limits of insulation hold for overcurrents up to this long, s (common practice for the 160 °C of PVC, no source). */
const SHORT_CIRCUIT_TIME = 5;

/** Resistivity over density and specific heat of copper, K·m⁴/(A²·s); the model's leads warm by the same. */
const COPPER_HEATING = 5e-15;

/** Current that in the end warms the copper just to a temperature, A. */
function steadyCurrent(lead: Lead, temperature: number, ambient: number): number {
  const rise = Math.max(0, temperature - ambient);
  return lead.copperArea * Math.sqrt(rise / (COPPER_HEATING * lead.thermalTimeConstant));
}

/** The limits of one lead, by its place in the run's list (sources' leads first). */
export function judgeLead(run: Run, index: number): readonly Finding[] {
  const found = run.leads[index];
  const lead = [...run.scenario.sources, ...run.scenario.loads][index]?.lead;
  if (found === undefined || lead === undefined) return [];
  const over = overcurrentTime(run, found, lead);
  const short = over !== null && over < SHORT_CIRCUIT_TIME;
  const findings = [copper(run, found, lead, short, over)];
  if (endOf(run) <= SHORT_CIRCUIT_TIME && lead.insulation.shortCircuit > run.scenario.ambient)
    findings.push(adiabatic(run, found, lead));
  return findings;
}

/** Time above the current that it carries for ever, s; null where the trace does not tell and the run is too long to be sure. */
function overcurrentTime(run: Run, found: LeadFindings, lead: Lead): number | null {
  const { ambient } = run.scenario;
  const forEver = steadyCurrent(lead, lead.insulation.continuous, ambient);
  if (found.peakCurrent <= forEver) return 0;
  const end = endOf(run);
  return timeAboveCurrent(run, found.owner, forEver) ?? (end < SHORT_CIRCUIT_TIME ? end : null);
}

function copper(run: Run, found: LeadFindings, lead: Lead, short: boolean, over: number | null): Finding {
  const { ambient } = run.scenario;
  const reached = Math.min(ambient + found.peakRise, COPPER_MELTING);
  const passing = short && reached > lead.insulation.continuous;
  const limit = passing ? lead.insulation.shortCircuit : lead.insulation.continuous;
  const which = passing
    ? `for a short circuit (overcurrent ${duration(over ?? 0)}, below ${SHORT_CIRCUIT_TIME} s)`
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
      return severity === "ok"
        ? `${says}; ${allows}.`
        : `${says}; ${allows}: the insulation melts or burns. Fire hazard.`;
    },
  });
}

function adiabatic(run: Run, found: LeadFindings, lead: Lead): Finding {
  const limit = adiabaticI2t(lead.copperArea, run.scenario.ambient, lead.insulation.shortCircuit);
  const subject = leadName(found);
  return judgeLimit({
    subject,
    quantity: "I²t (IEC 60949)",
    dimension: "I2t",
    rating: limit,
    found: found.i2t,
    above: "beyond",
    burns: true,
    say: (severity) => {
      const says = `${capital(the(subject))} carried ${show(found.i2t, "I2t")}; without losing heat it stands ${show(limit, "I2t")}`;
      return severity === "ok" ? `${says}.` : `${says}: its insulation is past its short-circuit limit. Fire hazard.`;
    },
  });
}

const leadName = ({ owner }: LeadFindings): string => `lead of ${the(owner)}`;
