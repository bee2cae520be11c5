import { formatQuantity, type LoadVerdict, type Run } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";
import type { LaterEnd } from "./later-end.ts";
import { type Ending, type Outcome, tripsOn } from "./outcome-types.ts";
import { capital, roughTime, the, time } from "./words.ts";

/** Whether the radio comes back alone. */
export interface Return {
  /** `for a while`: as long as nothing in the line has given in. */
  readonly alone: boolean | "for a while" | null;
  readonly tag: string;
  readonly sentence: string;
}

/** What is left of a capacitor that empties for rounds on end, V: nobody could measure it. */
const NOTHING = 5e-3;

const HANDS: Readonly<Record<Ending, string>> = {
  fuse: "to replace the fuse",
  "fuse in doubt": "to replace the fuse",
  "fuse bursts": "to see what is left of the fuse, and to replace it",
  shorted: "to switch off before it burns, and to replace the SCR",
  trips: "to reset what was opened",
  overheats: "to reset what was opened",
  cycles: "to reset what was opened",
  held: "to switch the supply off",
  fired: "to reset the crowbar",
  latched: "to switch the supply off and on",
  "cut off": "to close the switch",
  "let go": "to reset what was opened",
  beyond: "to see what is left",
  quiet: "to see what happened",
  watched: "to see what happened",
  stopped: "to see what happened",
  unknown: "to see what happened",
};

/** Does the radio come back alone, or must somebody drive up? Of several loads the one that fares worst. */
export function returnOf({ run, verdict }: Pick<Answer, "run" | "verdict">, outcome: Outcome): Return {
  if (verdict.kind !== "verdict")
    return { alone: null, tag: "Not told", sentence: "There is no verdict to tell from." };
  const hurt = verdict.loads.find(({ grade }) => grade === "beyond");
  if (hurt !== undefined)
    return {
      alone: false,
      tag: "Drive up",
      sentence: `${capital(the(hurt.name))} was endangered: somebody must look.`,
    };
  const load = verdict.loads.toSorted((a, b) => order(b) - order(a))[0];
  const { ending, later } = outcome;
  const { starved } = load;
  const who = the(load.name);
  const comesBack = starved?.comesBack;
  if (comesBack === "by hand")
    return {
      alone: false,
      tag: "Drive up",
      sentence: `${spared(run, load, ending)}Somebody must drive up ${handsOn(run, outcome)}.`,
    };
  if (comesBack === "not told")
    return { alone: null, tag: "Not told", sentence: "The run does not tell whether it comes back." };
  if (later !== undefined) return forAWhile(who, later);
  if (comesBack === undefined)
    return { alone: true, tag: "Never off", sentence: `${capital(who)} never lacks its supply.` };
  // Between two trips it may have just been fed when the run ended.
  if (comesBack === "came back" && ending !== "trips" && ending !== "cycles")
    return {
      alone: true,
      tag: "Back alone",
      sentence: `${capital(who)} is back alone after ${time(starved?.total ?? 0)}.`,
    };
  return {
    alone: true,
    tag: "Back alone",
    sentence: `${capital(who)} comes back alone once the supply is well again.`,
  };
}

/** A gate that is kept on is not all that waits where the supply has latched off, too. */
function handsOn(run: Run, { ending }: Outcome): string {
  const both = ending === "fired" && run.sources.some(({ stateAtEnd }) => stateAtEnd === "latched off");
  return both ? `${HANDS.fired} and ${HANDS.latched}` : HANDS[ending];
}

/** A line that trips on works again by itself only while its parts hold out. */
function forAWhile(who: string, { what, after, found }: LaterEnd): Return {
  const span = found ? time(after) : roughTime(after);
  return {
    alone: "for a while",
    tag: `Back alone only within ${span}`,
    sentence: `${capital(who)} comes back alone if the supply is well again within ${span}; afterwards somebody must drive up to replace the ${what}${found ? "" : " (estimate)"}.`,
  };
}

/** Where the line goes on tripping and a load is cut off from it. */
function spared(run: Run, load: LoadVerdict, ending: Ending): string {
  const peak = run.loads.find(({ name }) => name === load.name)?.peakPerCycle.at(-1);
  if (!tripsOn({ ending }) || peak === undefined || peak >= load.minimum) return "";
  if (peak < NOTHING) return `Nothing reaches ${the(load.name)} any more. `;
  return `The pulses no longer reach ${the(load.name)}: at most ${formatQuantity(peak, "voltage", { digits: 2 })} in the last round. `;
}

const RANK = ["came back", "by itself", "not told", "by hand"];
const order = ({ starved }: LoadVerdict): number => (starved === null ? -1 : RANK.indexOf(starved.comesBack));
