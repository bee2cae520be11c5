/** Longer words are not compared: the work grows with the product of the lengths. */
const LONGEST = 60;

/**
 * The name in a list that a misspelt word most likely means.
 *
 * @param word what was written
 * @param names what exists
 * @returns the nearest by edit distance, ignoring case first; null where none is near (more than a third of the letters off)
 *
 * @example nearest("trip votlage", ["trip voltage", "off voltage"]) // "trip voltage"
 */
export function nearest(word: string, names: readonly string[]): string | null {
  if (word.length === 0 || word.length > LONGEST) return null;
  const lower = word.toLowerCase();
  let best: string | null = null;
  let bestDistance = Number.POSITIVE_INFINITY;
  for (const name of names) {
    if (Math.abs(name.length - word.length) > LONGEST / 3) continue;
    // Less than one step, these decide only between equals: a difference of case alone, of length, of the first number.
    const tie =
      (word === name ? 0 : 0.1 * Math.min(4, Math.abs(name.length - word.length))) + 0.4 * numberDifference(word, name);
    const distance = editDistance(lower, name.toLowerCase()) + tie;
    if (distance < bestDistance) {
      bestDistance = distance;
      best = name;
    }
  }
  const allowed = Math.max(1, Math.floor(Math.max(word.length, best?.length ?? 0) / 3));
  return bestDistance < allowed + 1 ? best : null;
}

/** More names than this say nothing of what was meant. */
const MOST_SHARING = 3;

/**
 * The names in a list that hold every word of what was written, numbers counted as words: `SCR55` is in `SCR 55 A`, `trip` in `trip voltage`.
 *
 * @param word what was written
 * @param names what exists
 * @returns the shortest first, at most three; empty where none holds them all, or no word of two letters was written
 *
 * @example namesHolding("linear 35 A", ["linear supply 20 A", "linear supply 35 A"]) // ["linear supply 35 A"]
 */
export function namesHolding(word: string, names: readonly string[]): string[] {
  if (word.length > LONGEST) return [];
  const wanted = wordsOf(word);
  if (!wanted.some((each) => /\p{L}{2}/u.test(each))) return [];
  return names
    .map((name) => ({ name, own: wordsOf(name) }))
    .filter(({ own }) => wanted.every((each) => own.includes(each)))
    .toSorted((a, b) => a.own.length - b.own.length)
    .slice(0, MOST_SHARING)
    .map(({ name }) => name);
}

const wordsOf = (text: string): readonly string[] => text.toLowerCase().match(/\p{L}+|\d+(?:\.\d+)?/gu) ?? [];

/** 0 for the same first number (or none), towards 1 the further apart: `22 A` is nearer to `20 A` than to `2 A`. */
function numberDifference(a: string, b: string): number {
  const [x, y] = [a, b].map((text) => Number(/\d+(?:\.\d+)?/.exec(text)?.[0] ?? Number.NaN));
  if (!(x > 0 && y > 0)) return 0;
  return Math.min(1, Math.abs(Math.log(x / y)));
}

/**
 * Edit distance: the fewest insertions, deletions, replacements and swaps of neighbours that turn one word into the
 * other (optimal string alignment).
 *
 * @example editDistance("fast", "fats") // 1
 */
export function editDistance(a: string, b: string): number {
  let beforePrevious: number[] = [];
  let previous = Array.from({ length: b.length + 1 }, (_, index) => index);
  for (let row = 1; row <= a.length; row += 1) {
    const current = [row];
    for (let column = 1; column <= b.length; column += 1) {
      const replaced = previous[column - 1] + (a[row - 1] === b[column - 1] ? 0 : 1);
      const swapped = row > 1 && column > 1 && a[row - 1] === b[column - 2] && a[row - 2] === b[column - 1];
      const bySwap = swapped ? beforePrevious[column - 2] + 1 : Number.POSITIVE_INFINITY;
      current.push(Math.min(replaced, previous[column] + 1, current[column - 1] + 1, bySwap));
    }
    beforePrevious = previous;
    previous = current;
  }
  return previous[b.length];
}
