import { formatQuantity, type LoadVerdict, type Run, type Verdict } from "@railfault/sim";
import type { Answer } from "../../run/protocol.ts";

export type Ending = "fuse" | "shorted" | "trips" | "held" | "fired" | "latched" | "let go" | "quiet" | "unknown";

/** How a fault ended, or why it does not end. */
export interface Outcome {
  readonly ending: Ending;
  /** In a word or two. */
  readonly tag: string;
  /** When or how often, in as few words as fit under the tag. */
  readonly brief: string;
  readonly sentence: string;
}

export const time = (value: number, digits = 3): string => formatQuantity(value, "time", { digits });
const current = (value: number): string => formatQuantity(value, "current");

/** What ends the fault of a run; all times after the fault. */
export function outcomeOf({ run, verdict }: Pick<Answer, "run" | "verdict">): Outcome {
  if (verdict.kind !== "verdict")
    return { ending: "unknown", tag: "No verdict", brief: "", sentence: verdict.headline };
  return fuseBlown(run) ?? shorted(run) ?? tripping(run, verdict) ?? held(run) ?? latched(run) ?? quiet(run);
}

const since = (run: Run, instant: number): string => time(instant - run.scenario.faultTime);

function fuseBlown(run: Run): Outcome | null {
  const open = run.fuses.filter(({ openTime }) => openTime !== null);
  const first = open.toSorted((a, b) => (a.openTime ?? 0) - (b.openTime ?? 0))[0];
  if (first?.openTime == null) return null;
  const trips = run.crowbar?.firings.filter((at) => at <= (first.openTime ?? 0)).length ?? 0;
  const which = trips > 1 ? `, at trip number ${trips}` : "";
  return {
    ending: "fuse",
    tag: "Fuse blown",
    brief: `after ${since(run, first.openTime)}${trips > 1 ? `, trip ${trips}` : ""}`,
    sentence: `The ${first.label} is open ${since(run, first.openTime)} after the fault${which}.`,
  };
}

function shorted(run: Run): Outcome | null {
  if (run.crowbar?.failedShort !== true) return null;
  const failed = run.events.find(({ kind, subject }) => kind === "fails short" && subject.part === "crowbar");
  const when = failed === undefined ? "" : ` ${since(run, failed.time)} after the fault`;
  const amps = lastCurrent(run);
  const by = amps === null ? "" : `Held on at ${current(amps)}, `;
  return {
    ending: "shorted",
    tag: "SCR destroyed",
    brief: failed === undefined ? "" : `after ${since(run, failed.time)}`,
    sentence: `${by}${by ? "the" : "The"} SCR fails short${when}.`,
  };
}

function tripping(run: Run, verdict: Extract<Verdict, { kind: "verdict" }>): Outcome | null {
  const found = verdict.tripping.find(({ ended }) => !ended);
  if (found === undefined) return null;
  const end = laterEnd(run);
  return {
    ending: "trips",
    tag: "Trips again and again",
    brief: `every ${time(found.period)}${end === null ? "" : `; ${end.brief}`}`,
    sentence: `A trip every ${time(found.period)}. ${end?.sentence ?? "Nothing in the line ends it."}`,
  };
}

/** What is estimated to end or hurt a line that goes on tripping, whichever comes first; null: nothing. */
function laterEnd(run: Run): { readonly brief: string; readonly sentence: string } | null {
  const { crowbar, seriesSwitch, scenario } = run;
  const long = (crowbar?.cycling ?? seriesSwitch?.cycling)?.longRun;
  if (long == null) return null;
  const melts = Math.min(...long.fuses.map(({ meltTime }) => meltTime ?? Number.POSITIVE_INFINITY));
  const last = crowbar?.firings.at(-1) ?? 0;
  const [hotPeaks, hotMean] = [long.timeToPeakLimit, long.timeToJunctionLimit].map(
    (at) => last + (at ?? Number.POSITIVE_INFINITY),
  );
  const hot = Math.min(hotPeaks, hotMean);
  const at = (instant: number): string => time(Math.max(0, instant - scenario.faultTime), 2);
  if (melts <= hot && Number.isFinite(melts))
    return {
      brief: `fuse melts at ${at(melts)}`,
      sentence: `The fuse melts about ${at(melts)} after the fault (estimate).`,
    };
  if (!Number.isFinite(hot)) return null;
  return {
    brief: `SCR too hot at ${at(hot)}`,
    sentence: `Nothing ends it, and the SCR gets hotter than it is rated for about ${at(hot)} after the fault (estimate).`,
  };
}

