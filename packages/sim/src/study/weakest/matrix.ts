import type { MatchCell, MatchData } from "../../report/figure/match-types.ts";
import { broken } from "./check.ts";
import { type Pair, pairsOf, RULE_WORDS, shortVolts } from "./groups.ts";
import type { Candidate, Check, MatchAnswer, RuleName } from "./types.ts";

/** More rows nobody reads at once. */
const MOST_ROWS = 9;
/** So many fuses that fell out by themselves show how near the others are. */
const FALLEN_ROWS = 3;

const WIRE_RULES: readonly RuleName[] = ["wire in service", "wire behind fuse", "short circuit", "voltage drop"];

/**
 * What the matrix of combinations draws of an answer.
 *
 * @example matchFigure(matchData(answer), { document })
 */
export function matchData(answer: MatchAnswer): MatchData {
  const pairs = pairsOf(answer);
  const used = new Set<RuleName>();
  const rows = rowsOf(answer, pairs).map((fuse) => ({
    fuse: fuse.name,
    yours: fuse.yours,
    withScrs: answer.scrs.map((scr) => scrCell(fuse, scr, pairs, used)),
    withWires: answer.wires.map((wire) => wireCell(answer, fuse, wire, used)),
  }));
  const { title } = answer.facts;
  return {
    title: `${title === "" ? "A 12 V line" : title}: which fuse with which SCR and wire?`,
    subtitle: answer.headline,
    scrs: answer.scrs.map(({ name }) => name),
    wires: answer.wires.map(({ name }) => name),
    rows,
    words: [...used].map((rule) => RULE_WORDS[rule]),
    leftOut: leftOut(answer, rows.length),
  };
}

/** The user's own first, then those with something sound, those that go with nothing, and the nearest that fell out by themselves. */
function rowsOf({ fuses }: MatchAnswer, pairs: readonly Pair[]): readonly Candidate[] {
  const sound = (fuse: Candidate): number =>
    pairs.filter((pair) => pair.fuse === fuse.name && pair.sound.length > 0).length;
  const short = ({ checks }: Candidate): number => Math.max(1, ...broken(checks).map(({ shortBy }) => shortBy));
  const alone = fuses.filter(({ checks, yours }) => yours || broken(checks).length === 0);
  const fallen = fuses.filter((each) => !alone.includes(each)).sort((a, b) => short(a) - short(b));
  const ranked = [...alone].sort((a, b) => Number(b.yours) - Number(a.yours) || sound(b) - sound(a));
  return [...ranked.slice(0, MOST_ROWS - FALLEN_ROWS), ...fallen.slice(0, FALLEN_ROWS)];
}

function leftOut({ fuses }: MatchAnswer, shown: number): string {
  const more = fuses.length - shown;
  return more <= 0
    ? ""
    : `${more} more ${more === 1 ? "fuse is" : "fuses are"} not shown; the text gives the reasons, one for all that fell out alike.`;
}

function wordOf(check: Pick<Check, "rule">, used: Set<RuleName>): string {
  used.add(check.rule);
  return RULE_WORDS[check.rule].word;
}

function scrCell(fuse: Candidate, scr: Candidate, pairs: readonly Pair[], used: Set<RuleName>): MatchCell {
  const [own] = [...broken(fuse.checks), ...broken(scr.checks)];
  if (own !== undefined) return { state: "fell alone", text: wordOf(own, used) };
  const pair = pairs.find((each) => each.fuse === fuse.name && each.scr === scr.name);
  if (pair === undefined) return { state: "fell alone", text: "–" };
  if (pair.sound.length > 0) return { state: "sound", text: pair.sound[0] };
  if (pair.reason === null) return { state: "kept", text: "no run" };
  return { state: "fell together", text: wordOf(pair.reason, used) };
}

/** Rules of wires do not ask for the SCR beyond a little: that of the best pair stands for all. */
function wireCell(
  answer: MatchAnswer,
  fuse: Candidate,
  { name: wire, checks }: Candidate,
  used: Set<RuleName>,
): MatchCell {
  const own = [...broken(fuse.checks), ...broken(checks)][0];
  const all = answer.all.filter((each) => each.fuse === fuse.name && each.wire === wire);
  const [first] = all.toSorted((a, b) => Number(b.outcome?.sound ?? false) - Number(a.outcome?.sound ?? false));
  if (first === undefined) return { state: "fell alone", text: own === undefined ? "–" : wordOf(own, used) };
  const [failed] = broken(first.checks.filter(({ rule }) => WIRE_RULES.includes(rule)));
  if (failed !== undefined) return { state: "fell together", text: wordOf(failed, used) };
  return own === undefined
    ? { state: "kept", text: shortVolts(first.drop) }
    : { state: "fell alone", text: wordOf(own, used) };
}
