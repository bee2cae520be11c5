import { isTold, OUTCOMES } from "../pool/outcome.ts";
import { type Rows, worstOf } from "./rows.ts";
import type { Sampling } from "./sampling.ts";

/** Does some runs: how many, and the values of each. */
type Stage = (count: number, make: (index: number) => readonly number[]) => Promise<Rows>;

/** Whether values are chosen in rounds: where all or none are wanted, or one, there is nothing to look at again. */
const inRounds = (spreads: number, wanted: number): boolean => wanted > 1 && wanted < spreads;

/** How many runs it takes to choose the most telling values, beside the nominal one and those that change one value alone. */
export function runsToChoose(spreads: number, wanted: number): number {
  if (!inRounds(spreads, wanted)) return 0;
  return Array.from({ length: wanted - 1 }, (_, k) => 1 + 2 * (spreads - k - 1)).reduce((sum, each) => sum + each, 0);
}

/**
 * The values whose corners are run, the most telling first. The first is the one that does most alone; each next one does most while those
 * before it stand at their worse ends: what a protector does that stands behind another shows only where the first one comes too late.
 *
 * @param alone the nominal values, then each value alone at its lower and at its upper end
 * @param wanted how many
 * @returns places in the spreads
 */
export async function mostTelling(
  alone: Rows,
  spreads: number,
  wanted: number,
  sampling: Sampling,
  stage: Stage,
): Promise<readonly number[]> {
  let left = Array.from({ length: spreads }, (_, which) => which);
  const first = byEffect(alone);
  if (!inRounds(spreads, wanted)) return first.map(({ place }) => place).slice(0, wanted);
  const chosen: number[] = [];
  let ends = 0;
  for (let rows = alone, [most] = first; ; [most] = byEffect(rows)) {
    ends |= upperIsWorse(rows, most.place) ? 1 << chosen.length : 0;
    chosen.push(left[most.place]);
    left = left.filter((which) => which !== left[most.place]);
    if (chosen.length === wanted) return chosen;
    const [base, candidates] = [ends, left];
    rows = await stage(1 + 2 * candidates.length, (index) => {
      if (index === 0) return sampling.corner(chosen, base);
      const upper = index % 2 === 0 ? 1 << chosen.length : 0;
      return sampling.corner([...chosen, candidates[(index - 1) >> 1]], base | upper);
    });
  }
}

/**
 * The values of a round in the order of what each of them does: first those that change the outcome, then those that move the load's peak
 * furthest; among equals in the order of the file.
 */
function byEffect({ outcomes, share }: Rows) {
  const effects = Array.from({ length: (outcomes.length - 1) / 2 }, (_, place) => {
    const ends = endsOf(place);
    const changes = ends.filter((end) => outcomes[end] !== outcomes[0]).length;
    const told = ends.every((end) => isTold(OUTCOMES[outcomes[end]]));
    const [low, high] = ends.map((end) => share[end]);
    const swing = told ? Math.max(Math.abs(high - low), Math.abs(high - share[0]), Math.abs(low - share[0])) : 0;
    return { place, changes, swing };
  });
  return effects.toSorted((a, b) => b.changes - a.changes || b.swing - a.swing || a.place - b.place);
}

/** Rows of a value's lower and upper end. */
const endsOf = (place: number): [number, number] => [1 + 2 * place, 2 + 2 * place];

function upperIsWorse(rows: Rows, place: number): boolean {
  const ends = endsOf(place);
  return worstOf(rows, ends) === ends[1];
}
