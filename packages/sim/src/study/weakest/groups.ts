import { show } from "../../verdict/words.ts";
import { broken } from "./check.ts";
import type { Candidate, Check, Combination, MatchAnswer, RuleName } from "./types.ts";

/** Short words for cells of a matrix, and what each means. */
export const RULE_WORDS: Readonly<Record<RuleName, { readonly word: string; readonly meaning: string }>> = {
  "continuous load": { word: "load", meaning: "carries less for good than the line draws" },
  "switch-on pulse": { word: "pulse", meaning: "tires of charging the loads’ inputs" },
  "breaking capacity": { word: "break", meaning: "may not break the short-circuit current, or nobody knows" },
  "rated voltage": { word: "volts", meaning: "rated below the fault voltage" },
  "load's wire": { word: "lead", meaning: "does not guard the load’s own lead" },
  dump: { word: "dump", meaning: "the capacitors alone exceed the SCR’s I²t" },
  surge: { word: "I²t", meaning: "dump, melting and arcing exceed the SCR’s I²t" },
  "surge time": { word: "time", meaning: "the fuse takes longer than the SCR’s surge rating" },
  "current rise": { word: "di/dt", meaning: "the SCR’s current rises too fast" },
  holding: { word: "hold", meaning: "the supply cannot keep the SCR on" },
  "heat sink": { word: "heat", meaning: "held on, and no heat sink is large enough" },
  "wire in service": { word: "hot", meaning: "the wire is too warm in normal service" },
  "wire behind fuse": { word: "wire", meaning: "the fuse lets the wire overheat for good" },
  "short circuit": { word: "short", meaning: "the wire does not stand what the fuse lets through" },
  "voltage drop": { word: "drop", meaning: "too much voltage is lost in service" },
  file: { word: "file", meaning: "the file cannot be used with it" },
  simulation: { word: "run", meaning: "kept every rule, but the full run showed otherwise" },
};

/** Parts that fell out by the same rule: the nearest told, the others named. */
export interface Fallen {
  readonly rule: RuleName;
  readonly names: readonly string[];
  readonly yours: boolean;
  readonly sentence: string;
}

/** Parts that fell out by themselves: the user's own alone and in full, the others gathered by their first broken rule. */
export function fallenParts(candidates: readonly Candidate[]): readonly Fallen[] {
  const failed = candidates.flatMap((candidate) => {
    const [first] = broken(candidate.checks);
    return first === undefined ? [] : [{ ...candidate, first }];
  });
  const own = failed.filter(({ yours }) => yours);
  const rules = [...new Set(failed.filter(({ yours }) => !yours).map(({ first }) => first.rule))];
  return [
    ...own.map(
      ({ name, first }): Fallen => ({ rule: first.rule, names: [name], yours: true, sentence: first.sentence }),
    ),
    ...rules.map((rule): Fallen => {
      const same = failed.filter(({ yours, first }) => !yours && first.rule === rule);
      const [nearest] = same.toSorted((a, b) => a.first.shortBy - b.first.shortBy);
      // The nearest first: the sentence tells of it.
      const names = [nearest, ...same.filter((each) => each !== nearest)].map(({ name }) => name);
      return { rule, names, yours: false, sentence: nearest.first.sentence };
    }),
  ];
}

/** One fuse with one SCR over all wires. */
export interface Pair {
  readonly fuse: string;
  readonly scr: string;
  /** The best combination: sound, else not run, else the one that broke the fewest rules. */
  readonly best: Combination;
  /** Sound wires, and those that keep the rules without having been run. */
  readonly sound: readonly string[];
  readonly notRun: readonly string[];
  /** Null where it is sound or was not run. */
  readonly reason: { readonly rule: RuleName; readonly sentence: string } | null;
}

/** Every pair of a fuse and an SCR that keep their own rules. */
export function pairsOf(answer: MatchAnswer): readonly Pair[] {
  const alone = (list: readonly Candidate[]) =>
    new Set(list.filter(({ checks }) => broken(checks).length === 0).map(({ name }) => name));
  const [fuses, scrs] = [alone(answer.fuses), alone(answer.scrs)];
  const groups = new Map<string, Combination[]>();
  for (const each of answer.all) {
    if (!fuses.has(each.fuse) || !scrs.has(each.scr)) continue;
    const key = `${each.fuse} + ${each.scr}`;
    groups.set(key, [...(groups.get(key) ?? []), each]);
  }
  return [...groups.values()].map((group) => pairOf(group, answer.wires));
}

function pairOf(group: readonly Combination[], wires: readonly Candidate[]): Pair {
  const failed = ({ wire, checks }: Combination): readonly Check[] =>
    broken([...wires.filter(({ name }) => name === wire).flatMap((each) => each.checks), ...checks]);
  const kept = group.filter((each) => failed(each).length === 0);
  const sound = kept.filter(({ outcome }) => outcome?.sound === true);
  const notRun = kept.filter(({ outcome }) => outcome === null);
  const nearest = [...group].sort((a, b) => failed(a).length - failed(b).length)[0];
  const own = sound.find(({ yoursWire }) => yoursWire);
  const best = own ?? sound[0] ?? kept.find(({ outcome }) => outcome !== null) ?? notRun[0] ?? nearest;
  const names = (list: readonly Combination[]) => list.map(({ wire }) => wire);
  const ran = best.outcome !== null && !best.outcome.sound ? best.outcome.reasons[0] : null;
  const [rule] = failed(best);
  const reason =
    ran !== null && ran !== undefined
      ? { rule: "simulation" as const, sentence: ran }
      : rule === undefined
        ? null
        : { rule: rule.rule, sentence: rule.sentence };
  return { fuse: best.fuse, scr: best.scr, best, sound: names(sound), notRun: names(notRun), reason };
}

/** Voltage in at most five characters. */
export const shortVolts = (value: number): string =>
  value < 0.1 ? show(value, "voltage", 2) : `${value.toFixed(2)} V`;
