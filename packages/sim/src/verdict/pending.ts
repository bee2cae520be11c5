import type { Run } from "../model/result.ts";
import { chargingInRounds, chargingOn } from "./charging.ts";
import { clampsConducting } from "./clamp-outlook.ts";
import { NOT_KNOWN, trippingOn } from "./cycling.ts";
import { isSteady } from "./enders.ts";
import { holdingsTold } from "./holding.ts";
import { leadsOverloaded } from "./lead-outlook.ts";
import { loadsAbove } from "./load-outlook.ts";
import { movingOn } from "./moving.ts";
import { restarts } from "./sources.ts";
import type { Pending } from "./types.ts";

/**
 * What is still going on when a run ends: an SCR that is held on, repeated tripping, a clamp that conducts, a lead that carries more than it is able to for ever, a load
 * above its maximum, a supply that goes on and off, a set voltage that moves, a battery that is being charged; each with what becomes of it by estimate.
 */
export function pendingOf(run: Run): readonly Pending[] {
  const tripping = trippingOn(run);
  const steady = isSteady(run, tripping.length > 0);
  return [
    ...holdingsTold(run).map((each) => ({ ...each, kind: "held on" }) as const),
    ...tripping.map((each) => ({ ...each, kind: "repeated tripping", endedBy: null }) as const),
    ...run.scenario.sources.flatMap((source) => [
      ...onAndOff(run, source.name),
      // Where tripping or a limiter ends the rise again and again, that is told instead.
      ...(tripping.length === 0 && restarts(run, source.name)?.goesOn !== true ? movingOn(run, source) : []),
      ...(source.kind === "battery" ? (steady ? chargingOn : chargingInRounds)(run, source) : []),
    ]),
    ...(steady ? [...clampsConducting(run), ...leadsOverloaded(run), ...loadsAbove(run)] : []),
  ];
}

const ENDLESS: readonly Pending["kind"][] = ["held on", "repeated tripping", "going on and off"];

/** Goes on for ever unless somebody acts; what a fuse is about to end does not. */
export const isEndless = ({ kind, endedBy }: Pending): boolean => ENDLESS.includes(kind) && endedBy === null;

function onAndOff(run: Run, name: string): readonly Pending[] {
  const often = restarts(run, name);
  return often?.goesOn === true
    ? [
        {
          subject: name,
          kind: "going on and off",
          sentence: `${often.sentence} ${NOT_KNOWN}`,
          passesRating: false,
          endedBy: null,
        },
      ]
    : [];
}
