import { headroomText } from "../../report/text-table.ts";
import { CAUTIONS } from "../../verdict/cautions.ts";
import { counted, duration, show } from "../../verdict/words.ts";
import { brokenOf, keepsAll } from "./combine.ts";
import { heatSinkToTake } from "./heat-sink.ts";
import type { Parts } from "./plan.ts";
import { mainReason } from "./remedy.ts";
import type { Candidate, Combination, Ending, MatchAnswer, Outcome, Remedy } from "./types.ts";

/** What was made of the combinations. */
interface Made {
  readonly remedy: Remedy | null;
  readonly runs: number;
  readonly stopped: boolean;
}

/** Endings from the most wanted on: a blown fuse needs nobody to hurry. */
const ENDINGS: readonly Ending[] = ["fuse blown", "shut off", "held on", "repeated tripping", "not ended", "not fired"];

/** Gathers the answer: the short list in its order, what fell out, and the headline. */
export function answerOf(parts: Parts, all: readonly Combination[], { remedy, runs, stopped }: Made): MatchAnswer {
  const kept = all.filter((each) => keepsAll(parts, each));
  const sound = kept.filter(isSound).sort(byAdvice);
  const bare = ({ name, yours, changes, checks }: Candidate): Candidate => ({ name, yours, changes, checks });
  return {
    kind: "answered",
    facts: parts.facts,
    fuses: parts.fuses.map(bare),
    scrs: [...parts.scrs, ...parts.refused.scrs].map(bare),
    wires: [...parts.wires, ...parts.refused.wires].map(bare),
    sound,
    fellInRun: kept.filter(({ outcome }) => outcome !== null && !outcome.sound),
    notRun: kept.filter(({ outcome }) => outcome === null),
    all,
    remedy: sound.length > 0 ? null : remedy,
    runs,
    stopped,
    headline: headline(parts, all, sound, kept, stopped),
    cautions: CAUTIONS,
  };
}

interface Sound extends Combination {
  readonly outcome: Outcome;
}

const isSound = (each: Combination): each is Sound => each.outcome?.sound === true;

function byAdvice(a: Sound, b: Sound): number {
  const ending = ({ outcome }: Sound): number => ENDINGS.indexOf(outcome.ending);
  const headroom = ({ outcome }: Sound): number => outcome.nearest?.headroom ?? 0;
  return ending(a) - ending(b) || a.changed - b.changed || headroom(b) - headroom(a);
}

function headline(
  parts: Parts,
  all: readonly Combination[],
  sound: readonly Combination[],
  kept: readonly Combination[],
  stopped: boolean,
): string {
  const { refused } = parts;
  const asked =
    parts.fuses.length * (parts.scrs.length + refused.scrs.length) * (parts.wires.length + refused.wires.length);
  const cut = stopped ? "Stopped early: " : "";
  const of = counted(asked, "combination");
  const [first] = sound;
  if (first === undefined) {
    const reason = mainReason(parts, all)?.sentence;
    const fell = kept.find(({ outcome }) => outcome !== null)?.outcome?.reasons[0];
    const why = fell ?? reason ?? "no part takes part.";
    const none = stopped && kept.some(({ outcome }) => outcome === null) ? "none found sound yet" : "none is sound";
    return `${cut}Of ${of} ${none}: ${lower(why)}`;
  }
  const told = all.find(({ changed, outcome }) => changed === 0 && outcome?.sound === true) ?? first;
  return `${cut}${counted(sound.length, "combination")} of ${asked} ${sound.length === 1 ? "is" : "are"} sound. ${yours(parts, all, first)}${besides(told)}`;
}

/** A headroom below this is told in the headline. */
const SCANT = 1.1;

/** Sound speaks of fuse, SCR, wire and loads: what is left beside them, and how narrowly they stand it, belongs beside the word. */
function besides({ outcome }: Combination): string {
  const near = outcome?.nearest ?? null;
  const scant =
    near === null || near.headroom >= SCANT
      ? ""
      : ` Its nearest limit is close: ${near.subject}, ${near.quantity}, ${headroomText(near.headroom)}.`;
  const hazards = outcome?.hazards ?? [];
  const left =
    hazards.length === 0
      ? ""
      : ` Sound are its fuse, SCR, wire and loads, but not the rest: ${lower(hazards.join(" "))}`;
  return `${scant}${left}`;
}

/** What stands in the file first, because that is what the reader has. */
function yours(parts: Parts, all: readonly Combination[], first: Combination): string {
  const own = all.find(({ changed }) => changed === 0);
  if (own?.outcome?.sound === true) {
    const besides = needsBesides(own);
    return besides === ""
      ? `What stands in the file is one of them: ${ended(own)}`
      : `The fuse, SCR and wire in the file are among them, but only with ${besides}: ${ended(own)}`;
  }
  const fused = parts.fuses.some((fuse) => fuse.yours);
  const best = `${first.fuse} with ${first.scr} and ${first.wire}: ${ended(first)}`;
  if (!fused) return `What stands in the file has no fuse before its SCR. First choice: ${best}`;
  if (own === undefined) return `First choice: ${best}`;
  const why = own.outcome?.reasons[0] ?? brokenOf(parts, own)[0]?.sentence ?? "";
  return `What stands in the file is not among them. ${why} First choice: ${best}`;
}

/** Thermal resistance of an SCR's case to ambient by itself, K/W: published for a 40 A part. */
const BARE_CASE = 60;

/** What the SCR must be bolted to, in words. */
export function heatSinkWords(needed: number): string {
  if (needed >= BARE_CASE) return "and needs no heat sink for that";
  return `on a heat sink of at most ${show(heatSinkToTake(needed), "thermal resistance", 2)}`;
}

/** Whether a combination is the file's own without any other change but a longer run. */
export function asItStands({ changed, changes }: Combination): boolean {
  return changed === 0 && changes.every(([path]) => path[0] === "run for");
}

/** What a combination needs beside its three parts, in words; empty where that is nothing. */
function needsBesides({ changes, heatSink, inductance }: Combination): string {
  const cooled = changes.some(([path]) => path.at(-1) === "case to ambient");
  return [
    ...(inductance === null ? [] : [`${show(inductance, "inductance")} in the SCR's branch`]),
    ...(cooled && heatSink !== null
      ? [`a heat sink of at most ${show(heatSinkToTake(heatSink), "thermal resistance", 2)}`]
      : []),
  ].join(" and ");
}

/** How the fault ended in its run, in one sentence. */
export function ended({ outcome, heatSink }: Combination): string {
  if (outcome === null) return "no full run was made.";
  switch (outcome.ending) {
    case "fuse blown":
      return outcome.openAfter === null
        ? "a fuse ends the fault."
        : `the fuse is open ${duration(outcome.openAfter)} after the fault.`;
    case "held on":
      return heatSink === null
        ? "the SCR is held on until somebody switches the source off."
        : `the SCR is held on until somebody switches the source off, ${heatSinkWords(heatSink)}.`;
    case "repeated tripping":
      return "the crowbar trips again and again, and everything stands it.";
    case "shut off":
      return "the supply shuts itself off.";
    case "not ended":
      return "nothing has ended the fault when the run ends.";
    case "not fired":
      return "the crowbar never fires.";
  }
}

const lower = (text: string): string =>
  /^[A-Z][a-z]/.test(text) ? text.charAt(0).toLowerCase() + text.slice(1) : text;