function held(run: Run): Outcome | null {
  if (run.crowbar?.conductingAtEnd !== true) return null;
  const { crowbar } = run.scenario;
  if (crowbar?.variant === "held" && (lastCurrent(run) ?? 0) <= crowbar.holdingCurrent)
    return {
      ending: "fired",
      tag: "Stays fired",
      brief: "until reset",
      sentence: "The gate keeps the SCR fired until somebody resets it.",
    };
  const amps = lastCurrent(run);
  const at = amps === null ? "" : ` at ${current(amps)}`;
  return {
    ending: "held",
    tag: "Held on",
    brief: at.trim(),
    sentence: `The SCR is held on${at} until somebody switches off.`,
  };
}

function latched(run: Run): Outcome | null {
  if (!run.sources.some(({ stateAtEnd }) => stateAtEnd === "latched off")) return null;
  const last = run.events.findLast(({ kind }) => kind === "limiter trips" || kind === "over-voltage shutdown");
  const when = last === undefined ? "" : ` ${since(run, last.time)} after the fault`;
  return {
    ending: "latched",
    tag: "Latched off",
    brief: last === undefined ? "" : `after ${since(run, last.time)}`,
    sentence: `The supply latches off${when}, the SCR lets go.`,
  };
}

function quiet(run: Run): Outcome {
  const fired = run.crowbar?.firings.length ?? 0;
  if (fired > 0)
    return {
      ending: "let go",
      tag: "Let go",
      brief: `fired ${counted(fired)}`,
      sentence: `The crowbar fired ${counted(fired)} and let go; no fuse blew.`,
    };
  const what =
    run.crowbar === null ? "There is no crowbar, and no fuse blew." : "The crowbar never fired, no fuse blew.";
  return { ending: "quiet", tag: "Nothing happened", brief: "", sentence: what };
}

const counted = (count: number): string => (count === 1 ? "once" : `${count} times`);

/** Current through the SCR at the end of a run, A. */
function lastCurrent(run: Run): number | null {
  return run.trace.columns.find(({ name }) => name === "crowbar_A")?.values.at(-1) ?? null;
}

/** Whether the radio comes back alone. */
export interface Return {
  readonly alone: boolean | null;
  readonly tag: string;
  readonly sentence: string;
}

const HANDS: Readonly<Record<Ending, string>> = {
  fuse: "to replace the fuse",
  shorted: "to switch off before it burns, and to replace the SCR",
  trips: "to reset what was opened",
  held: "to switch the supply off",
  fired: "to reset the crowbar",
  latched: "to switch the supply off and on",
  "let go": "to reset what was opened",
  quiet: "to see what happened",
  unknown: "to see what happened",
};

/** Does the radio come back alone, or must somebody drive up? Of several loads the one that fares worst. */
export function returnOf({ run, verdict }: Pick<Answer, "run" | "verdict">, { ending }: Outcome): Return {
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
  const { starved } = load;
  const who = the(load.name);
  switch (starved?.comesBack) {
    case undefined:
      return { alone: true, tag: "Never off", sentence: `${capital(who)} never lacks its supply.` };
    case "came back":
      return {
        alone: true,
        tag: "Back alone",
        sentence: `${capital(who)} is back alone after ${time(starved?.total ?? 0)}.`,
      };
    case "by itself":
      return {
        alone: true,
        tag: "Back alone",
        sentence: `${capital(who)} comes back alone once the supply is well again.`,
      };
    case "by hand":
      return {
        alone: false,
        tag: "Drive up",
        sentence: `${spared(run, load, ending)}Somebody must drive up ${HANDS[ending]}.`,
      };
    default:
      return { alone: null, tag: "Not told", sentence: "The run does not tell whether it comes back." };
  }
}

/** Where the line goes on tripping and a load is cut off from it. */
function spared(run: Run, load: LoadVerdict, ending: Ending): string {
  const peak = run.loads.find(({ name }) => name === load.name)?.peakPerCycle.at(-1);
  return ending === "trips" && peak !== undefined && peak < load.minimum
    ? `The pulses no longer reach ${the(load.name)}: at most ${formatQuantity(peak, "voltage", { digits: 2 })} in the last round. `
    : "";
}

const RANK = ["came back", "by itself", "not told", "by hand"];
const order = ({ starved }: LoadVerdict): number => (starved === null ? -1 : RANK.indexOf(starved.comesBack));

/** A whole number with its thousands apart. */
export const grouped = (value: number): string => String(value).replace(/\B(?=(\d{3})+$)/g, "\u202f");

export const capital = (text: string): string => text.charAt(0).toUpperCase() + text.slice(1);
export const the = (name: string): string => (/^(the |[A-Z])/.test(name) ? name : `the ${name}`);
