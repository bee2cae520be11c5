import type { Run } from "../model/result.ts";
import type { Battery } from "../scenario/types.ts";
import { trippingOn } from "./cycling.ts";
import { holdingTold } from "./holding.ts";
import { endOf, lastCurrent } from "./look.ts";
import { movingOn } from "./moving.ts";
import { restarts } from "./sources.ts";
import type { Pending } from "./types.ts";
import { when } from "./when.ts";
import { capital, longTime, show, the } from "./words.ts";

/** A battery counts as being charged from this share of its capacity per hour on; below it, a float charge makes up for its losses. */
const CHARGING = 0.01;

/**
 * What is still going on when a run ends: an SCR that is held on, repeated tripping, a supply that goes on and off, a set voltage that moves,
 * a battery that is being charged; each with what becomes of it by estimate.
 */
export function pendingOf(run: Run): readonly Pending[] {
  const held = holdingTold(run, endOf(run));
  const tripping = trippingOn(run);
  return [
    ...(held === null ? [] : [{ subject: "crowbar", kind: "held on", ...held } as const]),
    ...tripping.map((each) => ({ ...each, kind: "repeated tripping" }) as const),
    ...run.scenario.sources.flatMap((source) => [
      ...onAndOff(run, source.name),
      // Where tripping or a limiter ends the rise again and again, that is told instead.
      ...(tripping.length === 0 && restarts(run, source.name)?.goesOn !== true ? movingOn(run, source) : []),
      ...(source.kind === "battery" ? charging(run, source) : []),
    ]),
  ];
}

const ENDLESS: readonly Pending["kind"][] = ["held on", "repeated tripping", "going on and off"];

/** Goes on for ever unless somebody acts. */
export const isEndless = ({ kind }: Pending): boolean => ENDLESS.includes(kind);

function onAndOff(run: Run, name: string): readonly Pending[] {
  const often = restarts(run, name);
  return often?.goesOn === true
    ? [{ subject: name, kind: "going on and off", sentence: often.sentence, passesRating: false }]
    : [];
}

/** The last current is taken as lasting: a charger that tapers it off takes longer. */
function charging(run: Run, battery: Battery): readonly Pending[] {
  const { name, capacityAh, initialCharge } = battery;
  const charge = run.sources.find((source) => source.name === name)?.charge?.end ?? null;
  const current = -(lastCurrent(run, name) ?? 0);
  if (charge === null || current < CHARGING * capacityAh) return [];
  const says = `${capital(the(name))} is still being charged with ${show(current, "current")} when the run ends`;
  const full = Math.max(1, initialCharge);
  const fate =
    charge >= full
      ? "It is full already and goes on being overcharged: it heats up and gasses."
      : `Estimate: at that current it is full ${when(run.scenario, endOf(run) + (3600 * (full - charge) * capacityAh) / current, longTime)}, and overcharged from there on.`;
  return [{ subject: name, kind: "charging", sentence: `${says}. ${fate}`, passesRating: false }];
}
