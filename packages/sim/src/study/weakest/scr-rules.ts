import type { Crowbar, Scenario } from "../../scenario/types.ts";
import { firstMicrosecondPeak, riseRemedy, surroundingsOf } from "../../verdict/current-rise.ts";
import { show } from "../../verdict/words.ts";
import { checkOf } from "./check.ts";
import { dumpOf } from "./dump.ts";
import type { Lasting } from "./fault-current.ts";
import type { Check, Mend } from "./types.ts";

/** The first microsecond of a rating of current rise, s. */
const FIRST = 1e-6;
/** A new inductance keeps this much of the rating, for the voltage at the firing lies above the trip point on a steep ramp. */
const RISE_USE = 0.8;

/** Rules of one SCR on one line, with the inductance that mends its current rise (H; null where none is needed or none helps). */
export interface ScrRules {
  readonly checks: readonly Check[];
  readonly inductance: number | null;
}

/** The rules of an SCR alone: what the capacitors dump into it, how fast its current rises, whether it stays on. */
export function scrRules(name: string, scenario: Scenario, crowbar: Crowbar, lasting: Lasting): ScrRules {
  const { rise, inductance } = currentRise(name, scenario, crowbar);
  return { checks: [dump(name, scenario, crowbar), rise, holding(name, crowbar, lasting)], inductance };
}

function dump(name: string, scenario: Scenario, crowbar: Crowbar): Check {
  // All of it, whichever way it takes.
  const { throughFuse, beside } = dumpOf(scenario, { kind: "main" });
  const found = throughFuse + beside;
  const allowed = crowbar.ratings.i2t;
  return checkOf({
    rule: "dump",
    subject: "SCR",
    dimension: "I2t",
    found,
    allowed,
    bound: "at most",
    sentence: `The charged capacitors alone drive ${show(found, "I2t")} through ${name}; it stands ${show(allowed, "I2t")}.`,
    mend: largerScr(name, crowbar, found),
  });
}

/**
 * An SCR of the same kind with a larger surge rating, as a change of the file.
 *
 * @param i2t that it must stand, A²s
 */
export function largerScr(name: string, { ratings }: Crowbar, i2t: number): Mend {
  // A tenth more, so that the change does not end at the limit itself.
  const factor = Math.sqrt((1.1 * i2t) / ratings.i2t);
  const surge = Math.ceil((ratings.surgeCurrent * factor) / 10) * 10;
  const stands = Math.ceil((ratings.i2t * (surge / ratings.surgeCurrent) ** 2) / 10) * 10;
  return {
    words: `an SCR like ${name} with a surge rating of ${show(surge, "current", 4)} and an I²t of ${show(stands, "I2t")}`,
    changes: [
      [["crowbar", "ratings", "surge current"], `${surge} A`],
      [["crowbar", "ratings", "I2t"], `${stands} A2s`],
    ],
  };
}

function currentRise(
  name: string,
  scenario: Scenario,
  crowbar: Crowbar,
): { readonly rise: Check; readonly inductance: number | null } {
  const around = surroundingsOf(scenario);
  const resistance = crowbar.slopeResistance + crowbar.stubResistance;
  const above = Math.max(0, crowbar.tripVoltage - crowbar.thresholdVoltage);
  const found = (firstMicrosecondPeak(crowbar.inductance, resistance, around) * above) / FIRST;
  const rating = crowbar.ratings.currentRise;
  const of = `Fired at its trip point, ${name} sees its current rise by ${show(found, "current slew")} in the first microsecond`;
  const common = { rule: "current rise", subject: "SCR", dimension: "current slew", found, bound: "at most" } as const;
  if (rating === null)
    return {
      rise: checkOf({ ...common, allowed: found, sentence: `${of}; no rating is known.` }),
      inductance: null,
    };
  const allows = `${show(rating, "current slew")} is allowed`;
  if (found <= rating)
    return { rise: checkOf({ ...common, allowed: rating, sentence: `${of}; ${allows}.` }), inductance: null };
  const { inductance } = riseRemedy(crowbar, around, found, RISE_USE * rating);
  if (inductance === null)
    return { rise: checkOf({ ...common, allowed: rating, sentence: `${of}; only ${allows}.` }), inductance: null };
  const round = roundedUp(inductance);
  const sentence = `${of} with the ${show(crowbar.inductance, "inductance")} of its branch; only ${allows}, which ${show(round, "inductance")} keep.`;
  // Kept, because a few turns of wire keep it: the combination carries them along.
  return { rise: checkOf({ ...common, found: rating, allowed: rating, sentence }), inductance: round };
}

/** Two digits, rounded up. */
export function roundedUp(value: number): number {
  const unit = 10 ** (Math.floor(Math.log10(value)) - 1);
  return Number((Math.ceil(value / unit - 1e-9) * unit).toPrecision(2));
}

function holding(name: string, crowbar: Crowbar, lasting: Lasting): Check {
  const needed = Math.max(crowbar.holdingCurrent, crowbar.latchingCurrent);
  return checkOf({
    rule: "holding",
    subject: "SCR",
    dimension: "current",
    found: lasting.scr,
    allowed: needed,
    bound: "at least",
    sentence: `The sources drive ${show(lasting.scr, "current")} through ${name}; it stays on from ${show(needed, "current")} (latching and holding current).`,
  });
}
